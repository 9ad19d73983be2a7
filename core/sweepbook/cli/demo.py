"""`sweepbook demo`: the whole job on exports that come with the program."""

import shlex
from collections.abc import Iterator
from importlib.resources import as_file, files
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sweepbook.cli import options, table
from sweepbook.text import utf8_safe

if TYPE_CHECKING:
    from sweepbook.book.layout import Book
    from sweepbook.cli.desk import Desk

_WRITTEN = (
    "schedule.csv",
    "report.html",
    "handover.xlsx",
    "as-built.sqlite",
    "as-built.sqlite.columns.csv",
)
_TITLE = "Demo: tests of an invented building"


@click.command("demo", short_help="See the whole job at once, on the demo's own exports.")
@click.argument("folder", default="sweepbook-demo", type=options.FOLDER)
def command(folder: Path) -> int:
    """See the whole job at once, on the demo's own exports.

    The exports of three invented makes of testers are gathered into FOLDER/book, an outlet whose
    name somebody mistyped is corrected beside the evidence, every stated verdict is checked against
    the sweeps, and FOLDER/report.html, FOLDER/handover.xlsx and FOLDER/as-built.sqlite are written,
    all with the cable schedule FOLDER/schedule.csv. Some tests have faults planted in them. FOLDER
    is ./sweepbook-demo unless named; running it twice is fine.

    Exit code 0 once all that is done, whatever the verdicts.
    """
    from sweepbook.cli.asked import Asked
    from sweepbook.cli.desk import Desk
    from sweepbook.cli.target import refuse_place
    from sweepbook.files import write_bytes

    refuse_place(folder)
    _refuse_others(folder)
    data = files("sweepbook_demo")
    with as_file(data / "exports") as exports, as_file(data / "dialects") as dialects:
        named = tuple(str(path) for path in sorted(dialects.glob("*.toml")))
        _gather(Desk(Asked(dialects=named)), folder / "book", exports)
    _correct(folder / "book", (data / "corrections.csv").read_text(encoding="utf-8"))
    write_bytes(folder / "schedule.csv", (data / "schedule.csv").read_bytes())
    _hand_over(Desk(), folder)
    return 0


def _refuse_others(folder: Path) -> None:
    """Refuse a folder with somebody's own book, or files that the demo would write over.

    Raises:
        SweepbookError: the folder holds what an earlier demo did not write.
    """
    from sweepbook.book.layout import open_book
    from sweepbook.errors import SweepbookError
    from sweepbook.inputs import is_book

    book = folder / "book"
    if is_book(book):
        others = [] if open_book(book).name == _TITLE else [book]
    else:
        others = [folder / name for name in _WRITTEN if (folder / name).exists()]
    if others:
        raise SweepbookError(
            f"{utf8_safe(str(others[0]))} is not of the demo, which would change it.",
            "Name another folder: sweepbook demo FOLDER.",
        )


def _gather(desk: "Desk", book: Path, exports: Path) -> None:
    from sweepbook.cli import lines
    from sweepbook.cli.gather import take_in, totals

    outcomes = take_in(desk, book, [exports], _TITLE, quiet=True)
    for outcome in outcomes:
        for line in lines.of_problems(outcome.problems):
            click.echo(line)
    _say(totals(book, outcomes))


def _correct(folder: Path, told: str) -> None:
    """Enter what people know better, each once; it is told by label, and entered by record."""
    from sweepbook.book import lock
    from sweepbook.book.layout import open_book

    book = open_book(folder)
    with lock.held(book.lock):
        for said in _corrected(book, told):
            _say(said)


def _corrected(book: "Book", told: str) -> Iterator[str]:
    """Enter corrections into a book that is locked, and say so of each."""
    import csv

    from sweepbook.book import corrections, store
    from sweepbook.corrections.model import Correction

    contents = store.contents_of(book)
    known = corrections.load(book, contents).by_record
    record_of = {label: record for record, label in corrections.labels(book, contents).items()}
    for row in csv.DictReader(told.splitlines()):
        record = record_of[row["label"]]
        field, old, new = row["field"], row["from"], row["to"]
        if not any((one.field, one.new) == (field, new) for one in known.get(record, ())):
            correction = Correction(record, field, old, new, row["who"], row["when"], row["why"])
            corrections.enter(book, correction)
        yield f'corrected: {row["label"]}: {field} from "{old}" to "{new}"'


def _hand_over(desk: "Desk", folder: Path) -> None:
    """Check the book, print the table and write the workbook in one pass; then the others."""
    from sweepbook.cli import lines
    from sweepbook.cli.called import program
    from sweepbook.cli.deliver import write_delivery
    from sweepbook.cli.planned import Planned
    from sweepbook.judging.assessment import Assessment

    book = folder / "book"
    schedule = Planned(folder / "schedule.csv").read(desk)
    run, layout = desk.run(), lines.columns()
    click.echo()
    for line in table.heading(layout):
        click.echo(line)

    def show(assessment: Assessment) -> None:
        for line in lines.of_record(assessment, layout, findings=False):
            click.echo(line)

    write_delivery(desk, run, [book], "xlsx", folder / "handover.xlsx", _TITLE, show, schedule)
    for to_format, name in (("as-built", "as-built.sqlite"), ("report", "report.html")):
        write_delivery(
            desk, desk.run(), [book], to_format, folder / name, _TITLE, schedule=schedule
        )
    click.echo()
    _say(lines.totals(run))
    if lines.needs_caution(run):
        click.echo()
        _say(lines.CAUTION)
    click.echo()
    page = utf8_safe(str(folder / "report.html"))
    _say(f"Open:     {page}, handover.xlsx or as-built.sqlite")
    _say(f"Run next: {program()} retests {utf8_safe(shlex.quote(str(book)))}")


def _say(text: str) -> None:
    for line in table.paragraph(text, table.terminal_columns()):
        click.echo(line)
