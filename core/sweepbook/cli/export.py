"""`sweepbook export`: a checked book in another format."""

from pathlib import Path

import click

from sweepbook.cli import options


@click.command(
    "export", short_help="Write a checked book in another format, such as a spreadsheet."
)
@click.argument("book", type=options.EXISTING)
@options.judging
@options.output
def command(
    book: Path,
    against: str | None,
    limits: tuple[Path, ...],
    interpretations: tuple[str, ...],
    to_format: str,
    target: Path,
) -> int:
    """Write a checked book in another format, such as a spreadsheet.

    BOOK is the book's folder. `sweepbook formats` lists what can be written. Whether the verdicts
    hold is for `sweepbook check` to say: here exit code 1 means that something of the book's
    sources could not be read.
    """
    from sweepbook.book.layout import open_book
    from sweepbook.cli.deliver import deliver
    from sweepbook.cli.desk import Asked, Desk

    desk = Desk(Asked(None, (), against, interpretations, limits))
    return deliver(desk, (book,), to_format, target, title=open_book(book).name)
