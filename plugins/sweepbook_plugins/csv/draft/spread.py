"""Tests whose curves are spread over several files, one a parameter: what their names say."""

import re
from collections import Counter
from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.draft import fields, phrases
from sweepbook.draft.document import (
    ASSUMED,
    FOUND,
    PARAMETER,
    UNSETTLED,
    UNTOLD,
    Note,
    Table,
    one_of,
)
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.meaning import tables as core_tables
from sweepbook.draft.parsed import PLACEHOLDER
from sweepbook.draft.reading import Understood, understand
from sweepbook.draft.rival_keys import Pair, counting, key_lines, rivals
from sweepbook.source import Source
from sweepbook_plugins.csv.draft import tests
from sweepbook_plugins.csv.draft.curves import CurvesTable, are_curves
from sweepbook_plugins.csv.draft.shape import Shape
from sweepbook_plugins.csv.draft.text import Cells, Text

if TYPE_CHECKING:
    from sweepbook.limits.library import Library

Looked = tuple[Text, Shape]
SHARED = "{}"
_NAME = "the name of the file"
_LEAST = 2
_WORD = re.compile(r"[^\W_](?:.*[^\W_])?")


class Part(NamedTuple):
    """A file with curves of one parameter.

    Attributes:
        shared: what its name shares with those of other files of the test; "" for nothing.
        before, after: what stands before and after what is told of its curves, with {} for that.
        told: what the name tells of them.
        text, shape, rows: the file, and the rows of its table.
    """

    shared: str
    before: str
    told: str
    after: str
    text: Text
    shape: Shape
    rows: Sequence[Cells]

    @property
    def titles(self) -> Sequence[str]:
        """Titles of its table."""
        return self.shape.tables[0].titles


class Heads(NamedTuple):
    """The file with a row a test."""

    name: str
    text: Text
    titles: Sequence[str]
    rows: Sequence[Cells]


def draft(
    sources: Sequence[Source], looked: Sequence[Looked], limits: "Library"
) -> list[Table] | None:
    """The tables behind `csv` of files that belong together; None for others.

    Args:
        sources: the files.
        looked: the same, looked at.
        limits: where names of limits are looked up.
    """
    parts, heads = _sorted_out(sources, looked)
    if len({part.told for part in parts}) < _LEAST or len(parts) + len(heads) < len(sources):
        return None
    if len(heads) > 1 or any(_name_parameters(part) for part in parts):
        return None
    evidence = Evidence(legend=looked[0][1].legend, delimiter=looked[0][0].delimiter)
    verdicts = _take_keys(parts, heads, evidence)
    most = Counter(part.shared for part in parts).most_common(1)[0][0]
    curves = [
        CurvesTable(of.titles, of.rows, {_NAME: of.told}) for of in parts if of.shared == most
    ]
    for table in curves:
        table.into(evidence)
    found = understand(evidence)
    forms = list(dict.fromkeys(_form(part, found) for part in parts))
    key = curves[0].titles[curves[0].test] if curves[0].test is not None else ""
    lines = Table("[csv.curves]")
    for name, value in curves[0].lines(found, told=True):
        lines.add(name, value)
    join = _join(parts, heads, forms, key)
    core = core_tables(evidence, found, limits)
    _add_label(core, parts)
    _add_verdicts(core, forms, verdicts)
    return [lines, *join, *core]


def _sorted_out(
    sources: Sequence[Source], looked: Sequence[Looked]
) -> tuple[list[Part], list[Heads]]:
    """The files with curves of one parameter, and those with a row a test."""
    parts, heads = [], []
    folders = len({source.folder for source in sources}) > 1
    for source, (text, shape) in zip(sources, looked, strict=True):
        if len(shape.tables) != 1 or shape.tables[0].wide or shape.first_line:
            continue
        seen = shape.tables[0]
        rows = text.rows[seen.start : seen.stop]
        named = _parted(source, folders=folders)
        if named and are_curves(seen.titles, rows, shape.legend):
            parts.append(Part(*named, text, shape, rows))
        elif tests.are_tests(seen.titles, rows):
            heads.append(Heads(source.file_name, text, seen.titles, rows))
    return parts, heads


def _parted(source: Source, *, folders: bool) -> tuple[str, str, str, str] | None:
    """What a name shares, what stands before what it tells, that, and what stands behind."""
    name = source.file_name.removesuffix(".gz").removesuffix(".zst")
    stem, dot, ending = name.rpartition(".")
    span = phrases.parameter_in(stem)
    if span is None:
        return None
    before, told = stem[: span.start], stem[span.start :]
    if core := _WORD.search(before):
        form = f"{before[: core.start()]}{SHARED}{before[core.end() :]}"
        return core[0], form, told, f"{dot}{ending}"
    parameter, behind = stem[span.start : span.end], stem[span.end :]
    if folders:
        return source.folder.name, f"{SHARED}/{before}", told, f"{dot}{ending}"
    if core := _WORD.search(behind):
        after = f"{behind[: core.start()]}{SHARED}{behind[core.end() :]}{dot}{ending}"
        return core[0], before, parameter, after
    return "", before, told, f"{dot}{ending}"


