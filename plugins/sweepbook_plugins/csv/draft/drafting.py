"""A draft of a dialect for text tables nobody has described yet."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from sweepbook.draft.document import ASSUMED, FOUND, UNTOLD, Note, Table
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.meaning import tables as core_tables
from sweepbook.draft.reading import Understood, understand
from sweepbook.source import Source
from sweepbook_plugins.csv.draft import sections
from sweepbook_plugins.csv.draft.curves import CurvesTable, are_curves
from sweepbook_plugins.csv.draft.rows import RowsTable
from sweepbook_plugins.csv.draft.shape import Seen, Shape
from sweepbook_plugins.csv.draft.tables import shape_of
from sweepbook_plugins.csv.draft.text import Text, read

if TYPE_CHECKING:
    from sweepbook.limits.library import Library

Looked = tuple[Text, Shape]


def draft(sources: Sequence[Source], limits: "Library") -> list[Table] | None:
    """The tables of a draft for files of one make; None where they are no text tables.

    Args:
        sources: the files.
        limits: where names of limits are looked up.

    Raises:
        UnreadableSource: a file cannot be opened.
    """
    looked: list[Looked] = []
    for source in sources:
        text = read(source)
        shape = shape_of(text) if text is not None else None
        if text is None or shape is None or not shape.tables:
            return None
        looked.append((text, shape))
    evidence = Evidence()
    for _, shape in looked:
        for _, key, value in shape.keys:
            evidence.put(key, value)
    text, shape = looked[0]
    kinds = list({(seen.titles, seen.heading): seen for seen in shape.tables}.values())
    single = len({seen.titles for seen in kinds}) == 1
    if single and are_curves(kinds[0].titles, _rows(text, kinds[0])):
        layout = _curves(text, kinds[0], evidence)
    elif single and not shape.first_line:
        layout = _points(looked, kinds[0], evidence) or _curves(text, kinds[0], evidence)
    else:
        return _file(looked, "sections") + sections.draft(text, shape, evidence, limits)
    halves, found = layout
    return [*_file(looked, halves[0].name), *halves[1:], *core_tables(evidence, found, limits)]


def _curves(text: Text, seen: Seen, evidence: Evidence) -> tuple[list[Table], Understood]:
    table = CurvesTable(seen.titles, _rows(text, seen), units=seen.units)
    table.into(evidence)
    found = understand(evidence)
    lines = Table("[csv.curves]")
    for key, value in table.lines(found):
        notes = [Note(FOUND, "the titles of curves", seen.titles[1:])] if key == "name" else []
        lines.add(key, value, *notes)
    return [Table("curve-per-column"), lines], found


def _points(
    looked: Sequence[Looked], seen: Seen, evidence: Evidence
) -> tuple[list[Table], Understood] | None:
    rows = [row for text, shape in looked for one in shape.tables for row in _rows(text, one)]
    table = RowsTable(seen.titles, rows)
    if not table.can_name():
        return None
    table.into(evidence)
    found = understand(evidence)
    tables = table.lines(evidence, found, "csv.rows")
    return [Table("point-per-row"), *tables], found


def _rows(text: Text, seen: Seen) -> list[list[str]]:
    return text.rows[seen.start : seen.stop]


def _file(looked: Sequence[Looked], layout: str) -> list[Table]:
    """The table `csv`: layout, encoding, delimiter, signature, and how tests follow one another."""
    text, shape = looked[0]
    table = Table("[csv]")
    table.add("layout", layout)
    if text.encoding != "utf-8":
        how = Note(FOUND if text.sure else ASSUMED, "by the bytes of the file")
        table.add("encoding", text.encoding, how)
    table.add("delimiter", text.delimiter)
    if text.cut:
        table.notes.append(Note(UNTOLD, "what stands behind the first 8 MiB of the file"))
    openings = {shape.opening for _, shape in looked}
    if len(openings) == 1 and len(shape.opening) >= 4:
        sure = FOUND if len(looked) > 1 else ASSUMED
        note = Note(sure, "each file of this make begins so, and no other make's")
        table.add("signature", shape.opening, note)
    noise = list(dict.fromkeys(line for _, shape in looked for line in shape.noise))
    if noise:
        table.add("skip", noise, Note(ASSUMED, "these lines mean nothing"))
    if shape.separator:
        table.add("preamble.separator", shape.separator)
    if shape.headings and layout == "curve-per-column":
        table.add("preamble.headings", shape.headings)
    if shape.first_line:
        note = Note(FOUND, f"{len(shape.starts)} lines begin so, one for each test")
        table.add("test.first_line", shape.first_line, note)
    return [table]
