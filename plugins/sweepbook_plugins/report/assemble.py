"""The page from top to bottom: the job, then each link with the sheets of its tests."""

from collections import Counter
from dataclasses import replace
from typing import IO, TYPE_CHECKING, Any

from sweepbook import clock
from sweepbook.findings import OfTests, of_tests
from sweepbook.judging.assessment import Judgement, Recomputed
from sweepbook.retests.suspect import words
from sweepbook.schedule.reconcile import Item, Reconciliation, reconcile
from sweepbook.schedule.standing import State
from sweepbook_plugins.report import render
from sweepbook_plugins.report.links import Link, links, worst_first

if TYPE_CHECKING:
    from sweepbook.delivery import Delivery
    from sweepbook_plugins.report.job import Job
    from sweepbook_plugins.report.spool import Spool

_VERDICTS = ("pass", "pass*", "fail*", "fail", "none")


def assemble(delivery: "Delivery", job: "Job", spool: "Spool", page: IO[bytes]) -> None:
    """Write the page.

    Args:
        delivery: whose entries have been walked.
        job: what was kept of them.
        spool: with the sheets of the tests.
        page: open for writing.
    """
    _complete(job, of_tests(delivery.findings, delivery.exported))
    held = _held(delivery, job)
    found = links(job.tests, delivery.about.limits, held, delivery.about.job.site)
    for part in render.template("page.html").generate(**_of_job(delivery, job, found, held)):
        page.write(part.encode("utf-8"))
    heading = render.template("link.html")
    for link in found:
        page.write(heading.render(link=link).encode("utf-8"))
        for number, _ in link.tests:
            page.write(b'<article class="test" id="test-%d">\n' % number)
            spool.copy(job.sheets[number - 1], page)
            page.write(b"</article>")
        page.write(b"</section>\n")
    page.write(render.template("end.html").render(script=render.script()).encode("utf-8"))


def _complete(job: "Job", known: OfTests) -> None:
    """Put down what is known of single tests only after all of them."""
    for number, test in enumerate(job.tests):
        if test.one and known.tells_of(test.record_id):
            job.tests[number] = replace(test, one=test.one.with_the_rest(known))
    for test, units in zip(job.tests, job.units, strict=True):
        if test.record_id not in known.exported:
            job.fleet.add(units)


def _held(delivery: "Delivery", job: "Job") -> Reconciliation | None:
    """The tests held against the schedule; None without one."""
    if delivery.schedule is None:
        return None
    attempts = (test.one.test for test in job.tests if test.one)
    about = delivery.about
    return reconcile(
        delivery.schedule, attempts, about.limits, delivery.scheme, about.job.site, about.accepts
    )


def _of_job(
    delivery: "Delivery", job: "Job", found: tuple[Link, ...], held: Reconciliation | None
) -> dict[str, Any]:
    """What the templates of the job show."""
    about = delivery.about
    bad = worst_first(found)
    of_test = {number: link.anchor for link in found for number, _ in link.tests}
    everywhere = [one.rule for one in job.findings if one.of_all(len(job.tests))]
    style = render.style() + render.unprinted(everywhere)
    return {
        "style": style,
        "style_digest": render.digest(style),
        "everywhere": everywhere,
        "script_digest": render.digest(render.script()),
        "about": about,
        "written": clock.now(),
        "job": job,
        "links": bad,
        "worst": bad[0] if bad else None,
        "states": Counter(link.state for link in found),
        "open": [link for link in found if link.open],
        "suspected": words,
        "held": held,
        "asked": Counter(item.asked for item in held.items if item.scheduled) if held else {},
        "tested_to": Counter((test.limit, test.limit_stated) for test in job.counting),
        "pending": _pending(held, found) if held else (),
        "stand": held.counts_let_stand() if held else {},
        "verdicts": _verdicts(job),
        "judgements": list(Judgement),
        "of_test": of_test,
        "readings": _readings(delivery),
        "tables": [
            about.limits.table(path)
            for path in about.limits.paths()
            if f"limit table {path}" in about.digests
        ],
        "problems": delivery.problems,
        "units": sorted(job.fleet.records.items()),
        "apart": [one for one in job.fleet.compared() if one.apart],
        "silent": sorted(job.findings.not_run.items()),
    }


def _pending(held: Reconciliation, found: tuple[Link, ...]) -> list[tuple[State, list[Item]]]:
    """What is open by the schedule and not on the retest list, by state in the order of states."""
    listed = {id(link.item) for link in found if link.open}
    items = [item for item in held.open if id(item) not in listed]
    by_state = ((state, [x for x in items if x.state is state]) for state in State)
    return [(state, items) for state, items in by_state if items]


def _verdicts(job: "Job") -> list[tuple[str, Counter[str], Counter[str]]]:
    """For each stated verdict that there is: what the sweeps say, and what becomes of it."""
    said = [
        (
            verdict,
            Counter(test.recomputed for test in job.counting if test.stated == verdict),
            Counter(test.judgement for test in job.counting if test.stated == verdict),
        )
        for verdict in _VERDICTS
    ]
    assert len(Recomputed) == 3  # the template has a column for each
    return [one for one in said if one[1].total()]


def _readings(delivery: "Delivery") -> list[tuple[Any, bool]]:
    """The disputed readings of the standards, and whether each was on."""
    chosen = delivery.about.interpretations
    return [(chosen.entry(name), chosen.on(name)) for name in chosen.ids()] if chosen else []
