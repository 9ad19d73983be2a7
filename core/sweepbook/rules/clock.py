"""Rules about the times of one test: there, possible, and in order."""

from collections.abc import Iterator
from datetime import timedelta

from sweepbook.rules.case import Case
from sweepbook.rules.model import Hit
from sweepbook.rules.times import Moment, days_between, moment

STARTED, ENDED = "$.test.started", "$.test.ended"
DAY_S = timedelta(days=1).total_seconds()


def time_is_there(case: Case) -> Iterator[Hit]:
    """Yield a record that does not say when the test was made."""
    if _moment(case, "started") is None:
        yield Hit(STARTED if "started" in case.document["test"] else "$.test", {})


def end_follows_the_start(case: Case) -> Iterator[Hit]:
    """Yield a test that surely ended before it began."""
    started, ended = _moment(case, "started"), _moment(case, "ended")
    if started and ended and days_between(started, ended)[1] < 0.0:
        yield Hit(ENDED, {"started": started.text, "ended": ended.text})


def duration_is_possible(case: Case) -> Iterator[Hit]:
    """Yield a test that was over sooner than sweeps from both ends can be.

    Only where both times were taken to the second: two full minutes may be two rounded ones.
    """
    started, ended = _moment(case, "started"), _moment(case, "ended")
    if not started or not ended or not (started.clock.second or ended.clock.second):
        return
    least, most = (days * DAY_S for days in days_between(started, ended))
    shortest_s = case.practice.value("shortest_sweep_s")
    if least >= 0.0 and most < shortest_s:
        yield Hit(ENDED, {"seconds": round(most, 3), "shortest_s": shortest_s})


def reading_follows_the_test(case: Case) -> Iterator[Hit]:
    """Yield a test that surely began after its export was read."""
    started = _moment(case, "started")
    text = case.document.get("provenance", {}).get("read_at")
    read = moment({"rfc3339": text}) if text else None
    if started and read and days_between(started, read)[1] < 0.0:
        yield Hit(STARTED, {"started": started.text, "read_at": read.text})


def limit_was_published(case: Case) -> Iterator[Hit]:
    """Yield a test made in an earlier year than the edition of its limit was published."""
    started, table = _moment(case, "started"), case.stated_limit.table
    if started and table and started.date.year < table.published_year:
        said = {"started": started.text, "limit": table.path, "year": table.published_year}
        yield Hit(STARTED, said)


def _moment(case: Case, name: str) -> Moment | None:
    return moment(case.document["test"].get(name))
