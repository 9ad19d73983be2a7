"""`sweepbook show`: one test like a test sheet."""

import sys
from collections.abc import Iterable, Iterator
from difflib import get_close_matches
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sweepbook.cli import options
from sweepbook.errors import ReadProblem, SweepbookError

if TYPE_CHECKING:
    from sweepbook.cli.desk import Desk
    from sweepbook.record.model import Record

_MOST_NAMED = 12


@click.command("show", short_help="Show one test: what was stated beside what was recomputed.")
@click.argument("path", type=options.EXISTING)
@click.argument("label", required=False)
@options.reading
@options.judging
@options.as_json
def command(
    path: Path,
    label: str | None,
    from_format: str | None,
    dialects: tuple[str, ...],
    against: str | None,
    limits: tuple[Path, ...],
    interpretations: tuple[str, ...],
    as_json: bool,
) -> int:
    """Show one test: what was stated beside what was recomputed.

    PATH is a book, an export file or a record. LABEL is the label of the link, or the beginning
    of a record id; it may be left out where there is one test only. With --json the record itself
    is printed, without any judgement.

    Exit code as for `sweepbook check`, about this test alone.
    """
    from sweepbook.cli import lines, sheet
    from sweepbook.cli.desk import Asked, Desk
    from sweepbook.record import codec

    desk = Desk(Asked(from_format, dialects, against, interpretations, limits))
    found = _matching(_records(desk, path, label), label, path)
    if as_json:
        for record in found:
            sys.stdout.buffer.write(codec.dumps(record))
        return 0
    run = desk.run()
    for number, assessment in enumerate(run.walk(found)):
        for line in ([""] if number else []) + list(sheet.of(assessment)):
            click.echo(line)
    run.close()
    for line in lines.of_crashes(run.rules_not_run):
        click.echo(line)
    return desk.exit_code(run)


def _records(desk: "Desk", path: Path, label: str | None) -> "Iterator[Record]":
    """The records of a path; of a book only those that may be meant are opened."""
    from sweepbook.book import store
    from sweepbook.book.layout import is_book, open_book
    from sweepbook.cli import lines

    if is_book(path):
        book = open_book(path)
        contents = store.contents_of(book)
        named = [entry.listed for entry in contents.entries()]
        meant = [entry for entry in named if _is_meant(label, entry.label, entry.record_id)]
        if not meant or (label is None and len(meant) > 1):
            raise _none_meant(path, label, [entry.label for entry in named])
        for entry in meant:
            yield store.load(book, entry.record_id, contents.file_sha256[entry.record_id])
        return
    for item in desk.items([path]):
        if isinstance(item, ReadProblem):
            for line in lines.of_problems([item]):
                click.echo(line, err=True)
        else:
            yield item


def _matching(records: "Iterable[Record]", label: str | None, path: Path) -> "list[Record]":
    """Those that are meant.

    Raises:
        SweepbookError: none is, or several are and no label was given.
    """
    meant, labels = [], []
    for record in records:
        labels.append(record.label)
        if _is_meant(label, record.label, record.record_id):
            meant.append(record)
        if label is None and len(meant) > _MOST_NAMED:
            break
    if not meant or (label is None and len(meant) > 1):
        raise _none_meant(path, label, labels)
    return meant


def _is_meant(asked: str | None, label: str, record_id: str) -> bool:
    if asked is None:
        return True
    return asked.casefold() == label.casefold() or (
        asked.startswith("sb0-") and record_id.startswith(asked)
    )


def _none_meant(path: Path, asked: str | None, labels: list[str]) -> SweepbookError:
    if not labels:
        return SweepbookError(
            f"{path.name}: there is no test in it.", "Run `sweepbook check` on it."
        )
    if asked is None:
        named = ", ".join(labels[:_MOST_NAMED]) + (", ..." if len(labels) > _MOST_NAMED else "")
        return SweepbookError(f"{path.name} has several tests.", f"Add a label: {named}.")
    near = get_close_matches(asked, labels, n=3, cutoff=0.5)
    hint = f"Near it: {', '.join(near)}." if near else "`sweepbook check` lists every label."
    return SweepbookError(f"{path.name}: no test has the label {asked!r}.", hint)
