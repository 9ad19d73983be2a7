"""`sweepbook check`: every stated verdict judged anew from the raw sweeps."""

import sys
from collections.abc import Iterator, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, cast

import click

from sweepbook.cli import options
from sweepbook.cli.asked import Asked
from sweepbook.cli.progress import Progress
from sweepbook.cli.wording import counted
from sweepbook.text import printable

if TYPE_CHECKING:
    from sweepbook.audit.run import Run
    from sweepbook.cli.desk import Desk
    from sweepbook.cli.objections import Objections
    from sweepbook.cli.table import Column
    from sweepbook.delivery import Result, Work
    from sweepbook.judging.assessment import Assessment


@click.command("check", short_help="Judge every stated verdict anew from the raw sweeps.")
@options.sources
@options.reading
@options.judging
@options.workers
@options.as_json
@click.option(
    "--fail-on",
    type=click.Choice(["failed"]),
    help="Exit with 1 also where a link fails, though its stated fail is upheld.",
)
@click.option(
    "--objections",
    metavar="FOLDER",
    type=click.Path(path_type=Path, file_okay=False),
    help="Write a sheet for each overturned verdict into this folder, to hand to whoever made "
    "the test.",
)
@options.asked
def command(
    paths: tuple[Path, ...],
    asked: Asked,
    as_json: bool,
    fail_on: str | None,
    objections: Path | None,
) -> int:
    """Judge every stated verdict anew from the raw sweeps.

    PATHS are books, export files or folders of them. One row a test: the stated verdict, the
    worst margin recomputed, and whether the sweeps uphold what was stated, with the reason.

    Exit code 1 for any finding of warning or above, any verdict overturned or unproven, anything
    that could not be read.
    """
    from sweepbook.cli.desk import Desk

    desk = Desk(asked, paths)
    run = desk.run()
    sheets = _sheets(desk, objections)
    with Progress("tests checked") as progress:
        if as_json:
            entries = _made(_entry, desk, run, paths, sheets)
            _print_document(run, progress.over(entries))
        else:
            from sweepbook.cli import lines

            rows = _made(partial(_rows, lines.columns()), desk, run, paths, sheets)
            _print_rows(run, progress.over(rows), progress)
    if sheets is not None:
        written = counted(len(sheets.written), "objection")
        click.echo(f"{written} written to {printable(str(sheets.folder))}", err=True)
        if sheets.others:
            said = f"{counted(sheets.others, 'other file')} lay in that folder and stayed there: "
            click.echo(f"{said}sheets of a former run may hold no longer.", err=True)
    return desk.exit_code(run, fail_on_failed=fail_on == "failed")


def _sheets(desk: "Desk", folder: Path | None) -> "Objections | None":
    """Where overturned verdicts go besides; never among what is read."""
    if folder is None:
        return None
    from sweepbook.cli.objections import Objections
    from sweepbook.cli.target import refuse_evidence

    refuse_evidence(folder, desk.paths, desk.asked.files())
    return Objections(folder, desk.context)


def _made(
    work: "Work[Result]",
    desk: "Desk",
    run: "Run",
    paths: Sequence[Path],
    sheets: "Objections | None",
) -> "Iterator[Result]":
    """What is made of each record to be printed, by the process that judged it.

    Sheets need all of a record, which is then handed over whole.
    """
    from sweepbook.cli.workers import NOTHING_BESIDES, Besides

    besides = Besides(work=work) if sheets is None else NOTHING_BESIDES
    for one in desk.assessed(run, paths, besides):
        if sheets is not None:
            sheets.see(one.assessment)
        if one.made:
            yield cast("Result", one.made[0])
        else:
            yield work(one.assessment, partial(run.held, one.assessment))


def _entry(assessment: "Assessment", _: object) -> bytes:
    """The text of one record in the audit document."""
    from sweepbook.audit import document

    return document.entry(assessment)


def _rows(layout: "Sequence[Column]", assessment: "Assessment", _: object) -> list[str]:
    """The rows of one record in the table."""
    from sweepbook.cli import lines

    return list(lines.of_record(assessment, layout))


def _print_document(run: "Run", entries: Iterator[bytes]) -> None:
    from sweepbook.audit import document

    with document.Writer(run) as out:
        for entry in entries:
            out.add_entry(entry)
        out.write_to(sys.stdout.buffer)


def _print_rows(run: "Run", records: Iterator[list[str]], progress: Progress) -> None:
    """Print the table as the records come, and close the run with its totals."""
    from sweepbook.cli import job_lines, lines, table

    job = list(job_lines.of_job(run.context.job))
    for number, rows in enumerate(records):
        progress.wipe()
        if number == 0:
            _print([*job, *([""] if job else []), *table.heading(lines.columns())])
        _print(rows)
    run.close()
    progress.wipe()
    _print(list(lines.of_set(run)))
    if lines.needs_caution(run):
        _print(["", *table.paragraph(lines.CAUTION, table.terminal_columns())])


def _print(text: Sequence[str]) -> None:
    for line in text:
        click.echo(line)
