"""`sweepbook limits check`: every mistake in a limit table of one's own."""

import json
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sweepbook.cli import options, table
from sweepbook.cli.faults import Exit
from sweepbook.errors import SweepbookError
from sweepbook.text import printable

if TYPE_CHECKING:
    from sweepbook.limits.library import Library

_PAGE = "limits-0.md, which comes with the schemas, describes every member by examples."
_MOST_TOLD = 100
"""Faults of one file; of one with more, the first tell what is wrong with it."""
HELP = """Tell every mistake in a limit table of your own, or what it asks for.

FILES are JSON files of one limit table each. The shortest is based on a table that comes with
the program and says what differs:

\b
    {
      "schema": "urn:sweepbook:limits-0",
      "path": "our-contract/cat6a/permanent-link",
      "title": "Our contract, Category 6A permanent link",
      "document": "Our contract, appendix C",
      "edition": "1",
      "published_year": 2024,
      "based_on": "tia-568.2-d/cat6a/permanent-link",
      "adjustments": [
        {"parameters": ["next", "psnext"],
         "tighter_by": 3, "unit": "dB", "source": "contract"}
      ],
      "sources": {"contract": "Appendix C, clause 4.2"}
    }

Judge by it with `sweepbook check --limits FILE --against our-contract/cat6a/permanent-link`.
A file that is based on another one of FILES comes after it.

Exit code 1 where a file has a mistake.
"""


@dataclass(frozen=True, slots=True)
class Answer:
    """What is to be said of one file.

    Attributes:
        name: of the file.
        path, title: of its table; "" where it is faulty.
        based_on: path of the table it is based on, or "".
        changes: what it changes of that one, as parameter and text.
        goes_by: how a test may name it.
        faults: one line each; empty for a usable table.
    """

    name: str
    path: str
    title: str
    based_on: str
    changes: tuple[tuple[str, str], ...]
    goes_by: str
    faults: tuple[str, ...]


@click.command("check", help=HELP, short_help="Tell every mistake in a limit table of your own.")
@click.argument(
    "files",
    nargs=-1,
    required=True,
    metavar="FILES...",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
)
@options.as_json
def command(files: tuple[Path, ...], as_json: bool) -> int:
    """Print what is to be said of each file; see `HELP`."""
    from sweepbook.cli.desk import Desk

    library, answers = Desk().library, []
    for file in files:
        library, answer = _checked(library, file)
        answers.append(answer)
    if as_json:
        click.echo(json.dumps({"files": [asdict(answer) for answer in answers]}, indent=2))
    else:
        for answer in answers:
            for line in _lines(answer):
                click.echo(line)
    return Exit.FINDINGS if any(answer.faults for answer in answers) else Exit.CLEAN


def _checked(library: "Library", file: Path) -> "tuple[Library, Answer]":
    """What is to be said of a file, and the library with its table where it is usable."""
    from sweepbook.limits.compare import changes
    from sweepbook.limits.load import LimitFault

    name = printable(file.name)
    try:
        more, path = library.adding(file)
    except LimitFault as error:
        return library, Answer(name, "", "", "", (), "", error.faults)
    except SweepbookError as error:
        return library, Answer(name, "", "", "", (), "", (str(error),))
    made = more.table(path)
    found = changes(more.table(made.based_on), made) if made.based_on else ()
    spelled = any(made.names.class_or_category + made.names.edition)
    goes_by = "its path, its title, or its names in any order" if spelled else "its path or title"
    told = tuple((change.parameter, change.text) for change in found)
    return more, Answer(name, path, made.title, made.based_on, told, goes_by, ())


def _lines(answer: Answer) -> Iterator[str]:
    columns = table.terminal_columns()
    if answer.faults:
        yield f"{answer.name} is no usable limit table:"
        for fault in answer.faults[:_MOST_TOLD]:
            yield from table.paragraph(fault, columns, 4)
        if (more := len(answer.faults) - _MOST_TOLD) > 0:
            yield f"    And {more} more."
        yield from table.paragraph(_PAGE, columns)
        return
    yield f"{answer.name} is a usable limit table."
    facts = [("path", answer.path), ("title", answer.title), ("a test names it by", answer.goes_by)]
    if answer.based_on:
        facts.append(("based on", answer.based_on))
        facts += answer.changes or [("changes", "none")]
    yield from table.facts(facts, columns)