def _name_parameters(part: Part) -> bool:
    """Whether titles of curves say themselves what is measured."""
    return any(phrases.parameter_in(title) for title in part.titles)


def _take_keys(
    parts: Sequence[Part], heads: Sequence[Heads], evidence: Evidence
) -> dict[str, list[str]]:
    """Hand over all keys but those of verdicts on one file; these with their texts."""
    own = Evidence()
    for part in parts:
        for _, key, value in part.shape.keys:
            own.put(key, value)
    of_files = {
        one.keys[0]: own.properties.pop(one.keys[0])
        for one in fields.guess(own.properties, None)
        if one.path == "stated.overall"
    }
    evidence.properties |= own.properties
    evidence.verdicts += [text for texts in of_files.values() for text in texts]
    for of in heads:
        tests.into(of.titles, of.rows, evidence)
    return of_files


def _form(part: Part, found: Understood) -> str:
    """The form of a name; what no word explains is any text."""
    template = found.naming.parse(part.told).template
    pieces = re.split(f"({PLACEHOLDER.pattern})", template)
    pieces[::2] = [_WORD.sub("{any}", piece, count=1) for piece in pieces[::2]]
    told = "".join(pieces)
    return f"{part.before}{told if PARAMETER in told else PARAMETER}{part.after}"


def _join(
    parts: Sequence[Part], heads: Sequence[Heads], forms: Sequence[str], key: str
) -> list[Table]:
    """The tables `join` and below."""
    shared = list(dict.fromkeys(part.shared for part in parts if part.shared))
    join = Table("[join]")
    how = Note(ASSUMED, "names tell test and parameter; {} is what those of a test share", shared)
    join.add("file", one_of(forms), how)
    if not heads:
        if key:
            join.add("key", key, Note(FOUND, "tests are told apart by this column"))
        return [join]
    (head,) = heads
    texts = shared or list(dict.fromkeys(_key_texts(parts[0], key)))
    chosen, *others = _pairs(head, SHARED if shared else key, texts)
    by = chosen.other_key
    own = next((of for of in shared if of in head.name), "")
    join.add("other", head.name.replace(own, SHARED) if own else head.name)
    if chosen.common:
        held = Note(FOUND, "both hold these texts", texts)
        key_lines(join, (chosen.key, by), rivals(chosen, others), held)
    else:
        join.add("key", chosen.key)
        join.add("other_key", UNSETTLED, Note(UNTOLD, "no column holds these texts", texts))
    layout = Table("[join.csv]")
    layout.add("layout", "test-per-row")
    layout.add("delimiter", head.text.delimiter)
    if head.text.encoding != "utf-8":
        layout.add("encoding", head.text.encoding)
    return [join, layout, tests.test_lines(head.titles, head.rows, "join.csv.rows", by)]


def _key_texts(part: Part, key: str) -> list[str]:
    """The texts of a column that tells tests apart; none where there is no such column."""
    at = list(part.titles).index(key) if key else -1
    return [row[at] for row in part.rows] if key else []


def _pairs(head: Heads, key: str, texts: Sequence[str]) -> list[Pair]:
    """What tells tests apart with each column of the heads, that with most of the texts first.

    Of several those that just count rows come last, and those in which a text comes again.
    """
    made = []
    for at, title in enumerate(head.titles):
        column = [row[at] for row in head.rows]
        row_of = {text: line for line, text in enumerate(column)}
        counts = (counting(texts), counting(column))
        alike = title.casefold() == key.casefold()
        leads = [row_of.get(text) for text in texts]
        made.append(Pair(key, title, alike, counts, len({*texts} & {*column}), leads))
    again = {
        title: len({*some})
        for title, some in zip(head.titles, zip(*head.rows, strict=True), strict=True)
    }
    return sorted(
        made, key=lambda of: (-of.common, not of.alike, -again[of.other_key], of.counts[1])
    )


def _add_label(core: Sequence[Table], parts: Sequence[Part]) -> None:
    """Take what the names share for the label where nothing else is."""
    table = next(of for of in core if of.name == "[fields]")
    shared = list(dict.fromkeys(part.shared for part in parts if part.shared))
    if shared and table.lines and table.lines[0].value == UNSETTLED:
        note = Note(ASSUMED, "what the names of files share is the label", shared)
        table.add("link.label", SHARED, note)
        table.lines[:] = [table.lines[-1], *table.lines[1:-1]]


def _add_verdicts(
    core: Sequence[Table], forms: Sequence[str], verdicts: dict[str, list[str]]
) -> None:
    """Take the verdict that a file states for one on its parameter, not on the link."""
    table = next(of for of in core if of.name == "[figures]")
    for key, texts in verdicts.items():
        note = Note(ASSUMED, "a verdict in each file is on its parameter", texts)
        table.add("verdict", one_of([f"{form}/{key}" for form in forms]), note)
