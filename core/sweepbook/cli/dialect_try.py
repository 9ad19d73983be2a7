"""`sweepbook dialect try`: what a dialect makes of the first test of a file, and what to change."""

import re
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sweepbook.cli import options
from sweepbook.cli.asked import Asked
from sweepbook.errors import ReadProblem

if TYPE_CHECKING:
    from sweepbook.cli.desk import Desk
    from sweepbook.dialect.model import Dialect
    from sweepbook.record.model import Record
    from sweepbook.trial.next_edits import Edit

MOST_PROBLEMS = 20
_FIRST = re.compile(rb'(?m)^(\s*first\s*=\s*)"TO-BE-SETTLED"')


@click.command("try", short_help="Show what a dialect makes of the first test of a file.")
@click.argument("dialect", metavar="DIALECT")
@click.argument(
    "file", metavar="FILE", type=click.Path(exists=True, dir_okay=False, path_type=Path)
)
@options.limit_files
@options.asked
def command(dialect: str, file: Path, asked: Asked) -> int:
    """Show what a dialect makes of the first test of a file.

    DIALECT is the file of a dialect, or the name of an installed one; FILE is an export. Shown are
    the curves found beside those that the limit of the test asks for, ranges and units, what was
    left over, keys of the dialect that found nothing, and the next changes worth making.

    Exit code 0 if there is nothing to change, 1 if there is, 3 if the dialect cannot be used.
    """
    from sweepbook.cli import dialect_try_lines
    from sweepbook.cli.desk import Desk

    desk = Desk(replace(asked, dialects=(dialect,)))
    chosen, waiting = _dialect(desk, dialect)
    desk.dialects = {chosen.name: chosen}
    record, problems = _first(desk, file)
    shown = dialect_try_lines.shown(desk, chosen, file, record, problems, waiting)
    for line in shown.lines:
        click.echo(line)
    return 1 if shown.edits or record is None else 0


def _dialect(desk: "Desk", name: str) -> "tuple[Dialect, list[Edit]]":
    """The dialect, and what in it waits for a person; such a pair order has a stand-in here.

    Raises:
        BadDialect: it cannot be used, whatever is put in place of what waits.
    """
    from sweepbook.dialect.load import BadDialect, parse
    from sweepbook.trial.next_edits import unsettled

    path = Path(name)
    raw = path.read_bytes() if path.is_file() else b""
    waiting = list(unsettled(raw.decode("utf-8", "replace"), path.name))
    try:
        (dialect,) = desk.dialects.values()
    except BadDialect:
        if not waiting:
            raise
        dialect = parse(_FIRST.sub(rb'\1"disturbing"', raw), path.name)
        check = desk.registry.reader(dialect.format).check_dialect
        if check is not None:
            check(dialect)
    return dialect, waiting


def _first(desk: "Desk", file: Path) -> "tuple[Record | None, list[ReadProblem]]":
    """The first record of a file, and what was told until it came."""
    problems: list[ReadProblem] = []
    for item in desk.items([file]):
        if not isinstance(item, ReadProblem):
            return item, problems
        problems.append(item)
        if len(problems) >= MOST_PROBLEMS:
            break
    return None, problems
