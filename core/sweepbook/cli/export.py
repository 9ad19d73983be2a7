"""`sweepbook export`: a checked book in another format."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from sweepbook.cli import options
from sweepbook.cli.asked import Asked
from sweepbook.errors import SweepbookError
from sweepbook.text import utf8_safe

if TYPE_CHECKING:
    from sweepbook.cli.target import Target


@click.command(
    "export", short_help="Write a checked book in another format, such as a spreadsheet."
)
@click.argument("book", type=options.EXISTING)
@options.judging
@options.workers
@options.schedule(required=False)
@options.output
@options.of_database
@options.drawing
@options.sweeps
@options.people
@options.asked
def command(
    book: Path,
    asked: Asked,
    schedule: Path | None,
    columns: tuple[str, ...],
    label_scheme: Path | None,
    to_format: str,
    target: "Target",
    since: str | None,
    mapping: Path | None,
    plots: str | None,
    plots_of: tuple[str, ...],
    sweeps: tuple[str, ...],
    margins: str | None,
    without_people: bool,
) -> int:
    """Write a checked book in another format, such as a spreadsheet.

    BOOK is the book's folder. `sweepbook formats` lists what can be written. Whether the verdicts
    hold is for `sweepbook check` to say: here exit code 1 means that something of the book's
    sources or of the schedule could not be read.

    With a cable schedule the workbook has a sheet of where each link stands, and the as-built
    database takes the ends of the links from it; `sweepbook reconcile --help` tells its columns.
    A label scheme tells ends that neither the schedule nor a test names.

    --since writes what changed: an as-built database of the same tables that holds only the links
    that are new, changed or gone, each with all of its tests, and lists them in changed_link. An
    earlier export tells exactly; a day or a time tells what was gathered, corrected or accepted
    from then on, and nothing of a link that is gone; what was withdrawn or taken back in is named.

    --mapping writes nothing of ours: it puts chosen fields into tables that are there, finds rows
    again by the owner's key, and with --since only those of links that changed.

    People stand there by the ids that the records have, with their names where the book has a file
    people.csv of them (id,name). --without-people leaves out both.
    """
    from sweepbook.book.layout import open_book
    from sweepbook.cli.deliver import deliver
    from sweepbook.cli.desk import Desk
    from sweepbook.cli.planned import Planned

    if book.is_file():
        raise SweepbookError(
            f"{utf8_safe(str(book))} is a file, and a book is a folder.",
            "`sweepbook convert` writes export files without a book.",
        )
    desk = Desk(asked, (book,))
    planned = Planned(schedule, columns, label_scheme)
    asked_for = {
        "since": since,
        "mapping": mapping and str(mapping),
        "plots": plots,
        "plots-of": "\n".join(plots_of),
        "sweeps": "\n".join(sweeps),
        "margins": margins,
    }
    wanted = {name: text for name, text in asked_for.items() if text}
    if since is not None:  # an empty one is a mistake, and no whole export
        wanted["since"] = since
    title = open_book(book).name
    return deliver(desk, (book,), to_format, target, title, planned, without_people, wanted)
