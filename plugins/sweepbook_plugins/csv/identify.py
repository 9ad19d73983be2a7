"""Which dialects fit the head of a file: by signature, or by the titles. Nothing is validated."""

import csv
from collections.abc import Iterator

from sweepbook.dialect.model import Dialect
from sweepbook.formats import Claim, ReadSetting, Strength
from sweepbook.given import path_of
from sweepbook.source import HEAD_BYTES, Source
from sweepbook_plugins.csv.aligned import cells_of, titles_of
from sweepbook_plugins.csv.forms import CurvesForm, Layout, Section
from sweepbook_plugins.csv.headings import Headings
from sweepbook_plugins.csv.layout import layout_of
from sweepbook_plugins.csv.lines import reader
from sweepbook_plugins.csv.names import Names, are_titles, names_of, of_lines
from sweepbook_plugins.csv.rows import filled, without_blank_cells
from sweepbook_plugins.csv.several_cells import of_titles

FORMAT = "csv"
SIGNATURE_LINES = 20


def claims(source: Source, setting: ReadSetting) -> Iterator[Claim]:
    """Yield a claim for each dialect that fits.

    Raises:
        BadDialect: one of the dialects cannot be used.
        UnreadableSource: the file cannot be opened.
    """
    for name in sorted(setting.dialects):
        dialect = setting.dialects[name]
        if dialect.format != FORMAT or not _is_of_form(source, dialect):
            continue
        if claim := claim_of(source.head, dialect):
            yield claim


def _is_of_form(source: Source, dialect: Dialect) -> bool:
    """Whether the name of a file is one of the dialect's, where that has forms of names."""
    form = dialect.join.form if dialect.join else None
    return form is None or form.told(path_of(source)) is not None


def claim_of(head: bytes, dialect: Dialect) -> Claim | None:
    """What a dialect makes of the first bytes of a file; None where it does not fit."""
    layout = layout_of(dialect)
    lines = _lines(head, layout)
    if layout.signature:
        first = [line.strip() for line in lines[:SIGNATURE_LINES]]
        if all(any(line.startswith(text) for line in first) for text in layout.signature):
            shown = ", ".join(map(repr, layout.signature))
            return Claim(Strength.SIGNATURE, f"it begins with {shown}", dialect)
        return None
    headings, names, open_now = Headings(layout, names_of(dialect)), names_of(dialect), set()
    upper: list[list[str]] = []
    for number, cells, line in _numbered(lines, layout, names_of(dialect)):
        titles = list(of_lines(upper, cells)) if upper else of_titles(cells, names)
        upper = [*upper, cells] if cells and cells[0] in layout.upper_titles else []
        stack = headings.open(without_blank_cells(line, layout.delimiter), filled(cells), ())
        open_now |= {section.where for frame in stack for section in frame.sections}
        for section in layout.sections:
            here = not section.heading or section.where in open_now
            if here and _are_titles(section, titles, names):
                return Claim(Strength.STRUCTURE, f"line {number} holds its titles", dialect)
    return None


def _numbered(
    lines: list[str], layout: Layout, names: Names
) -> Iterator[tuple[int, list[str], str]]:
    """Number, cells and text of each line; first cells together where a table is turned."""
    for number, line in enumerate(lines, 1):
        if layout.aligned:
            yield number, titles_of(line, layout.sections, names) or cells_of(line), line
            continue
        cells = _cells(line, layout)
        if layout.transposed and cells[:1] == [layout.transposed[0]]:
            below = (_cells(one, layout) for one in lines[number - 1 :])
            yield number, [one[0] for one in below if one], ""
            return
        yield number, cells, line


def _lines(head: bytes, layout: Layout) -> list[str]:
    """Lines of the head; the last is left out where the head cuts it."""
    encoding = "utf-8-sig" if layout.encoding == "utf-8" else layout.encoding
    text = head.decode(encoding, errors="replace").replace("\r\n", "\n").replace("\r", "\n")
    lines = text.split("\n")
    return lines[:-1] if len(head) >= HEAD_BYTES else lines


def _cells(line: str, layout: Layout) -> list[str]:
    try:
        rows = list(reader([line], layout))
    except csv.Error:
        return []
    return [cell.strip() for cell in rows[0]] if rows else []


def _are_titles(section: Section, cells: list[str], names: Names) -> bool:
    """Whether these are titles, and most of those that name curves are known."""
    if len(cells) < 2 or not are_titles(section, cells, names):
        return False
    if not isinstance(section.form, CurvesForm):
        return True
    beside = names.held(section.form.frequency, cells).union(section.form.test)
    rest = [cell for cell in cells if cell and cell not in beside]
    known = names.held(section.form.name, rest)
    return 0 < len(rest) <= 2 * sum(cell in known for cell in rest)
