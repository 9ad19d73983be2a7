"""`sweepbook limits plot`: limit lines as a picture."""

from pathlib import Path

import click

from sweepbook.cli import options, table
from sweepbook.cli.asked import Asked
from sweepbook.cli.target import refuse_evidence
from sweepbook.text import utf8_safe

HELP = """Draw limit lines into a picture (SVG or PNG).

LIMITS are paths of `sweepbook limits list`, or spellings that lead to one; up to six are laid over
one another. Each line is named where it ends, with the grade that says how well it is known. Needs
matplotlib: pip install matplotlib.

\b
    sweepbook limits plot tia-568.2-d/cat6a/channel tia-568.2-d/cat6/channel \\
        --parameter next --parameter return_loss -o limits.svg
"""


@click.command("plot", help=HELP, short_help="Draw limit lines into a picture (SVG or PNG).")
@click.argument("paths", nargs=-1, required=True, metavar="LIMITS...")
@click.option(
    "--parameter",
    "parameters",
    multiple=True,
    metavar="WORD",
    help="A panel for this parameter, such as next; by default a panel for each.",
)
@options.limit_files
@click.option(
    "-o", "--output", "target", required=True, metavar="FILE", type=options.ANY_PATH,
    help="The picture, named .svg or .png.",
)  # fmt: skip
@options.asked
def command(paths: tuple[str, ...], parameters: tuple[str, ...], asked: Asked, target: Path) -> int:
    """Draw the picture; see `HELP`."""
    from sweepbook.cli.desk import Desk
    from sweepbook.limits.plot import plot, without_line

    refuse_evidence(target, (), asked.limits)
    library = Desk(asked).library
    wanted = dict.fromkeys(library.resolve(path).path for path in paths)
    tables = [library.table(path) for path in wanted]
    plot(tables, parameters, target)
    said = f"Drawn: {utf8_safe(str(target))}"
    if not parameters and (lacking := without_line(tables)):
        said += (
            f". Not drawn, since a single figure is no line: {'; '.join(lacking)}; "
            "`sweepbook limits show` has them."
        )
    for line in table.paragraph(said, table.terminal_columns()):
        click.echo(line)
    return 0
