"""A value that was clipped is told as the least that it may be, and so is a sum made from it."""

from typing import Any

from sweepbook.explain import sources
from sweepbook.judging.curves import Key
from tests.judging.links import find, judged


def test_a_clipped_value_and_a_power_sum_of_it_are_told_as_the_least() -> None:
    """100 dB at 1 MHz, given as "at least" for one combination of the near end."""

    def clipped(body: dict[str, Any]) -> None:
        one = find(body, "next", "near", "1-2", "3-6")
        one["bounds"] = [{"from": 0, "to": 0, "bound": "at_least"}]

    _, working = judged(clipped)
    key = Key("next", "near", ("1-2", "3-6"))
    assert sources.at_least(working, key, 1.0)
    assert not sources.at_least(working, key, 1.15)
    assert not sources.at_least(working, key._replace(end="far"), 1.0)
    for pair, said in (("1-2", True), ("3-6", True), ("4-5", False)):
        (*_, last) = sources.way(working, Key("psnext", "near", (pair,)), 1.0)
        assert last.endswith("dB at least, since a part is clipped") is said
