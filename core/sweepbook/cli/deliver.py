"""Handing assessed records to a writer."""

import os
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import partial
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING, cast

import click

from sweepbook import __version__
from sweepbook.cli import lines, reconcile_lines, table
from sweepbook.cli.desk import Desk
from sweepbook.cli.faults import Exit, PipeClosed
from sweepbook.cli.planned import NOT_PLANNED, Planned, not_known
from sweepbook.cli.progress import Progress
from sweepbook.cli.target import Target, refuse_evidence, refuse_other_kind
from sweepbook.cli.wording import of_tests
from sweepbook.cli.workers import Besides
from sweepbook.delivery import About, Delivery, Result, Work
from sweepbook.errors import PluginCrash, SweepbookError
from sweepbook.files import cannot_write
from sweepbook.findings import Exported, Finding, RuleNotRun
from sweepbook.formats import Format
from sweepbook.judging.assessment import Assessment
from sweepbook.people import leave_out
from sweepbook.people.names import NOBODY
from sweepbook.registry import STRICT, told
from sweepbook.text import printable, utf8_safe

if TYPE_CHECKING:
    from sweepbook.audit.run import Assessed, Run
    from sweepbook.schedule.label_scheme import LabelScheme
    from sweepbook.schedule.model import Schedule


PRINTED = "`sweepbook check` and `sweepbook show` print what programs read, with --json."
NOTHING_MORE: Mapping[str, str] = {}
_A_PART = {"since", "mapping"}
"""Options by which a writer writes a part of what it looks at; each may name a file."""


def deliver(
    desk: Desk,
    paths: Sequence[Path],
    to_format: str,
    target: Target,
    title: str,
    planned: Planned = NOT_PLANNED,
    without_people: bool = False,
    wanted: Mapping[str, str] = NOTHING_MORE,
) -> int:
    """Read, assess and write; tell what could not be read.

    Returns:
        3 where there was nothing to write, 2 after a crash, 1 after a problem in reading records or
        schedule, else 0.

    Raises:
        SweepbookError: no such format can be written, or not to this path.
    """
    _refuse_records(desk, to_format, without_people)
    writer = desk.registry.writer(to_format)
    helpers = (*desk.asked.files(), *planned.files(), *_named(wanted))
    refuse_other_kind(writer, target)
    _refuse_wishes(desk, writer, wanted)
    if isinstance(target, Path):
        refuse_evidence(target, paths, helpers, writer.beside, PRINTED)
    schedule, scheme = planned.read(desk), planned.scheme()
    run = desk.run()
    labels = {link.label for link in schedule.links} if schedule else set()
    remarks = write_delivery(
        desk,
        run,
        paths,
        to_format,
        target,
        title,
        lambda entry: labels.add(entry.record.label),
        schedule=schedule,
        scheme=scheme,
        without_people=without_people,
        wanted=wanted,
    )
    strange = not_known(schedule, desk)
    faults = reconcile_lines.of_schedule(schedule, strange) if schedule else ()
    misfits = reconcile_lines.of_misfits(scheme, labels) if scheme else ()
    for line in (*lines.of_problems(run.problems), *faults, *misfits):
        click.echo(line, err=True)
    crashes = desk.closing()
    if not run.counters.records:
        return Exit.WRONG_USE
    said = f"{of_tests(run.counters)} written to {utf8_safe(str(target))}."
    if _A_PART & wanted.keys():
        said = f"{of_tests(run.counters)} looked at."
    for remark in (said, *remarks):
        for line in table.paragraph(printable(remark), table.terminal_columns()):
            click.echo(line)
    if crashes:
        return Exit.CRASHED
    unread = run.problems or strange or (schedule and schedule.faults)
    return Exit.FINDINGS if unread else Exit.CLEAN


def _named(wanted: Mapping[str, str]) -> list[Path]:
    """Files that options may name, not to be written over."""
    return [Path(wanted[option]) for option in sorted(_A_PART & wanted.keys())]


def _refuse_wishes(desk: Desk, writer: Format, wanted: Mapping[str, str]) -> None:
    """Refuse an option that the writer does not take.

    Raises:
        SweepbookError: there is one.
    """
    for name in wanted:
        if name not in writer.takes:
            able = [one.name for one in desk.registry.formats.values() if name in one.takes]
            raise SweepbookError(
                f"The format {writer.name} takes no --{name}.",
                f"Leave it out, or write {' or '.join(sorted(able))}.",
            )


