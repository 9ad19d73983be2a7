"""What several sources make of one place: they add to each other, and never mix two places."""

import pytest

from sweepbook.schedule.model import End
from sweepbook.schedule.place import apart, joined


@pytest.mark.parametrize(
    ("places", "whole"),
    [
        ([], {}),
        ([{}, {"floor": "1"}], {"floor": "1"}),
        ([{"floor": "1"}, {"site": "S", "floor": "1", "space": "A"}],
         {"site": "S", "floor": "1", "space": "A"}),
        ([{"space": "tr-1"}, {"space": "TR-1", "panel": "P"}], {"space": "tr-1", "panel": "P"}),
        ([{"floor": "1"}, {"floor": "2", "space": "B"}, {"panel": "P"}],
         {"floor": "1", "panel": "P"}),
    ],
)  # fmt: skip
def test_places_are_joined(places: list[dict[str, str]], whole: dict[str, str]) -> None:
    assert joined(places) == whole
    assert list(joined(places)) == list(whole)


def test_ends_differ_in_levels_and_termination() -> None:
    one = End({"building": "Hall", "floor": "1"}, "K1-01")
    assert apart(one, End({"building": "HALL", "space": "A"}, "k1-01")) == ()
    assert apart(one, End({"floor": "2"}, "K1-1")) == ("floor", "termination")
    assert apart(one, End()) == ()
