"""A single reading that no link has there, as 61 for 6,1, proves nothing; nulls are left alone.

Held against chains of lines by first principles (`chain`) and against the demo's model of cables.
"""

from functools import cache
from typing import Any

import numpy as np
import pytest

from sweepbook.judging.assessment import Judgement, Outcome
from sweepbook.judging.lone import STEP_DB, lone_readings
from sweepbook.judging.measured import measured
from sweepbook.judging.working import DoubtKind
from sweepbook_demo.parts import JACK_6A, WEFT_6A
from sweepbook_demo.plant import CablePiece, solve

from .chain import as_read, chains, return_loss
from .links import F64, PAIRS, Change, at, find, grid, judged, margin, stating

RL = ("return_loss", "far", "4-5")
NEXT = ("next", "near", "1-2", "3-6")


@cache
def modelled(metres: float) -> dict[str, F64]:
    """Return loss and NEXT of a link of the demo's model, as read, in dB."""
    net = solve((JACK_6A, CablePiece(WEFT_6A, metres), JACK_6A), grid(), seed=7)
    random = np.random.default_rng(3)
    taken = {"return_loss": net.s22[:, 2, 2], "next": net.s11[:, 0, 1]}
    return {
        name: as_read(random, grid(), -20.0 * np.log10(np.abs(one)), 2)
        for name, one in taken.items()
    }


def failing(what: tuple[str, ...], metres: float, decimals: int) -> tuple[Change, int]:
    """A curve of the model that fails at one reading alone, and where that is.

    It is moved to pass by 0.1 dB, and its worst reading is 0.4 dB worse.
    """
    curve = modelled(metres)[what[0]]

    def as_modelled(body: dict[str, Any]) -> None:
        find(body, *what)["value_db"] = curve

    worst = margin(judged(as_modelled)[0], *what)
    assert worst.worst_margin_db is not None and worst.worst_margin_mhz is not None
    values, place = curve - worst.worst_margin_db + 0.1, at(worst.worst_margin_mhz)
    values[place] -= 0.4

    def change(body: dict[str, Any]) -> None:
        one = find(body, *what)
        one["value_db"], one["decimals"] = values.round(decimals), decimals

    return change, place


def changed(what: tuple[str, ...], place: int, times: float = 1.0, more: float = 0.0) -> Change:
    def change(body: dict[str, Any]) -> None:
        values = find(body, *what)["value_db"]
        values[place] = round(values[place] * times + more, 2)

    return change


@pytest.mark.parametrize("what", [RL, NEXT], ids=["return loss", "NEXT"])
@pytest.mark.parametrize("metres", [4.0, 30.0, 85.0])
@pytest.mark.parametrize("decimals", [1, 2])
@pytest.mark.parametrize("times", [10.0, 100.0])
def test_a_lost_mark_hides_no_fail(
    what: tuple[str, ...], metres: float, decimals: int, times: float
) -> None:
    bad, place = failing(what, metres, decimals)
    assert judged(bad)[0].judgement is Judgement.OVERTURNED
    found, working = judged(bad, changed(what, place, times))
    assert found.judgement is Judgement.UNPROVEN
    assert margin(found, *what).outcome is Outcome.UNDECIDED
    (doubt,) = working.doubts
    assert doubt.kind is DoubtKind.CONTRADICTION
    assert doubt.text in found.reason
    assert "its decimal mark seems to be lost, and" in doubt.text
    as_fail = judged(bad, changed(what, place, times), stating("fail"))[0]
    assert as_fail.judgement is Judgement.UNPROVEN


@pytest.mark.parametrize("what", [RL, NEXT], ids=["return loss", "NEXT"])
def test_nor_does_a_reading_that_is_too_good_by_whatever(what: tuple[str, ...]) -> None:
    bad, place = failing(what, 30.0, 2)
    found, working = judged(bad, changed(what, place, more=33.0))
    assert found.judgement is Judgement.UNPROVEN
    assert "decimal mark" not in working.doubts[0].text


def test_a_wandered_mark_makes_no_fail() -> None:
    """45.3 dB as 4.53."""
    good = modelled(30.0)["next"]

    def change(body: dict[str, Any]) -> None:
        find(body, *NEXT)["value_db"] = good + 5.0

    assert judged(change)[0].judgement is Judgement.UPHELD
    found, working = judged(change, changed(NEXT, at(200.0), 0.1))
    assert found.judgement is Judgement.UNPROVEN
    assert "its decimal mark seems to be lost" in working.doubts[0].text


def test_a_bad_reading_without_such_a_reason_stays_a_fail() -> None:
    """Half of it in dB: what is picked up from outside comes at single frequencies."""
    good = modelled(30.0)["next"]

    def change(body: dict[str, Any]) -> None:
        find(body, *NEXT)["value_db"] = good + 5.0

    found, working = judged(change, changed(NEXT, at(200.0), 0.5))
    assert found.judgement is Judgement.OVERTURNED
    assert working.doubts == ()


def test_it_hides_no_fail_beside_it() -> None:
    bad, place = failing(RL, 30.0, 2)
    again = changed(RL, place + 40, more=-9.0)
    assert judged(bad, changed(RL, place, 10.0), again)[0].judgement is Judgement.OVERTURNED


