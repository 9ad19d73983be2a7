"""`sweepbook gather`: exports into a book."""

import json
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sweepbook.cli import options, table
from sweepbook.cli.asked import Asked
from sweepbook.cli.emptiness import nothing_in
from sweepbook.cli.faults import Exit
from sweepbook.cli.lines import of_what
from sweepbook.cli.progress import Progress, say_waiting
from sweepbook.cli.wording import counted
from sweepbook.errors import SweepbookError
from sweepbook.text import utf8_safe

if TYPE_CHECKING:
    from sweepbook.book.gather import Outcome
    from sweepbook.cli.desk import Desk

_NAMED = 3
"""Names of files that are refused for one reason; of more it is told how many."""


@click.command("gather", short_help="Take test exports into a book, with the files as they came.")
@click.argument("book", type=options.FOLDER)
@options.sources
@options.reading
@options.limit_files
@click.option("--name", help="What to call the book, where it is begun now.")
@click.option("--again", is_flag=True, help="Read also files that were read without problems.")
@options.as_json
@options.asked
def command(
    book: Path,
    paths: tuple[Path, ...],
    asked: Asked,
    name: str | None,
    again: bool,
    as_json: bool,
) -> int:
    """Take test exports into a book, with the files as they came.

    BOOK is the book's folder; a new one is begun where there is none. PATHS are export files or
    folders of them. Running it again adds what is new and changes nothing else; a run that was
    stopped is completed by running it again.

    Exit code 1 where anything could not be read, 3 where nothing could.
    """
    from sweepbook.cli.desk import Desk

    desk = Desk(asked, (book,))
    outcomes = take_in(desk, book, paths, name, again, quiet=as_json)
    if as_json:
        click.echo(json.dumps(_document(book, outcomes), ensure_ascii=False, indent=2))
    else:
        for line in table.paragraph(totals(book, outcomes), table.terminal_columns()):
            click.echo(line)
    return _exit_code(desk, outcomes)


def take_in(
    desk: "Desk",
    folder: Path,
    paths: Sequence[Path],
    name: str | None = None,
    again: bool = False,
    quiet: bool = False,
) -> "list[Outcome]":
    """Gather with progress; unless quiet, a line for each file that is not simply unchanged.

    Files of which nothing was read come last, those of one reason in one line.

    Raises:
        SweepbookError: there is no file to gather, or no book to be had.
    """
    from sweepbook.book.gather import gather
    from sweepbook.book.layout import open_or_begin
    from sweepbook.cli.target import refuse_place
    from sweepbook.inputs import files_of, is_book

    if next(files_of(paths), None) is None:
        raise nothing_in(paths)
    for path in filter(is_book, paths):
        raise SweepbookError(
            f"{utf8_safe(str(path))} is a book, and a book is gathered from exports.",
            f"Name its folder {utf8_safe(str(path / 'sources'))} to take its exports again.",
        )
    if not is_book(folder):
        refuse_place(folder)
    pipeline = desk.pipeline
    book = open_or_begin(folder, name, say_waiting)
    outcomes = []
    with Progress("files gathered") as progress:
        try:
            for outcome in gather(book, paths, pipeline, again, say_waiting):
                outcomes.append(outcome)
                progress.step(outcome.name)
                if not quiet and not _is_lost(outcome):
                    progress.wipe()
                    _print(outcome, folder)
        finally:
            progress.wipe()
            for lost in () if quiet else _lost(outcomes):
                _print(lost, folder)
    return outcomes


def _is_lost(outcome: "Outcome") -> bool:
    """Whether nothing at all was read of a file, and it says why."""
    none = not (outcome.records or outcome.dropped or outcome.stay or outcome.crashed)
    return outcome.status == "refused" or (none and bool(outcome.problems))


def _lost(outcomes: "Sequence[Outcome]") -> "Iterator[Outcome]":
    """The files of which nothing was read; those lost for the same reasons as one, at the first."""
    alike: dict[tuple[object, ...], list[Outcome]] = {}
    for one in filter(_is_lost, outcomes):
        reasons = tuple((p.place, p.message) for p in one.problems)
        alike.setdefault((one.status, one.way, reasons), []).append(one)
    for first, *others in alike.values():
        names = [one.name for one in (first, *others)]
        more = f" and {len(names) - _NAMED} more" if len(names) > _NAMED else ""
        said = f"{counted(len(names), 'file')}: {', '.join(names[:_NAMED])}{more}"
        yield replace(first, name=said) if others else first


