"""What is found out about a book for its bag: the audit, the reconciliation, the report."""

import json
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from sweepbook import findings
from sweepbook.audit import document
from sweepbook.bag import layout
from sweepbook.book.layout import open_book
from sweepbook.book.plain_name import plain_name
from sweepbook.book.store import contents_of
from sweepbook.cli import lines, reconcile_lines
from sweepbook.cli.asked import Asked
from sweepbook.cli.decided import PROJECT
from sweepbook.cli.deliver import write_delivery
from sweepbook.cli.desk import Desk
from sweepbook.cli.planned import Planned, not_known
from sweepbook.cli.progress import Progress
from sweepbook.cli.wording import counted
from sweepbook.clock import now
from sweepbook.errors import PluginCrash
from sweepbook.judging.assessment import Assessment
from sweepbook.schedule import document as reconciliation
from sweepbook.schedule.attempt import Attempt, attempt_of, with_the_rest
from sweepbook.schedule.model import Schedule
from sweepbook.schedule.reconcile import reconcile

if TYPE_CHECKING:
    from sweepbook.audit.run import Run
    from sweepbook.schedule.label_scheme import LabelScheme

See = Callable[[Assessment], None]
Walk = Callable[["Run", See], None]
_REPORT = "report"
"""Name of the format that writes a page for people, put into a bag where it is at hand."""


@dataclass(frozen=True, slots=True)
class Archived:
    """What came of it.

    Attributes:
        tests: how many were judged.
        facts: for the README of the bag, by title.
        told: what could not be read, a line each.
        unread: whether something could not be.
        crashes: how many plugins crashed.
    """

    tests: int
    facts: Mapping[str, str]
    told: Sequence[str]
    unread: bool
    crashes: int


def project_file(asked: Asked, book: Path) -> Path | None:
    """The project file in force; None where there is none."""
    kept = book / PROJECT
    return asked.project or (kept if kept.is_file() else None)


def judged(
    desk: Desk,
    book: Path,
    root: Path,
    title: str,
    planned: Planned,
    *,
    without_people: bool = False,
) -> Archived:
    """Judge the tests of a book that lies in a bag, and write there what comes of it.

    Args:
        desk: the tools, for this book.
        book: the copy in the bag.
        root: the bag's folder.
        title: name of the book.
        planned: the schedule, if one was named.
        without_people: whether the page for people names nobody.

    Raises:
        SweepbookError: there is nothing in the book, or the schedule cannot be read.
        OSError: something cannot be written.
    """
    schedule, scheme = planned.read(desk), planned.scheme()
    walked, failed = None, ""
    if _REPORT in desk.registry.formats:
        try:
            page = _with_page(desk, book, root, title, schedule, scheme, without_people)
            walked = _walked(desk, book, root, page)
        except PluginCrash as error:
            failed = f"Warning: the bag has no page for people. {error.message}"
            (root / layout.REPORT).unlink(missing_ok=True)
    walked = walked or _walked(desk, book, root, _without_page(desk, book))
    run, attempts = walked
    told = [*([failed] if failed else []), *lines.of_problems(run.problems)]
    strange = not_known(schedule, desk)
    if schedule is not None:
        run.close()
        attempts = with_the_rest(attempts, findings.of_tests(run.findings, run.exported))
        site, accepts = desk.context.job.site, desk.context.accepts()
        result = reconcile(schedule, attempts, desk.library, scheme, site, accepts)
        found = reconciliation.of(result, run.problems, strange)
        text = json.dumps(found, ensure_ascii=False, indent=2) + "\n"
        (root / layout.RECONCILIATION).write_text(text, "utf-8")
        _keep(planned, root / layout.SCHEDULE)
        told += reconcile_lines.of_schedule(schedule, strange)
    unread = bool(run.problems or strange or (schedule and schedule.faults))
    facts = _facts(run, title, schedule, planned)
    crashes = desk.closing() + bool(failed)
    return Archived(run.counters.records, facts, told, unread, crashes)


def _walked(desk: Desk, book: Path, root: Path, walk: Walk) -> "tuple[Run, list[Attempt]]":
    """Judge every test of the book once and write the audit document.

    Raises:
        PluginCrash: who was handed the tests did not take them all.
    """
    run, attempts = desk.run(), list[Attempt]()
    with document.Writer(run) as audit:

        def see(entry: Assessment) -> None:
            audit.add(entry)
            attempts.append(attempt_of(entry))

        walk(run, see)
        if run.counters.records < len(contents_of(open_book(book)).entries()):
            raise PluginCrash("Its writer did not take all tests.", "Tell its author.")
        with (root / layout.AUDIT).open("wb") as stream:
            audit.write_to(stream)
    return run, attempts


def _with_page(
    desk: Desk,
    book: Path,
    root: Path,
    title: str,
    schedule: Schedule | None,
    scheme: "LabelScheme | None",
    without_people: bool,
) -> Walk:
    """Hand the tests to the writer of the page for people, and see each on its way."""

    def walk(run: "Run", see: See) -> None:
        page = root / layout.REPORT
        write_delivery(
            *(desk, run, [book], _REPORT, page, title, see, schedule, scheme, without_people)
        )

    return walk


def _without_page(desk: Desk, book: Path) -> Walk:
    def walk(run: "Run", see: See) -> None:
        with Progress("tests judged") as progress:
            for entry in progress.over(run.walk(desk.items([book]))):
                see(entry)

    return walk


def _keep(planned: Planned, folder: Path) -> None:
    """Put the schedule, and the label scheme, beside the evidence."""
    folder.mkdir()
    for file in planned.files():
        (folder / plain_name(file.name)).write_bytes(file.read_bytes())


def _facts(run: "Run", title: str, schedule: Schedule | None, planned: Planned) -> dict[str, str]:
    """What the README says of this bag."""
    tests = run.counters.of_tests()
    counts = [f"{count} {word.value}" for word, count in tests.judgements.items() if count]
    facts = {
        "Book": " ".join(title.split()),
        "Made": f"{now()[:10]} by {layout.PROGRAM}",
        "Tests": f"{tests.records}: {', '.join(counts) or 'none'}",
        "Limits used": "\n".join(sorted(run.tables)) or "none",
    }
    if run.counters.exports:
        facts["Other exports"] = f"{len(run.counters.exports)} records of tests that are counted"
    if gone := run.context.options.get("withdrawn"):
        facts["Withdrawn"] = gone
    if schedule is not None:
        facts["Schedule"] = f"{schedule.name}, {counted(len(schedule.links), 'link')}"
    if planned.columns:
        facts["Its columns"] = "\n".join(planned.columns)
    return facts
