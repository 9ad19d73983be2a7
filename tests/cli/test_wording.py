"""Counts in words: links of a schedule."""

from sweepbook.cli.wording import scheduled
from sweepbook.schedule.standing import State


def test_what_is_not_on_a_schedule_is_counted_apart_from_what_is() -> None:
    counts = {State.PASSED: 10, State.UNTESTED: 16, State.FAILED: 0, State.NOT_SCHEDULED: 2}
    said = scheduled(counts)
    assert said == "26 links on the schedule: 10 passed, 16 untested; besides, 2 links not on it"
    assert scheduled({State.PASSED: 1}) == "1 link on the schedule: 1 passed"