def write_delivery(
    desk: Desk,
    run: "Run",
    paths: Sequence[Path],
    to_format: str,
    target: Target,
    title: str,
    on_entry: Callable[[Assessment], None] = lambda _: None,
    schedule: "Schedule | None" = None,
    scheme: "LabelScheme | None" = None,
    without_people: bool = False,
    wanted: Mapping[str, str] = NOTHING_MORE,
) -> list[str]:
    """Write what a run finds through a format's writer; nothing where there is no record.

    Args:
        desk: the tools.
        run: what judges and counts.
        paths: books, files and folders to read.
        to_format: what to write.
        target: where to.
        title: of the delivery.
        on_entry: called with each assessed record before the writer has it; one that came from
            another process may lack what was measured.
        schedule: the cable schedule, for writers that hold the tests against one.
        scheme: what labels say of the ends of their links, for the same.
        without_people: whether nobody may be named.
        wanted: options that the writer takes besides, by name.

    Returns:
        What the writer has to say.

    Raises:
        PluginCrash: the writer raised what it must not.
        SweepbookError: no such format can be written, or not to this path.
    """
    writer = desk.registry.writer(to_format)
    about, people = _about(desk, title), desk.people
    if without_people:
        about = replace(about, accepts=about.accepts and leave_out.by_nobody(about.accepts))
        about.options["people"] = "left out"
        people = NOBODY
    for problem in people.problems:
        run.add_problem(problem)
    view = leave_out.without_people if without_people else _as_it_is
    besides = Besides(view)
    with Progress("tests written") as progress:
        assessed = desk.assessed(run, paths, besides)
        first = next(assessed, None)
        if first is None:
            return []
        findings: list[Finding] = []
        not_run: list[RuleNotRun] = []
        exported: dict[str, Exported] = {}
        whole = progress.over(chain([first], assessed))
        entries = _closing(run, whole, about, findings, not_run, exported, without_people)
        shown = _shown(entries, on_entry, progress)
        delivery = Delivery(
            (view(one.assessment) for one in shown),
            *(about, run.problems, findings, not_run, schedule, scheme),
            people=people,
            asked=wanted,
            held=run.held,
            spread=partial(_spread, shown, besides, run),
            withdrawn=desk.withdrawn,
            recounts=desk.recounts if "since" in wanted else (),
            exported=exported,
        )
        _write(writer, delivery, target)
        return delivery.remarks


def _refuse_records(desk: Desk, to_format: str, without_people: bool) -> None:
    """Refuse to leave people out of records: their identity is the digest of all that they say."""
    if without_people and desk.registry.writer(to_format).writes_records:
        raise SweepbookError(
            f"{to_format} holds the records as they are, with everybody whom they name.",
            "Leave --without-people out, or write another format.",
        )


def _write(writer: Format, delivery: Delivery, target: Target) -> None:
    """Call a writer, which may be anybody's."""
    try:
        if isinstance(target, Path):
            assert writer.write is not None  # the registry gives only formats that can write
            writer.write(delivery, target)
        else:
            assert writer.write_url is not None  # it names schemes of URLs
            writer.write_url(delivery, target)
    except (SweepbookError, BrokenPipeError):
        raise
    except Exception as error:  # a plugin may raise anything
        if isinstance(error, OSError) and isinstance(target, Path):
            raise cannot_write(target, error) from error
        if os.environ.get(STRICT) == "1":
            raise
        what = told(error)
        raise PluginCrash(
            f"The writer {writer.name!r} crashed "
            f"({what if isinstance(target, Path) else target.without_secrets(what)}).",
            f"What was at {utf8_safe(str(target))} before is still there, unless the writer "
            f"changed it; set {STRICT}=1 to see where it crashed, and tell its author.",
        ) from error


def _as_it_is(assessment: Assessment) -> Assessment:
    return assessment


def _spread(
    shown: "Iterator[Assessed]", besides: Besides, run: "Run", work: Work[Result]
) -> Iterator[Result]:
    """Do a writer's work on each entry that comes without its result; workers do that on theirs."""
    besides.work = work
    for one in shown:
        if one.made:
            yield cast("Result", one.made[0])
        else:
            entry = besides.view(one.assessment)
            yield work(entry, partial(run.held, entry))


def _shown(
    entries: "Iterator[Assessed]", on_entry: Callable[[Assessment], None], progress: Progress
) -> "Iterator[Assessed]":
    for entry in entries:
        progress.wipe()
        try:
            on_entry(entry.assessment)
        except BrokenPipeError as error:
            raise PipeClosed from error  # else the writer would take it for its own file
        yield entry


def _closing(
    run: "Run",
    entries: "Iterator[Assessed]",
    about: About,
    findings: list[Finding],
    not_run: list[RuleNotRun],
    exported: dict[str, Exported],
    without_people: bool,
) -> "Iterator[Assessed]":
    """Pass the entries on, and complete what is known only after the last."""
    from sweepbook.audit import document

    yield from entries
    run.close()
    findings.extend(map(leave_out.unsigned, run.findings) if without_people else run.findings)
    not_run.extend(run.rules_not_run)
    exported.update(run.exported)
    for name, digest in document.digests(run).items():
        if isinstance(digest, dict):
            about.digests.update({f"limit table {path}": sha for path, sha in digest.items()})
        elif digest is not None:
            about.digests[name.replace("_", " ")] = digest


def _about(desk: Desk, title: str) -> About:
    """What stands on the about page; `digests` is completed at the end."""
    from sweepbook.audit import document

    asked = desk.asked
    return About(
        title=title,
        program=f"sweepbook {__version__}",
        decision_rule=document.DECISION_RULE,
        options={
            "against": desk.context.against or "the limit that each test states",
            "interpretation": ", ".join(asked.interpretations) or "as by default",
            **desk.context.options,
        },
        digests={},
        limits=desk.library,
        catalogue=desk.context.catalogue,
        interpretations=desk.context.settings.interpretations,
        job=desk.context.job,
        practice=desk.context.practice,
        accepts=desk.context.accepts(),
    )
