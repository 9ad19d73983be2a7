"""`sweepbook archive`: a book as a bag for the archive, and the proof of one."""

import click

from sweepbook.cli import archive_make, archive_verify


@click.group("archive", short_help="Make a bag of a book for the archive, or prove one.")
def command() -> None:
    """Make a bag of a book for the archive, or prove one.

    A bag is a folder, or one packed file, that holds a book and all that its judgements rest on,
    with a digest of every file: BagIt 1.0 (RFC 8493), which archives and many programs know.
    """


command.add_command(archive_make.command)
command.add_command(archive_verify.command)