def totals(book: Path, outcomes: "Sequence[Outcome]") -> str:
    """The counts in a sentence or two."""
    unchanged = sum(outcome.status == "unchanged" for outcome in outcomes)
    records = len(frozenset[str]().union(*(outcome.record_ids for outcome in outcomes)))
    new = sum(outcome.new for outcome in outcomes)
    lost = sum(len(outcome.problems) for outcome in outcomes)
    files, tests = counted(len(outcomes), "file"), counted(records, "test")
    left_out = sum(bool(outcome.withdrawn) for outcome in outcomes)
    same = f", {unchanged} of them unchanged" if unchanged else ""
    gone = f", {left_out} of them withdrawn and left out" if left_out else ""
    said = f"{files}{same}{gone}; {tests}, {new} new."
    if lost:
        said += f" {counted(lost, 'problem')} in reading."
    return f"{said} The book is {utf8_safe(str(book))}."


def _print(outcome: "Outcome", book: Path) -> None:
    """A line about a file, and one a problem."""
    columns = table.terminal_columns()
    if outcome.status != "unchanged" or outcome.same_as:
        for line in table.paragraph(_of_file(outcome, book), columns):
            click.echo(line)
    if outcome.dropped:
        tests = counted(outcome.dropped, "test")
        text = f"No longer current from the reading before: {tests}."
        for line in table.paragraph(text, columns, 4):
            click.echo(line)
    if outcome.stay:
        tests = counted(outcome.stay, "test")
        text = f"This reading gave no test, so those of the reading before stay current: {tests}."
        for line in table.paragraph(text, columns, 4):
            click.echo(line)
    for problem in outcome.problems:
        place = f"{problem.place}: " if problem.place else ""
        for line in table.paragraph(f"{of_what(problem)}: {place}{problem.message}", columns, 4):
            click.echo(line)


def _of_file(outcome: "Outcome", book: Path) -> str:
    """What became of a file, in a line or two."""
    text = f"{outcome.status.value}: {outcome.name}"
    if outcome.same_as:
        return f"{text}: to the last byte the same as {outcome.same_as}, so it counts once"
    if outcome.withdrawn:
        own = outcome.withdrawn_sha256 == outcome.sha256
        what = "it counts" if own else "the file with the other parts of its tests counts"
        return (
            f"{text}: left out, since {what} no more ({outcome.withdrawn}). To take it back in: "
            f"sweepbook withdraw {utf8_safe(str(book))} {outcome.withdrawn_sha256[:12]} --back "
            f"--who ... --why ...{'' if own else ', then gather this one again'}"
        )
    if outcome.way is None:
        return text
    read_as = " / ".join(filter(None, (outcome.way.reader, outcome.way.dialect_name)))
    if outcome.part_of and not outcome.records:
        return f"{text}: a part of the tests in {outcome.part_of} ({read_as})"
    return f"{text}: {counted(outcome.records, 'test')}, {outcome.new} new ({read_as})"


def _document(book: Path, outcomes: "Sequence[Outcome]") -> dict[str, Any]:
    """What was done, for a machine."""
    return {
        "book": utf8_safe(str(book)),
        "sources": [
            {
                "name": outcome.name,
                "sha256": outcome.sha256 or None,
                "status": outcome.status.value,
                "reader": outcome.way.reader if outcome.way else None,
                "dialect": (outcome.way.dialect_name or None) if outcome.way else None,
                "records": outcome.records,
                "new": outcome.new,
                "dropped": outcome.dropped,
                "stay": outcome.stay,
                "withdrawn": outcome.withdrawn or None,
                "part_of": outcome.part_of or None,
                "same_as": outcome.same_as or None,
                "problems": [
                    {"place": p.place, "message": p.message, "lost_record": p.lost_record}
                    for p in outcome.problems
                ],
            }
            for outcome in outcomes
        ],
    }


def _exit_code(desk: "Desk", outcomes: "Sequence[Outcome]") -> int:
    desk.reader_crashes += sum(outcome.crashed for outcome in outcomes)
    crashes = desk.closing()
    if not any(outcome.records for outcome in outcomes):
        return Exit.WRONG_USE
    if crashes:
        return Exit.CRASHED
    return Exit.FINDINGS if any(outcome.problems for outcome in outcomes) else Exit.CLEAN
