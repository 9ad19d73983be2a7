"""`sweepbook limits`: the limit tables, one of them in full, and the disputed readings."""

import json
from collections.abc import Iterator
from dataclasses import asdict
from typing import TYPE_CHECKING

import click

from sweepbook.cli import options, table

if TYPE_CHECKING:
    from sweepbook.limits.describe import KeyTable, ParameterText, Sheet


@click.group("limits", short_help="List the limit tables, or show one with its sources.")
def command() -> None:
    """List the limit tables, or show one with formulas, grades and sources."""


@command.command("list", short_help="List the limit tables.")
@options.as_json
def list_tables(as_json: bool) -> None:
    """List the limit tables, one row each, with how well the required limits are known.

    Grade A: a public text shows it. B: recalled, in agreement with recalled table values. C:
    recalled and not cross-checked. A pass is known no better than the worst of its limits.
    """
    from sweepbook.cli.desk import Desk
    from sweepbook.limits.describe import list_rows

    rows = list_rows(Desk().library)
    if as_json:
        _print_json([asdict(row) for row in rows])
        return
    cells = [[row.path, row.mhz, row.grade, row.title] for row in rows]
    columns = table.fitted(["path", "MHz", "grade", "title"], cells, table.terminal_columns())
    for line in table.heading(columns):
        click.echo(line)
    for row in cells:
        for line in table.row(row, columns):
            click.echo(line)
    click.echo("\nNext: sweepbook limits show PATH")


@command.command("show", short_help="Show one table.")
@click.argument("limit", metavar="PATH")
@options.as_json
def show_table(limit: str, as_json: bool) -> None:
    """Show one table: what is asked, each formula with grade and source, values to check by.

    PATH is a path of `sweepbook limits list`, or any name that leads to one table.
    """
    from sweepbook.cli.desk import Desk
    from sweepbook.limits.describe import sheet

    library = Desk().library
    found = sheet(library.table(library.resolve(limit).path))
    if as_json:
        _print_json(asdict(found))
        return
    for line in _sheet_lines(found, table.terminal_columns()):
        click.echo(line)


@command.command("interpretations", short_help="List the disputed readings of the standards.")
@options.as_json
def list_readings(as_json: bool) -> None:
    """List the disputed readings, which are on, what they do and what hangs on them.

    Each one that nobody has decided is tried the other way too; where that would change a
    judgement, the verdict is unproven. `--interpretation ID=on` or `ID=off` decides one.
    """
    from sweepbook.limits.describe import reading_rows
    from sweepbook.limits.interpretations import Interpretations

    rows = reading_rows(Interpretations.load())
    if as_json:
        _print_json([asdict(row) for row in rows])
        return
    for row in rows:
        click.echo(f"{row.id} ({row.on}; {row.families})")
        for text in (row.title, row.why, f"Known: {row.known}"):
            _echo_paragraph(text, 4)


def _print_json(document: object) -> None:
    click.echo(json.dumps(document, ensure_ascii=False, indent=2))


def _echo_paragraph(text: str, indent: int) -> None:
    for line in table.paragraph(text, table.terminal_columns(), indent):
        click.echo(line)


def _sheet_lines(found: "Sheet", columns: int) -> Iterator[str]:
    yield found.title
    widest = max(len(name) for name, _ in found.facts)
    for name, value in found.facts:
        first, *more = table.wrap(value, columns - widest - 4)
        yield f"  {name.ljust(widest)}  {first}"
        for line in more:
            yield f"  {' ' * widest}  {line}"
    yield ""
    yield "Limits (f in MHz; the formula governs)"
    for parameter in found.parameters:
        yield from _parameter_lines(parameter, columns)
    yield ""
    yield "Values to check by, in dB, unrounded"
    yield from _key_lines(found.key_table, columns)
    if found.not_usable:
        yield ""
        yield "Not usable (grade D): asked for by the document, but too doubtful to judge by"
        for word, recalled, missing in found.not_usable:
            yield from table.paragraph(f"{word}: {missing} Recalled as {recalled}.", columns, 2)
    yield ""
    yield "Sources"
    for name, text in found.sources:
        yield from table.paragraph(f"{name}: {text}", columns, 2)
    yield ""
    yield "Notes"
    for note in found.notes:
        yield from table.paragraph(note, columns, 2)


def _parameter_lines(parameter: "ParameterText", columns: int) -> Iterator[str]:
    yield from table.paragraph(f"{parameter.title} ({parameter.parameter})", columns, 2)
    yield from table.paragraph(parameter.asked, columns, 4)
    for segment in parameter.segments:
        place = f"{segment.frequencies}: " if segment.frequencies else ""
        yield from table.paragraph(f"{place}{segment.formula}", columns, 4)
        said = f"{segment.known}; source: {segment.sources}"
        if segment.parts:
            said += f"; made of: {segment.parts}"
        yield from table.paragraph(said, columns, 8)
        if segment.note:
            yield from table.paragraph(segment.note, columns, 8)
    for text in (parameter.bounds, parameter.notes):
        if text:
            yield from table.paragraph(text, columns, 4)


def _key_lines(values: "KeyTable", columns: int) -> Iterator[str]:
    """The table in as many blocks as the terminal needs, the frequencies at the left of each."""
    width, gap = 7, len(table.GAP)
    at_once = max(1, (columns - width) // (width + gap + 2))
    for start in range(1, len(values.titles), at_once):
        places = [0, *range(start, min(start + at_once, len(values.titles)))]
        layout = [
            table.Column(values.titles[i].replace("_", " "), width if i == 0 else width + 2, True)
            for i in places
        ]
        for line in table.heading(layout):
            yield f"  {line}"
        for cells in values.rows:
            for line in table.row([cells[i] for i in places], layout):
                yield f"  {line}"
        yield ""
