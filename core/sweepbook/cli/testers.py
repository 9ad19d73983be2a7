"""`sweepbook testers`: which instruments a job was tested with, and whether one reads apart."""

import json
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sweepbook import caution
from sweepbook.cli import options, table
from sweepbook.cli.asked import Asked
from sweepbook.cli.faults import Exit
from sweepbook.cli.progress import Progress
from sweepbook.cli.table import Column
from sweepbook.cli.wording import counted, signed

if TYPE_CHECKING:
    from datetime import date

    from sweepbook.testers.collect import Compared, Fleet, Record

_INDENT = 4
_COLUMNS = (
    Column("figure on like links", 30),
    Column("own", 5, right=True),
    Column("others", 6, right=True),
    Column("differs by", 10, right=True),
    Column("by chance", 9, right=True),
    Column("", 7),
)
_FIGURES = {
    "insertion_loss": "insertion loss a 100 m, dB",
    "return_loss": "return loss, margin, dB",
    "next": "NEXT, margin, dB",
    "acr_f": "ACR-F, margin, dB",
}
_READ_SO = (
    "Own and others: links of this instrument, and like links of others. By chance: how likely a "
    "difference as great is where there is none, times the number of comparisons, 1 at most; where "
    "that is small, the last column says that it reads high or low."
)


@click.command("testers", short_help="List the instruments, and whether one reads apart.")
@options.sources
@options.reading
@options.judging
@options.workers
@options.as_json
@options.asked
def command(paths: tuple[Path, ...], asked: Asked, as_json: bool) -> int:
    """List the instruments, and whether one reads apart.

    PATHS are books, export files or folders of them. One paragraph an instrument: how many tests it
    took part in, its calibration and its field references, and how its figures lie to those of the
    others on links of the same limit, cable and length (in steps of 10 m), at the same end.

    Exit code 1 where one reads apart, or was used after its calibration was due.
    """
    from sweepbook.cli import lines
    from sweepbook.cli.desk import Desk
    from sweepbook.testers import document
    from sweepbook.testers.collect import Fleet
    from sweepbook.testers.reading import unit_tests

    desk = Desk(asked, paths)
    run, fleet = desk.run(), Fleet(desk.context.practice)
    with Progress("tests checked") as progress:
        tests = [
            (one.record.record_id, tuple(unit_tests(one)))
            for one in progress.over(desk.assessments(run, paths))
        ]
    run.close()
    for record_id, units in tests:
        if record_id not in run.exported:
            fleet.add(units)
    compared = fleet.compared()
    if as_json:
        made = document.of(fleet.records.values(), compared)
        click.echo(json.dumps(made, ensure_ascii=False, indent=2))
    else:
        for line in _of(fleet, compared):
            click.echo(line)
        for line in lines.of_problems(run.problems):
            click.echo(line)
    code = desk.exit_code(run)
    if code in (Exit.CRASHED, Exit.WRONG_USE):
        return code
    odd = any(one.apart for one in compared) or any(x.expired for x in fleet.records.values())
    return Exit.FINDINGS if odd or run.problems else Exit.CLEAN


def _of(fleet: "Fleet", compared: "Sequence[Compared]") -> Iterator[str]:
    columns = table.terminal_columns()
    for unit, record in sorted(fleet.records.items()):
        yield from table.paragraph(str(unit), columns)
        for text in _facts(record):
            yield from table.paragraph(text, columns, _INDENT)
        mine = [one for one in compared if one.unit == unit]
        if mine:
            yield from table.heading(_COLUMNS)
            for one in mine:
                yield from table.row(_cells(one), _COLUMNS)
        yield ""
    if not fleet.records:
        yield from table.paragraph("No test names its instruments by a serial number.", columns)
    elif not compared:
        text = "No instrument shares enough like links with others for a comparison."
        yield from table.paragraph(text, columns)
    if compared:
        yield from table.paragraph(_READ_SO, columns)
        yield from table.paragraph(caution.ON_TESTERS, columns)


def _facts(record: "Record") -> Iterator[str]:
    known = record.first and record.last
    when = f", {record.first:%Y-%m-%d} to {record.last:%Y-%m-%d}" if known else ""
    yield f"{counted(record.tests, 'test')}, {record.failed} of them failed{when}"
    if record.firmware:
        yield f"firmware {', '.join(record.firmware)}"
    on, due = _days(record.calibrated_on), _days(record.calibration_due)
    yield f"calibrated {on or 'on no stated day'}; due {due or 'on no stated day'}"
    if record.expired:
        yield f"{counted(record.expired, 'test')} made after the calibration was due"
    if record.longest_reference_days is not None:
        yield f"oldest field reference {record.longest_reference_days:.1f} days before a test"
    if record.without_reference:
        yield f"{counted(record.without_reference, 'test')} without a known time of the reference"


def _days(days: "set[date]") -> str:
    return ", ".join(day.isoformat() for day in sorted(days))


def _cells(one: "Compared") -> tuple[str, ...]:
    word = ("high" if one.found.shift > 0 else "low") if one.apart else ""
    return (
        _FIGURES[one.parameter],
        str(one.found.own),
        str(one.found.others),
        signed(one.found.shift),
        f"{one.chance:.2g}",
        word,
    )
