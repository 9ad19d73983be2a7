"""Counts and figures in words: links of a schedule, margins."""

import pytest

from sweepbook.cli.wording import margin as as_told
from sweepbook.cli.wording import scheduled
from sweepbook.judging import phrases
from sweepbook.schedule.standing import State


def test_what_is_not_on_a_schedule_is_counted_apart_from_what_is() -> None:
    counts = {State.PASSED: 10, State.UNTESTED: 16, State.FAILED: 0, State.NOT_SCHEDULED: 2}
    said = scheduled(counts)
    assert said == "26 links on the schedule: 10 passed, 16 untested; besides, 2 links not on it"
    assert scheduled({State.PASSED: 1}) == "1 link on the schedule: 1 passed"


@pytest.mark.parametrize(
    ("margin", "unit", "told"),
    [
        (-10.3, "dB", "-10.30 dB"),
        (-0.8714, "dB", "-0.87 dB"),
        (0.002, "dB", "+0.002 dB"),
        (211.0, "ns", "+211.00 ns"),
        (-0.5, "percent", "-0.50 %"),
        (-2.0, "faults", "-2"),
        (None, "dB", ""),
    ],
)
def test_margins_in_a_list_have_as_many_digits_as_in_a_sentence(
    margin: float | None, unit: str, told: str
) -> None:
    assert as_told(margin, unit) == told
    if margin is not None and unit in ("dB", "ns"):
        assert told.strip("+-") in phrases.distance(margin, 20.0, unit)
