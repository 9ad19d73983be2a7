"""`sweepbook convert`: files in, one format out, no book."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from sweepbook.cli import options
from sweepbook.cli.asked import Asked

if TYPE_CHECKING:
    from sweepbook.cli.target import Target


@click.command("convert", short_help="Turn export files into another format without a book.")
@options.sources
@options.reading
@options.judging
@options.output
@options.drawing
@options.people
@options.asked
def command(
    paths: tuple[Path, ...],
    asked: Asked,
    to_format: str,
    target: "Target",
    plots: str | None,
    plots_of: tuple[str, ...],
    without_people: bool,
) -> int:
    """Turn export files into another format without a book.

    PATHS are export files, folders of them, or books. `sweepbook formats` lists what can be
    written. Whether the verdicts hold is for `sweepbook check` to say: here exit code 1 means
    that something could not be read.
    """
    from sweepbook.cli.deliver import deliver
    from sweepbook.cli.desk import Desk

    desk = Desk(asked, paths)
    title = target.stem if isinstance(target, Path) else Path(paths[0]).stem
    asked_for = {"plots": plots, "plots-of": "\n".join(plots_of)}
    wanted = {name: text for name, text in asked_for.items() if text}
    return deliver(
        desk, paths, to_format, target, title, without_people=without_people, wanted=wanted
    )
