"""`sweepbook retests`: what has to be tested again, and why."""

import json
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sweepbook.cli import options
from sweepbook.cli.asked import Asked
from sweepbook.cli.faults import Exit
from sweepbook.cli.planned import Planned
from sweepbook.cli.progress import Progress

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from sweepbook.retests.collect import Retest
    from sweepbook.schedule.label_scheme import LabelScheme
    from sweepbook.schedule.reconcile import Reconciliation

_FORMULA = ("=", "+", "-", "@")


@click.command("retests", short_help="List what has to be tested again, by floor, room and panel.")
@options.sources
@options.schedule(required=False)
@options.reading
@options.judging
@options.workers
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
    schedule: Path | None,
    columns: tuple[str, ...],
    label_scheme: Path | None,
    asked: Asked,
    as_json: bool,
    target: Path | None,
) -> int:
    """List what has to be tested again, by floor, room and panel.

    PATHS are books, export files or folders of them. On the list is each link whose last test is
    no proved pass: it failed, its stated verdict is overturned, or something that a proof needs
    is missing. Where the failing curves point to an end or a pair, that is named as a hint.

    With a cable schedule, or a label scheme beside it, links are listed by the places that these
    name, and what the schedule leaves open besides is counted: links that were never tested, or
    pass under less or other than was asked for. `sweepbook reconcile` lists these.

    Exit code 1 while anything is on the list or could not be read.
    """
    from sweepbook import findings
    from sweepbook.cli import job_lines, lines, retests_lines
    from sweepbook.cli.desk import Desk
    from sweepbook.cli.target import refuse_evidence
    from sweepbook.cli.wording import of_tests
    from sweepbook.retests import document
    from sweepbook.retests.collect import besides, retests, tested
    from sweepbook.schedule.model import NO_SCHEDULE
    from sweepbook.schedule.reconcile import reconcile

    desk = Desk(asked, paths)
    planned = Planned(schedule, columns, label_scheme)
    if target is not None:
        helpers = (*desk.asked.files(), *planned.files())
        refuse_evidence(target, paths, helpers, printed="Without -o the list is printed.")
    wanted, scheme = planned.read(desk), planned.scheme()
    run = desk.run()
    with Progress("tests checked") as progress:
        walked = [tested(entry) for entry in progress.over(desk.assessments(run, paths))]
    run.close()
    known = findings.of_tests(run.findings, run.exported)
    tests = [one.with_the_rest(known) for one in walked if one is not None]
    attempts, site = (one.test for one in tests), desk.context.job.site
    accepts = desk.context.accepts()
    held = reconcile(wanted or NO_SCHEDULE, attempts, desk.library, scheme, site, accepts)
    found = retests(tests, desk.library, held)
    if target is not None:
        _write(found, target)
    rest = besides(held, found) if wanted is not None else None
    if as_json:
        told = document.of(found, run.problems, rest, desk.withdrawn_words)
        click.echo(json.dumps(told, ensure_ascii=False, indent=2))
    else:
        for line in job_lines.of_names(run):
            click.echo(line)
        besides_it = retests_lines.of_besides(rest or ())
        for line in retests_lines.of(found, of_tests(run.counters), besides_it):
            click.echo(line)
        for line in (*retests_lines.of_settled(held, found), *lines.of_problems(run.problems)):
            click.echo(line)
    for line in _of_places(held, scheme):
        click.echo(line, err=True)
    code = desk.exit_code(run)
    if code in (Exit.CRASHED, Exit.WRONG_USE):
        return code
    return Exit.FINDINGS if found or run.problems or held.schedule.faults else Exit.CLEAN


def _of_places(held: "Reconciliation", scheme: "LabelScheme | None") -> "Iterator[str]":
    """What is wrong with the schedule and the label scheme that tell places."""
    from sweepbook.cli import reconcile_lines

    yield from reconcile_lines.of_faults(held.schedule.name, held.schedule.faults)
    if scheme is not None:
        yield from reconcile_lines.of_misfits(scheme, (item.label for item in held.items))
        yield from reconcile_lines.of_dropped(scheme, held.items)


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
