"""`sweepbook dialect try`: what a dialect makes of the first test of a file, and what to change."""

import json
import re
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sweepbook.cli import options
from sweepbook.cli.asked import Asked
from sweepbook.errors import ReadProblem
from sweepbook.text import utf8_safe

if TYPE_CHECKING:
    from sweepbook.cli.desk import Desk
    from sweepbook.dialect.model import Dialect
    from sweepbook.trial.looking import Look
    from sweepbook.trial.next_edits import Edit

MOST_PROBLEMS = 20
MOST_TESTS = 1_000
_FIRST = re.compile(rb'(?m)^(\s*first\s*=\s*)"TO-BE-SETTLED"')


@click.command("try", short_help="Show what a dialect makes of the first test of a file.")
@click.argument("dialect", metavar="DIALECT")
@click.argument(
    "file", metavar="FILE", type=click.Path(exists=True, dir_okay=False, path_type=Path)
)
@click.option(
    "--tests",
    "count",
    type=click.IntRange(1, MOST_TESTS),
    default=1,
    show_default=True,
    metavar="N",
    help="How many tests to look at.",
)
@options.limit_files
@options.as_json
@options.asked
def command(dialect: str, file: Path, count: int, as_json: bool, asked: Asked) -> int:
    """Show what a dialect makes of the first test of a file.

    DIALECT is the file of a dialect, or the name of an installed one; FILE is an export. Shown are
    the curves found beside those that the limit of the test asks for, ranges and units, what was
    left over, keys of the dialect that found nothing, and the next changes worth making.

    Exit code 0 if there is nothing to change, 1 if there is, 3 if the dialect cannot be used.
    """
    from sweepbook.cli import dialect_try_lines
    from sweepbook.cli.desk import Desk
    from sweepbook.trial import next_edits
    from sweepbook.trial.looking import look

    desk = Desk(replace(asked, dialects=(dialect,)))
    chosen, waiting = _dialect(desk, dialect)
    desk.dialects = {chosen.name: chosen}
    looks: list[Look] = []
    told: list[ReadProblem] = []
    every: list[ReadProblem] = []
    for item in desk.items([file]):
        if isinstance(item, ReadProblem):
            told.append(item)
            every.append(item)
        else:
            settings = desk.context.settings
            looks.append(look(chosen, file, item, told, desk.library, settings))
            told = []
        if len(looks) >= count or len(every) >= MOST_PROBLEMS:
            break
    of_tests = [edit for one in looks for edit in one.edits]
    edits = list(dict.fromkeys([*waiting, *next_edits.told(told), *of_tests]))
    if as_json:
        click.echo(json.dumps(_document(chosen, file, looks, every, edits), ensure_ascii=False))
    else:
        for line in dialect_try_lines.shown(chosen, dialect, file, looks, edits):
            click.echo(line)
    return 1 if edits or not looks else 0


def _document(
    dialect: "Dialect",
    file: Path,
    looks: "Sequence[Look]",
    problems: Sequence[ReadProblem],
    edits: "Sequence[Edit]",
) -> dict[str, Any]:
    """The trial as a document of the schema trial-0."""
    from sweepbook import __version__
    from sweepbook.trial.looking import changes, to_json

    return {
        "schema": "urn:sweepbook:trial-0",
        "tool": {"name": "sweepbook", "version": __version__},
        "dialect": {"name": dialect.name, "sha256": dialect.sha256},
        "source": utf8_safe(file.name),
        "tests": [to_json(one) for one in looks],
        "problems": [
            {"place": of.place, "message": of.message, "lost_record": of.lost_record}
            for of in problems
        ],
        "changes": changes(edits),
    }


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
