"""`sweepbook reconcile`: the tests held against the cable schedule."""

import json
from collections import Counter
from collections.abc import Collection
from dataclasses import replace
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sweepbook.cli import options
from sweepbook.cli.asked import Asked
from sweepbook.cli.faults import Exit
from sweepbook.cli.planned import Planned, not_known
from sweepbook.cli.progress import Progress

if TYPE_CHECKING:
    from sweepbook.schedule.reconcile import Item, Reconciliation
    from sweepbook.schedule.told import Accepts

HELP = """Hold the tests against the cable schedule.

What is proved, what is open, and what nobody asked for. PATHS are books, export files or folders
of them. The schedule is a table with a row a link. Its columns are told by their titles where
these are plain: label, limit, configuration, cable, reel; for the link or for each end, as
"floor", "from floor" or "to termination": site, building, floor, space, cabinet, unit, panel,
port, and for an end its termination. Titles may stand in two lines, "from" above "floor", and
come again on each page. Another title is named by --column, for instance

\b
    --column label="Circuit ref" --column "limit=To be tested to" --column "to port=Outlet no"

Without a limit, links pass by whatever limit they were tested to, and that is told first.

A test belongs to a link when its label is the scheduled one, case and runs of blanks aside, and it
names no other building. A label that differs a little is suggested, never assumed. A test at
another place, or of another cable, than scheduled counts, and is remarked.

Exit code 1 while anything is open: a link that is untested, failed, unproven, or tested to less
or other than asked; a test that is not on the schedule; a row that could not be taken; a limit
that is asked for and not known. What it says of a link may be let stand with `sweepbook accept`,
by the ids that stand with it (PLN001 and on): then it stays in the list, with who and why, and is
open no longer.
"""

_AT_REST = (
    "A test of this label is in the book and is withdrawn: `sweepbook withdraw` on the book says "
    "who withdrew it and why."
)
_TOGETHER = 500
"""Lines that are printed at once."""


@click.command("reconcile", help=HELP, short_help="Hold the tests against the cable schedule.")
@options.sources
@options.schedule(required=True)
@options.reading
@options.judging
@options.workers
@click.option("--all", "every", is_flag=True, help="List the links that passed, too.")
@options.as_json
@options.asked
def command(
    paths: tuple[Path, ...],
    schedule: Path,
    columns: tuple[str, ...],
    label_scheme: Path | None,
    asked: Asked,
    every: bool,
    as_json: bool,
) -> int:
    """Print where each link stands; see `HELP`."""
    from sweepbook.cli import job_lines, lines, reconcile_lines
    from sweepbook.cli.desk import Desk
    from sweepbook.findings import of_tests
    from sweepbook.schedule import document
    from sweepbook.schedule.attempt import attempt_of, with_the_rest
    from sweepbook.schedule.reconcile import reconcile

    desk = Desk(asked, paths)
    planned = Planned(schedule, columns, label_scheme)
    wanted, scheme = planned.read(desk), planned.scheme()
    assert wanted is not None  # click asks for the file
    strange = not_known(wanted, desk)
    run = desk.run()
    with Progress("tests checked") as progress:
        tests = [attempt_of(entry) for entry in progress.over(desk.assessments(run, paths))]
    run.close()
    tests = with_the_rest(tests, of_tests(run.findings, run.exported))
    accepts = desk.context.accepts()
    held = reconcile(wanted, tests, desk.library, scheme, desk.context.job.site, accepts)
    result = _with_rest(held, desk.labels_at_rest(), accepts)
    if as_json:
        told_all = document.of(result, run.problems, strange, desk.withdrawn_words)
        click.echo(json.dumps(told_all, ensure_ascii=False, indent=2))
    else:
        for line in job_lines.of_names(run):
            click.echo(line)
        told = reconcile_lines.of(result, every, strange)
        while part := [*islice(told, _TOGETHER)]:  # each call of `echo` goes to the terminal
            click.echo("\n".join(part))
        idle = accepts.idle if accepts else ()
        for line in (*lines.of_problems(run.problems), *lines.of_idle(run.context, idle)):
            click.echo(line)
    if scheme is not None:
        labels = (item.label for item in result.items)
        misfits = reconcile_lines.of_misfits(scheme, labels)
        for line in (*misfits, *reconcile_lines.of_dropped(scheme, result.items)):
            click.echo(line, err=True)
    if desk.exit_code(run) == Exit.CRASHED:
        return Exit.CRASHED
    unsettled = bool(result.open or wanted.faults or strange or run.problems)
    return Exit.FINDINGS if unsettled else Exit.CLEAN


def _with_rest(
    result: "Reconciliation", at_rest: Collection[str], accepts: "Accepts | None"
) -> "Reconciliation":
    """Remark of links without a test that one of them is withdrawn."""
    from sweepbook.record.links import plain_label
    from sweepbook.schedule import told
    from sweepbook.schedule.standing import State

    if not at_rest:
        return result
    remark = (told.Remark(told.AT_REST, _AT_REST),)
    untested = [item for item in result.items if item.state is State.UNTESTED]
    links = Counter(plain_label(item.label) for item in untested)

    def told_of(item: "Item") -> "Item":
        label = plain_label(item.label)
        if item.state is not State.UNTESTED or label not in at_rest:
            return item
        shared = (told.AT_REST,) if links[label] > 1 else ()
        said = told.settled(remark, item.label, accepts, shared)
        return replace(item, remarks=(*item.remarks, *said))

    return replace(result, items=tuple(map(told_of, result.items)))
