"""The last sheet: how to read the others, what the judgements rest on, and a caution."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any, NamedTuple

from sweepbook.text import natural_key
from sweepbook_plugins.xlsx import words
from sweepbook_plugins.xlsx.fields import title
from sweepbook_plugins.xlsx.layout import Column, Layout, lines
from sweepbook_plugins.xlsx.look import LINE_HEIGHT, Kind
from sweepbook_plugins.xlsx.rows import Rows, blank_cell, text_cell
from sweepbook_plugins.xlsx.styles import Styles
from sweepbook_plugins.xlsx.table import paper

if TYPE_CHECKING:
    from sweepbook.delivery import About, Delivery
    from sweepbook.errors import ReadProblem
    from sweepbook.limits.interpretations import Interpretations
    from sweepbook.limits.model import LimitTable

NAME_WIDTH = 50
TEXT_WIDTH = 115
CAPITALS = 10
"""Digits of that width to spare: abbreviations, of which lists here consist, are wide letters."""
ABOUT = Layout(
    "About",
    (
        Column("Part", 34, Kind.TEXT),
        Column("Name", NAME_WIDTH, Kind.TEXT),
        Column("Text", TEXT_WIDTH, Kind.PROSE),
    ),
)
"""The same as a flat table; the sheet has a look of its own."""


class Row(NamedTuple):
    """A name and what is to be said of it; a row without text is a heading."""

    name: str
    text: str
    kind: Kind = Kind.PROSE


def write_about(workbook: Any, styles: Styles, delivery: "Delivery") -> None:  # noqa: ANN401
    """Write the sheet; call it once the delivery's entries have been walked."""
    sheet = workbook.add_worksheet("About")
    sheet.set_column(0, 0, NAME_WIDTH, styles.format(Kind.PROSE))
    sheet.set_column(1, 1, TEXT_WIDTH, styles.format(Kind.PROSE))
    paper(sheet)
    sheet.freeze_panes(1, 0)
    rows = Rows(sheet, 2)
    rows.add(1, [text_cell("A", styles.title, delivery.about.title)], 2 * LINE_HEIGHT)
    for number, row in enumerate(_rows(delivery), 2):
        tall = max(lines(row.name, NAME_WIDTH), lines(row.text, TEXT_WIDTH - CAPITALS))
        rows.add(number, _cells(row, number, styles), LINE_HEIGHT * tall + 2)


def about_rows(delivery: "Delivery") -> Iterator[tuple[str | None, str, str]]:
    """What the sheet says, as rows of a table; the heading above a row is its part."""
    part: str | None = None
    yield part, "Title", delivery.about.title
    for row in _rows(delivery):
        if not row.text:
            part = row.name
        elif text := words.OF_TABLES.get(row.name, row.text):
            yield part, row.name.strip(), text


def _cells(row: Row, number: int, styles: Styles) -> Iterator[str]:
    if row.text:
        word = row.name if row.kind is Kind.WORD else ""
        yield text_cell("A", styles.number(row.kind, word), row.name)
        yield text_cell("B", styles.number(Kind.PROSE), row.text)
    else:
        yield text_cell("A", styles.header, row.name)
        yield blank_cell("B", styles.header)


def _rows(delivery: "Delivery") -> Iterator[Row]:
    about = delivery.about
    yield Row("Caution", words.CAUTION)
    yield from (Row(title, text) for title, text in about.job.in_words())
    yield Row("Made by", about.program)
    yield Row("Decision rule", about.decision_rule)
    for name, text in about.options.items():
        if text and name == "withdrawn":
            yield Row("Withdrawn", f"Not counted here: {text}.")
        elif text:
            yield Row(f"Asked for: {name.replace('_', ' ')}", text)
    yield Row("How to read it", "")
    yield from (Row(name, text, Kind.WORD) for name, text in words.JUDGEMENTS)
    yield from (Row(name, text) for name, text in words.READING)
    if about.interpretations:
        yield Row("Readings of the standards", "")
        yield from _of_interpretations(about.interpretations)
    yield Row("Limits judged by", "")
    yield from _of_limits(about)
    yield Row("Could not be read", "")
    for problem in sorted(delivery.problems, key=_in_order):
        yield Row(f"{problem.source} {problem.place}".strip(), problem.message)
    if not delivery.problems:
        yield Row("nothing", words.ALL_READ)
    yield Row("SHA-256 of what the judgements rest on", "")
    yield from (Row(name, digest) for name, digest in about.digests.items())


def _in_order(problem: "ReadProblem") -> tuple[object, ...]:
    """By file and place, in whatever order the files were read."""
    source, place = problem.source, problem.place
    return natural_key(source), source, natural_key(place), place, problem.message


def _of_interpretations(readings: "Interpretations") -> Iterator[Row]:
    """Each disputed reading, whether it was on, and how it is known."""
    for name in readings.ids():
        entry = readings.entry(name)
        state = "on" if readings.on(name) else "off"
        yield Row(name, f"{state}: {entry.title} (grade {entry.grade}: {entry.source})")


def _of_limits(about: "About") -> Iterator[Row]:
    used = [path for path in about.limits.paths() if f"limit table {path}" in about.digests]
    for path in used:
        yield from _of_table(about.limits.table(path))
    if not used:
        yield Row("none", words.NO_TABLE)
    yield from (Row(name, text) for name, text in words.GRADES)


def _of_table(table: "LimitTable") -> Iterator[Row]:
    """Document and edition, how the limit of each parameter is known, and the sources."""
    yield Row(table.path, f"{table.document}, edition {table.edition}: {table.title}")
    grades: dict[str, list[str]] = {}
    for parameter, limit in table.parameters.items():
        named = title(parameter)
        grades.setdefault(limit.grade, []).append(limit.title if named == parameter else named)
    for grade, names in sorted(grades.items()):
        yield Row(f"    known to grade {grade}", "; ".join(names))
    for name, source in table.sources.items():
        yield Row(f"    source {name}", source)