def told(mhz: F64, *curves: F64, parameter: str = "return_loss", **more: Any) -> list[int]:
    """At which points of some curves a reading is told to be none, those of all together."""
    sweeps = [
        {"parameter": parameter, "end": end, "pairs": [pair], "grid": "g", "value_db": values}
        | {"decimals": 2, **more}
        for values, (pair, end) in zip(curves, PLACES, strict=False)
    ]
    grids = [{"id": "g", "frequency_mhz": mhz}]
    read, unread = measured({"results": {"grids": grids, "sweeps": sweeps}})
    assert not unread
    found, doubts = lone_readings(read, None)
    curves_now = found[parameter]
    opened = np.argwhere(np.isinf(curves_now.low) & np.isinf(curves_now.high))
    assert len(opened) == len(doubts)
    return [int(column) for _, column in opened]


PLACES = [(pair, end) for end in ("near", "far") for pair in PAIRS]
COARSER = {"each": 1, "every third": 3, "every eighth": 8}
"""Up to 500 MHz 1028, 343 and 129 points."""


@pytest.mark.parametrize("step", COARSER.values(), ids=COARSER)
@pytest.mark.parametrize(("times", "decimals"), [(1.2, 2), (1.2, 1), (2.5, 2), (2.5, 1)])
def test_nulls_of_links_are_readings(step: int, times: float, decimals: int) -> None:
    """Up to 8 % of power comes back from each place with a factor of 1.2, 72 % with 2.5."""
    random = np.random.default_rng(step)
    mhz, nulls, links = grid()[::step], 0, chains(random, times)
    for _ in range(40):
        losses = [return_loss(mhz, next(links)) for _ in PLACES]
        curves = [as_read(random, mhz, one, decimals) for one in losses]
        assert told(mhz, *curves) == []
        nulls += sum(_stands_out(one) for one in curves)
    assert nulls >= 10  # else this would say nothing


def _stands_out(curve: F64) -> int:
    """How many readings lie so far above both beside them."""
    rise = np.diff(curve)
    return int(np.count_nonzero((rise[:-1] >= STEP_DB) & (rise[1:] <= -STEP_DB)))


@pytest.mark.parametrize(("step", "share"), [(1, 0.97), (3, 0.75)])
def test_marks_lost_at_the_worst_reading_are_told(step: int, share: float) -> None:
    random = np.random.default_rng(step)
    mhz, links, found = grid()[::step], chains(random, 1.2), 0
    for _ in range(200):
        curve = as_read(random, mhz, return_loss(mhz, next(links)), 1)
        worst = int(np.argmin(curve))
        curve[worst] *= 10.0
        places = told(mhz, curve, decimals=1)
        assert places in ([], [worst])
        found += places == [worst]
    assert found >= share * 200


def plain(decimals: int = 2, metres: float = 20.0) -> F64:
    """A curve that two reflections so far apart make."""
    both = [(0.04, 140.0), (metres, 100.0), (0.04, 140.0)]
    return return_loss(grid(), both).round(decimals)


@pytest.mark.parametrize("place", [1, 2, 201, 202, 500, -3, -2])
def test_it_is_told_near_either_end_and_where_steps_change(place: int) -> None:
    curve = plain()
    curve[place] *= 10.0
    assert told(grid(), curve) == [place % grid().size]


@pytest.mark.parametrize(("metres", "falls"), [(22.0, True), (20.0, False)])
def test_the_last_reading_is_told_where_the_curve_falls_to_it(metres: float, falls: bool) -> None:
    """Where it rises, a null may follow."""
    curve = plain(metres=metres)
    assert bool(curve[-1] < curve[-2] < curve[-3]) is falls
    curve[-1] *= 10.0
    assert told(grid(), curve) == [grid().size - 1] * falls


def test_a_curve_with_holes_is_looked_at_where_it_has_points() -> None:
    curve, gap = plain(), slice(300, 340)
    curve[200] *= 10.0
    gaps = [{"from": gap.start, "to": gap.stop - 1, "reason": "missing"}]
    assert told(grid(), np.delete(curve, gap), gaps=gaps) == [200]


def test_digits_of_a_whole_decibel_tell_nothing() -> None:
    curve = plain(1)
    curve[500] *= 10.0
    assert told(grid(), curve, decimals=1) == [500]
    assert told(grid(), curve.round(), decimals=0) == []


def test_nothing_is_told_beside_what_is_clipped() -> None:
    curve = plain()
    curve[500] *= 10.0
    for first, last, places in ((505, 505, []), (511, 520, [500]), (500, 500, [])):
        bounds = [{"from": first, "to": last, "bound": "at_least"}]
        assert told(grid(), curve, bounds=bounds) == places


def test_few_points_tell_nothing() -> None:
    curve = np.full(11, 12.0)
    curve[5] = 120.0
    assert told(np.arange(1.0, 12.0), curve) == []
    assert told(np.arange(1.0, 18.0), np.append(np.full(6, 12.0), curve)) == [11]


def test_an_insertion_loss_is_too_good_where_it_is_too_low() -> None:
    """The loss of 100 m of cable, 45.0 dB at most; that it is ever so high, notches make."""
    loss = (1.9 * np.sqrt(grid()) + 0.005 * grid()).round(2)
    for change, places in ((-33.0, [1000]), (33.0, []), (-0.9 * loss[1000], [1000])):
        curve = loss.copy()
        curve[1000] += change
        assert told(grid(), curve, parameter="insertion_loss") == places


def test_points_outside_the_range_of_the_limit_are_passed_over() -> None:
    def change(body: dict[str, Any]) -> None:
        body["results"]["grids"][0]["frequency_mhz"] = np.append(grid(), 501.0 + np.arange(20))
        for one in body["results"]["sweeps"]:
            one["value_db"] = np.append(one["value_db"], np.full(20, one["value_db"][-1]))
        find(body, *NEXT)["value_db"][-8] *= 10.0

    found, working = judged(change)
    assert working.doubts == ()
    assert found.judgement is Judgement.UPHELD
