"""`sweepbook retests`: what has to be tested again, and why."""

import json
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sweepbook.cli import options
from sweepbook.cli.asked import Asked
from sweepbook.cli.faults import Exit
from sweepbook.cli.progress import Progress

if TYPE_CHECKING:
    from collections.abc import Sequence

    from sweepbook.retests.collect import Retest

_FORMULA = ("=", "+", "-", "@")


@click.command("retests", short_help="List what has to be tested again, by floor and panel.")
@options.sources
@options.reading
@options.judging
@options.as_json
@click.option(
    "-o",
    "--output",
    "target",
    metavar="FILE",
    type=options.ANY_PATH,
    help="Also write the list as a CSV file.",
)
@options.asked
def command(
    paths: tuple[Path, ...],
    asked: Asked,
    as_json: bool,
    target: Path | None,
) -> int:
    """List what has to be tested again, by floor and panel.

    PATHS are books, export files or folders of them. On the list is each link whose last test is
    no proved pass: it failed, its stated verdict is overturned, or something that a proof needs
    is missing. Where the failing curves point to an end or a pair, that is named as a hint.

    Exit code 1 while anything is on the list or could not be read.
    """
    from sweepbook.cli import lines, retests_lines
    from sweepbook.cli.desk import Desk
    from sweepbook.cli.target import refuse_evidence
    from sweepbook.retests import document
    from sweepbook.retests.collect import retests, tested

    desk = Desk(asked, paths)
    if target is not None:
        refuse_evidence(target, paths, desk.asked.files())
    run = desk.run()
    with Progress("tests checked") as progress:
        tests = [tested(entry) for entry in progress.over(run.walk(desk.items(paths)))]
    found = retests((one for one in tests if one is not None), desk.library)
    if target is not None:
        _write(found, target)
    if as_json:
        click.echo(json.dumps(document.of(found, run.problems), ensure_ascii=False, indent=2))
    else:
        for line in retests_lines.of(found, len(tests)):
            click.echo(line)
        for line in lines.of_problems(run.problems):
            click.echo(line)
    code = desk.exit_code(run)
    if code in (Exit.CRASHED, Exit.WRONG_USE):
        return code
    return Exit.FINDINGS if found or run.problems else Exit.CLEAN


def _write(found: "Sequence[Retest]", target: Path) -> None:
    """Write the list as CSV; a cell that a spreadsheet would compute gets an apostrophe."""
    import csv
    import io

    from sweepbook import files
    from sweepbook.retests import document
    from sweepbook.text import printable

    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(document.TITLES)
    for row in document.rows(found):
        shown = (printable(cell) for cell in row)
        writer.writerow(f"'{cell}" if cell.startswith(_FORMULA) else cell for cell in shown)
    files.write_bytes(target, out.getvalue().encode("utf-8", "backslashreplace"))
