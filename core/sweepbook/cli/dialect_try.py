"""`sweepbook dialect try`: what a dialect makes of the first test of a file, and what to change."""

import json
from collections.abc import Iterator, Sequence
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
    from sweepbook.record.model import Record
    from sweepbook.source import Source
    from sweepbook.trial.together import Edit
    from sweepbook.trial.trial import Trial

MOST_LOST = 20
"""Tests that are not read, one after the other, before a trial gives up."""
MOST_TESTS = 1_000
MOST_READ = 100
"""Tests of a file that are read for what none of them has, of which few are shown."""


@click.command("try", short_help="Show what a dialect makes of the first test of a file.")
@click.argument("dialect", metavar="DIALECT")
@click.argument(
    "files",
    nargs=-1,
    required=True,
    metavar="FILE...",
    type=click.Path(exists=True, path_type=Path),
)
@click.option(
    "--tests",
    "count",
    type=click.IntRange(1, MOST_TESTS),
    default=1,
    show_default=True,
    metavar="N",
    help="How many tests of each file to show.",
)
@options.limit_files
@options.as_json
@options.asked
def command(dialect: str, files: tuple[Path, ...], count: int, as_json: bool, asked: Asked) -> int:
    """Show what a dialect makes of the first test with curves of each file.

    DIALECT is the file of a dialect, or the name of an installed one; FILE... are exports, or
    folders of them: give all files of a test that is spread over several. Shown are the curves
    found beside those that the limit of the test asks for, ranges and units, what was left over,
    and the next changes worth making. Of up to a hundred tests of each file it tells what cannot
    be read, which names of limits no table goes by, and which keys of the dialect found nothing in
    any of them.

    Exit code 0 if there is nothing to change, 1 if there is, 3 if the dialect cannot be used.
    """
    from sweepbook.cli import dialect_try_lines
    from sweepbook.cli.desk import Desk
    from sweepbook.cli.named_files import named_files
    from sweepbook.trial.together import together
    from sweepbook.trial.trial import Trial

    files = named_files(files)
    desk = Desk(replace(asked, dialects=(dialect,)))
    chosen, waiting = _dialect(desk, dialect)
    desk.dialects = {chosen.name: chosen}
    reader = desk.registry.reader(chosen.format)
    trial = Trial(chosen, desk.library, desk.context.settings, reader, count)
    for found in _by_file(desk, files):
        trial.of_file(found, max(MOST_READ, count), MOST_LOST)
        if len(trial.lost) >= MOST_LOST:
            break
    edits = list(together([waiting, *trial.edits()]))
    if as_json:
        click.echo(json.dumps(_document(chosen, files, trial, edits), ensure_ascii=False))
    else:
        for line in dialect_try_lines.shown(chosen, dialect, files, trial, edits):
            click.echo(line)
    return 1 if edits or not trial.looks else 0


def _by_file(
    desk: "Desk", files: Sequence[Path]
) -> "Iterator[Iterator[ReadProblem | tuple[Source, Record]]]":
    """What is read of each file, all files being at hand.

    A file with parts of the tests of another one is read with that.

    Raises:
        SweepbookError: there is nothing in the files at all.
    """
    from sweepbook.cli.emptiness import nothing_in

    entries = [desk.pipeline.sources([file]) for file in dict.fromkeys(files)]
    given = [one for found in entries for one in found if not isinstance(one, ReadProblem)]
    if not any(entries):
        raise nothing_in(files)
    for found in entries:
        yield _items(desk, found, given)


def _items(
    desk: "Desk", entries: "Sequence[Source | ReadProblem]", given: "Sequence[Source]"
) -> "Iterator[ReadProblem | tuple[Source, Record]]":
    for entry in entries:
        if isinstance(entry, ReadProblem):
            yield entry
            continue
        for item in desk.pipeline.read_source(entry, given):
            yield item if isinstance(item, ReadProblem) else (entry, item)


def _document(
    dialect: "Dialect",
    files: Sequence[Path],
    trial: "Trial",
    edits: "Sequence[Edit]",
) -> dict[str, Any]:
    """The trial as a document of the schema trial-0."""
    from sweepbook import __version__
    from sweepbook.trial.looking import changes, to_json

    return {
        "schema": "urn:sweepbook:trial-0",
        "tool": {"name": "sweepbook", "version": __version__},
        "dialect": {"name": dialect.name, "sha256": dialect.sha256},
        "sources": [utf8_safe(file.name) for file in files],
        "tests_read": trial.read,
        "tests": [to_json(one) for one in trial.looks],
        "problems": [
            {
                "source": of.source,
                "place": of.place,
                "message": of.message,
                "lost_record": of.lost_record,
            }
            for of in trial.problems
        ],
        "idle_keys": [{"key": of.key, "text": of.text} for of in trial.idle],
        "changes": changes(edits),
    }


def _dialect(desk: "Desk", name: str) -> "tuple[Dialect, list[Edit]]":
    """The dialect, and what in it waits for a person.

    Such an order of pairs, and such a label, have a stand-in here, so that the rest is shown.

    Raises:
        BadDialect: it cannot be used, whatever is put in place of what waits.
    """
    from sweepbook.cli.stand_ins import labelled, settled
    from sweepbook.dialect.load import BadDialect
    from sweepbook.trial.next_edits import unsettled

    path = Path(name)
    raw = path.read_bytes() if path.is_file() else b""
    waiting = list(unsettled(raw.decode("utf-8", "replace"), path.name))
    try:
        (dialect,) = desk.dialects.values()
    except BadDialect:
        if not waiting:
            raise
        dialect = settled(desk, raw, path.name)
    return labelled(dialect), waiting
