"""`sweepbook convert`: files in, one format out, no book."""

from pathlib import Path

import click

from sweepbook.cli import options


@click.command("convert", short_help="Turn export files into another format without a book.")
@options.sources
@options.reading
@options.judging
@options.output
def command(
    paths: tuple[Path, ...],
    from_format: str | None,
    dialects: tuple[str, ...],
    against: str | None,
    limits: tuple[Path, ...],
    interpretations: tuple[str, ...],
    to_format: str,
    target: Path,
) -> int:
    """Turn export files into another format without a book.

    PATHS are export files, folders of them, or books. `sweepbook formats` lists what can be
    written. Whether the verdicts hold is for `sweepbook check` to say: here exit code 1 means
    that something could not be read.
    """
    from sweepbook.cli.deliver import deliver
    from sweepbook.cli.desk import Asked, Desk

    desk = Desk(Asked(from_format, dialects, against, interpretations, limits, paths))
    return deliver(desk, paths, to_format, target, title=target.stem)
