"""`sweepbook show`: one test like a test sheet."""

import sys
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sweepbook.cli import options
from sweepbook.cli.asked import Asked
from sweepbook.cli.meant import MOST_NAMED, by_one_form, is_meant, none_meant
from sweepbook.errors import ReadProblem, SweepbookError
from sweepbook.text import text_at

if TYPE_CHECKING:
    from sweepbook.cli.desk import Desk
    from sweepbook.record.model import Record


@click.command("show", short_help="Show one test: what was stated beside what was recomputed.")
@click.argument("path", type=options.EXISTING)
@click.argument("label", required=False)
@options.reading
@options.judging
@options.as_json
@click.option(
    "--why",
    metavar="CURVE",
    help="Walk through the judgement of one curve or figure by hand: a parameter, with pairs and "
    'end where needed, such as "next" or "next 3-6/4-5 near".',
)
@options.asked
def command(
    path: Path,
    label: str | None,
    asked: Asked,
    as_json: bool,
    why: str | None,
) -> int:
    """Show one test: what was stated beside what was recomputed.

    PATH is a book, an export file or a record. LABEL is the label of the link, or the beginning
    of a record id; it may be left out where there is one test only. With --json the record itself
    is printed, without any judgement. With --why one curve is walked through, from the sweep over
    the limit's formula with the numbers put in to the conclusion.

    Exit code as for `sweepbook check`, about this test alone.
    """
    from sweepbook.cli import lines, sheet, why_lines
    from sweepbook.cli.desk import Desk
    from sweepbook.inputs import is_book
    from sweepbook.record import codec
    from sweepbook.rules.times import in_time

    desk = Desk(asked, (path,))
    records = _records(desk, path, label)
    found = list(records) if is_book(path) else _matching(records, label, path)
    found.sort(key=lambda one: in_time(text_at(one.document, "test", "started", "rfc3339")))
    if as_json and why:
        raise SweepbookError(
            "--json prints the record itself, --why how it was judged.",
            "Leave one of them out; `sweepbook check --json` has the figures of the judgement.",
        )
    if as_json:
        for record in found:
            sys.stdout.buffer.write(codec.dumps(record.evidence))
        return 0
    run = desk.run()
    for number, assessment in enumerate(run.walk(found)):
        if why is None:
            told = sheet.of(assessment, desk.people)
        else:
            told = why_lines.of(assessment, why, run.context)
        for line in ([""] if number else []) + list(told):
            click.echo(line)
    run.close()
    for line in lines.of_readings(run.context.settings.interpretations):
        click.echo(line)
    for line in lines.of_limits(run):
        click.echo(line)
    for line in lines.of_crashes(run.rules_not_run):
        click.echo(line)
    return desk.exit_code(run)


def _records(desk: "Desk", path: Path, label: str | None) -> "Iterator[Record]":
    """The records of a path; of a book only those that may be meant are opened."""
    from sweepbook.book import corrections, store
    from sweepbook.book.layout import open_book
    from sweepbook.cli import lines
    from sweepbook.inputs import is_book

    if is_book(path):
        book = open_book(path)
        contents = store.contents_of(book)
        its_labels = corrections.labels(book, contents)
        label, named = by_one_form(desk.context.project, label, its_labels)
        meant = [record_id for record_id, its in named.items() if is_meant(label, its, record_id)]
        if not meant or (label is None and len(meant) > 1):
            raise none_meant(path, label, list(named.values()), contents.at_rest())
        held = corrections.load(book, contents)
        for record_id in meant:
            yield held.of(store.load(book, record_id, contents.file_sha256[record_id]))
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
        if is_meant(label, record.label, record.record_id):
            meant.append(record)
        if label is None and len(meant) > MOST_NAMED:
            break
    if not meant or (label is None and len(meant) > 1):
        raise none_meant(path, label, labels)
    return meant
