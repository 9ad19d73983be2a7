"""`sweepbook limits`: the tables, one of them in full, and the disputed readings."""

import json
from collections.abc import Iterator
from dataclasses import asdict
from typing import TYPE_CHECKING

import click

from sweepbook.cli import limits_check, limits_plot, options, table
from sweepbook.cli.asked import Asked
from sweepbook.cli.table import Column

if TYPE_CHECKING:
    from sweepbook.limits.describe import KeyTable, ParameterText, Sheet


@click.group("limits", short_help="List the limit tables, show or draw one, or check your own.")
def command() -> None:
    """List the limit tables, show or draw one, or check your own."""


command.add_command(limits_check.command)
command.add_command(limits_plot.command)


@command.command("list")
@options.limit_files
@options.as_json
@options.asked
def list_limits(asked: Asked, as_json: bool) -> int:
    """List the limit tables by their paths.

    The grade says how well the worst known of the required limits is known. A: a public text
    shows it. B: recalled, in agreement with recalled table values. C: recalled and not
    cross-checked. D: too doubtful, so that nothing passes by it. A pass is proved no better than
    that.
    """
    from sweepbook.cli.desk import Desk
    from sweepbook.limits import describe
    from sweepbook.limits.not_usable import untold

    rows = describe.list_rows(Desk(asked).library)
    if as_json:
        document = {
            "limits": [asdict(row) for row in rows],
            "not_usable": [asdict(entry) for entry in untold()],
        }
        click.echo(json.dumps(document, indent=2))
        return 0
    titles = ("MHz", "grade", "not usable", "path")
    table.print_rows(titles, [(x.mhz, x.grade, _some(len(x.doubtful)), x.path) for x in rows])
    click.echo()
    click.echo("Known by name, but too doubtful for a table:")
    for entry in untold():
        for line in table.paragraph(f"{entry.title}: {entry.missing}", table.terminal_columns(), 4):
            click.echo(line)
    return 0


@command.command("show")
@click.argument("limit")
@options.limit_files
@options.as_json
@options.asked
def show_limit(limit: str, asked: Asked, as_json: bool) -> int:
    """Show the table LIMIT: every formula with its range, grade and source.

    LIMIT is a path of `sweepbook limits list`, or a spelling that leads to one.
    """
    from sweepbook.cli.desk import Desk
    from sweepbook.limits import describe

    library = Desk(asked).library
    sheet = describe.sheet(library.table(library.resolve(limit).path))
    if as_json:
        click.echo(json.dumps(asdict(sheet), ensure_ascii=False, indent=2))
        return 0
    for line in _sheet(sheet, table.terminal_columns()):
        click.echo(line)
    return 0


@command.command("interpretations")
@options.as_json
def list_interpretations(as_json: bool) -> int:
    """List the disputed readings of the standards, and which are on.

    One that is left open is tried the other way too; where that changes a judgement, the verdict
    counts as unproven. `--interpretation ID=on` or `=off` of `sweepbook check` decides one.
    """
    from sweepbook.cli.desk import Desk
    from sweepbook.limits import describe

    rows = describe.reading_rows(Desk().context.settings.interpretations)
    if as_json:
        document = {"interpretations": [asdict(row) for row in rows]}
        click.echo(json.dumps(document, ensure_ascii=False, indent=2))
        return 0
    for row in rows:
        click.echo(f"{row.id} ({row.on}; {row.families})")
        for text in (row.title, row.why, row.known):
            for line in table.paragraph(text, table.terminal_columns(), 4):
                click.echo(line)
    return 0


def _some(count: int) -> str:
    return f"{count} limits" if count else ""


def _sheet(sheet: "Sheet", columns: int) -> Iterator[str]:
    yield from table.paragraph(sheet.title, columns)
    yield from table.facts(sheet.facts, columns)
    for parameter in sheet.parameters:
        yield ""
        yield from _parameter(parameter, columns)
    yield ""
    yield "Limits in dB at key frequencies, from the formulas above, unrounded:"
    yield from _key_table(sheet.key_table, columns)
    if sheet.not_usable:
        yield ""
        yield "Asked for by the document, but too doubtful to judge by (grade D):"
        for name, recalled, missing in sheet.not_usable:
            yield from table.paragraph(f"{name}: {missing} Recalled as {recalled}.", columns, 4)
    yield ""
    yield "Sources:"
    for name, text in sheet.sources:
        yield from table.paragraph(f"{name}: {text}", columns, 4)
    for note in sheet.notes:
        yield ""
        yield from table.paragraph(note, columns)


def _parameter(parameter: "ParameterText", columns: int) -> Iterator[str]:
    title = f"{parameter.title} ({parameter.parameter}): {parameter.asked}"
    yield from table.paragraph(title, columns)
    for text in (parameter.bounds, parameter.notes):
        if text:
            yield from table.paragraph(text, columns, 4)
    for segment in parameter.segments:
        place = f"{segment.frequencies}: " if segment.frequencies else ""
        yield from table.paragraph(f"{place}{segment.formula}", columns, 4)
        sources = f"source: {segment.sources}" if segment.sources else ""
        parts = f"made of: {segment.parts}" if segment.parts else ""
        for text in (parts, segment.known, sources, segment.note):
            if text:
                yield from table.paragraph(text, columns, 8)


def _key_table(key: "KeyTable", columns: int) -> Iterator[str]:
    """The table in as many blocks as the width asks for, the frequency before each."""
    first = Column(key.titles[0], max(len(key.titles[0]), 5), right=True)
    rest = [Column(title, max(len(title), 6), right=True) for title in key.titles[1:]]
    start = 0
    while start < len(rest):
        stop, taken = start, first.columns
        while stop < len(rest) and (
            stop == start or taken + len(table.GAP) + rest[stop].columns <= columns
        ):
            taken += len(table.GAP) + rest[stop].columns
            stop += 1
        block = [first, *rest[start:stop]]
        yield ""
        yield from table.heading(block)
        for row in key.rows:
            yield from table.row((row[0], *row[1 + start : 1 + stop]), block)
        start = stop
