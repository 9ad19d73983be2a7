"""What holds for any values.

Monotone: with fail < undecided < pass, making losses greater, or insertion loss smaller by up to a
fifth, at any points never moves what is recomputed downwards. It holds through derived curves,
exclusions, relaxations and the trials of readings that are off.

Invariant: the end a sweep is told from, the order of sweeps, how a curve is split into sweeps, and
how a grid is written never change a figure.
"""

from dataclasses import replace
from functools import cache
from typing import Any

import numpy as np
from hypothesis import event, given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from sweepbook.judging.assessment import Assessment, Margin, Recomputed
from sweepbook.judging.judge import judge
from sweepbook.judging.settings import JudgeSettings
from sweepbook.limits.shapes import line
from sweepbook.record.model import Record

from .links import F64, ISO, TIA, grid, members, readings, scale, table
from .links import settings as judging

RANK = {Recomputed.FAIL: 0, Recomputed.UNDECIDED: 1, Recomputed.PASS: 2}
SEEDS = st.integers(0, 2**32 - 1)
ROOM = {"next": 2.5, "fext": 1.9, "return_loss": 0.0, "insertion_loss": 0.0}
"""Room in dB over the limit for the base level; crosstalk has to carry its power sums."""


@cache
def limit(parameter: str, path: str) -> F64:
    return line(table(path), parameter, grid(), readings()).value


def near_the_limits(seed: int, path: str, length: float) -> dict[str, Any]:
    """A link whose curves lie about the limits, a little above or below, with noise.

    Args:
        seed: of the noise and of the offset of each parameter.
        path: the limit table.
        length: insertion loss as a share of its limit.
    """
    rng = np.random.default_rng(seed)
    body = members()
    loss = limit("insertion_loss", path) * length
    offsets = {name: rng.uniform(-0.02, 0.4) for name in ROOM}
    for sweep in body["results"]["sweeps"]:
        name = sweep["parameter"]
        if name == "insertion_loss":
            values = loss * (1.0 + 0.012 * rng.uniform(-1, 1))
        else:
            base = limit("acr_f" if name == "fext" else name, path)
            values = base + ROOM[name] + offsets[name] + rng.exponential(0.2, grid().size)
            values = values + loss if name == "fext" else values
        sweep["value_db"] = values.round(2)
    scale(body, length)
    return body


def improved(body: dict[str, Any], seed: int) -> dict[str, Any]:
    """The same with some curves better at some points."""
    rng = np.random.default_rng(seed)
    sweeps = []
    for sweep in body["results"]["sweeps"]:
        gain = rng.exponential(0.5, grid().size) * (rng.random(grid().size) < rng.random())
        chosen = gain * (rng.random() < 0.5)
        if sweep["parameter"] == "insertion_loss":  # no better than cables can be
            chosen = -np.minimum(chosen, 0.2 * sweep["value_db"])
        sweeps.append({**sweep, "value_db": (sweep["value_db"] + chosen).round(2)})
    return {**body, "results": {**body["results"], "sweeps": sweeps}}


def assess(body: dict[str, Any], path: str, chosen: JudgeSettings) -> Assessment:
    return judge(Record.of({"kind": "balanced-link", **body}), table(path), chosen)


@settings(max_examples=80, deadline=None)
@given(
    SEEDS,
    SEEDS,
    st.sampled_from([TIA, ISO]),
    st.sampled_from([0.05, 0.1, 0.3, 0.6, 0.99]),
    st.sampled_from([None, *readings().ids()]),
)
def test_better_values_never_make_it_worse(
    seed: int, gain: int, path: str, length: float, reading: str | None
) -> None:
    chosen = judging()
    if reading is not None:
        chosen = replace(chosen, interpretations=readings().with_(reading))
    body = near_the_limits(seed, path, length)
    before = assess(body, path, chosen).recomputed
    after = assess(improved(body, gain), path, chosen).recomputed
    event(f"{before} to {after}")
    assert RANK[after] >= RANK[before]


def test_the_links_of_that_property_are_of_all_three_kinds() -> None:
    """Otherwise the property above would say nothing."""
    seen = {
        assess(near_the_limits(seed, TIA, length), TIA, judging()).recomputed
        for seed in range(12)
        for length in (0.3, 0.99)
    }
    assert seen == set(Recomputed)


def same(one: Assessment, two: Assessment) -> None:
    def order(margin: Margin) -> tuple[str, ...]:
        return (margin.parameter, str(margin.end), *margin.pairs)

    assert sorted(one.margins, key=order) == sorted(two.margins, key=order)
    assert (one.recomputed, one.grade) == (two.recomputed, two.grade)
    assert set(one.scalars) == set(two.scalars)


@settings(max_examples=20, deadline=None)
@given(SEEDS, st.sampled_from([TIA, ISO]))
def test_the_end_that_a_sweep_is_told_from_does_not_matter(seed: int, path: str) -> None:
    body = near_the_limits(seed, path, 0.6)
    turned = assess(reordered(body, np.arange(grid().size)[::-1]), path, judging())
    same(assess(body, path, judging()), turned)


@settings(max_examples=20, deadline=None)
@given(SEEDS, st.sampled_from([TIA, ISO]))
def test_shuffled_points_prove_nothing_and_change_no_margin(seed: int, path: str) -> None:
    body = near_the_limits(seed, path, 0.6)
    shuffle = np.random.default_rng(seed).permutation(grid().size)
    straight = assess(body, path, judging())
    shuffled = assess(reordered(body, shuffle), path, judging())
    assert shuffled.recomputed is Recomputed.UNDECIDED
    worst = [
        {(one.parameter, one.end, one.pairs): one.worst_margin_db for one in of.margins}
        for of in (straight, shuffled)
    ]
    assert worst[0] == worst[1]


def reordered(body: dict[str, Any], order: NDArray[np.intp]) -> dict[str, Any]:
    """The same points in another order."""
    results = {
        **body["results"],
        "grids": [{"id": "g", "frequency_mhz": grid()[order]}],
        "sweeps": [
            {**sweep, "value_db": sweep["value_db"][order]} for sweep in body["results"]["sweeps"]
        ],
    }
    return {**body, "results": results}


@settings(max_examples=20, deadline=None)
@given(SEEDS, st.sampled_from([TIA, ISO]))
def test_how_a_curve_is_split_into_sweeps_does_not_matter(seed: int, path: str) -> None:
    rng = np.random.default_rng(seed)
    body = near_the_limits(seed, path, 0.6)
    owner = rng.integers(0, 3, grid().size)
    parts = [owner == part for part in range(3)]
    sweeps = [
        {**sweep, "grid": f"g{part}", "value_db": sweep["value_db"][mine]}
        for sweep in body["results"]["sweeps"]
        for part, mine in enumerate(parts)
    ]
    results = {
        **body["results"],
        "grids": [
            {"id": f"g{part}", "frequency_mhz": grid()[mine]} for part, mine in enumerate(parts)
        ],
        "sweeps": [sweeps[place] for place in rng.permutation(len(sweeps))],
    }
    split = assess({**body, "results": results}, path, judging())
    same(assess(body, path, judging()), split)


def test_how_a_grid_is_written_does_not_matter() -> None:
    body = near_the_limits(1, TIA, 0.6)
    runs = [
        {"start": "1", "step": "0.15", "count": 202},
        {"start": "31.25", "step": "0.25", "count": 275},
        {"start": "100", "step": "0.5", "count": 300},
        {"start": "250", "step": "1", "count": 251},
    ]
    results = {**body["results"], "grids": [{"id": "g", "runs": runs}]}
    same(assess(body, TIA, judging()), assess({**body, "results": results}, TIA, judging()))


SPARE = 201
"""31.15 MHz: without it the step from 31 to 31.25 MHz is one that is allowed all the same."""


@settings(max_examples=20, deadline=None)
@given(SEEDS, st.integers(0, 35), st.integers(0, 1027).filter(lambda place: place != SPARE))
def test_a_point_less_never_makes_a_pass(seed: int, which: int, place: int) -> None:
    """Leaving a point out of a curve on the least dense grid allowed proves less, never more."""
    body = near_the_limits(seed, TIA, 0.6)
    before = assess(body, TIA, judging())
    sweeps = list(body["results"]["sweeps"])
    sweeps[which] = {
        **sweeps[which],
        "gaps": [{"from": place, "to": place, "reason": "missing"}],
        "value_db": np.delete(sweeps[which]["value_db"], place),
    }
    after = assess({**body, "results": {**body["results"], "sweeps": sweeps}}, TIA, judging())
    event(f"{before.recomputed} to {after.recomputed}")
    assert after.recomputed is not Recomputed.PASS
    if before.recomputed is not Recomputed.FAIL:
        assert after.recomputed is Recomputed.UNDECIDED


@settings(max_examples=20, deadline=None)
@given(SEEDS, st.integers(0, 35), st.integers(0, 1))
def test_fewer_digits_never_turn_pass_into_fail_or_back(seed: int, which: int, digits: int) -> None:
    """Rounding a curve may leave it open; it never proves the contrary of what was proved."""
    body = near_the_limits(seed, TIA, 0.6)
    before = assess(body, TIA, judging())
    sweeps = list(body["results"]["sweeps"])
    values = sweeps[which]["value_db"].round(digits)
    sweeps[which] = {**sweeps[which], "decimals": digits, "value_db": values}
    after = assess({**body, "results": {**body["results"], "sweeps": sweeps}}, TIA, judging())
    event(f"{before.recomputed} to {after.recomputed}")
    assert {before.recomputed, after.recomputed} != {Recomputed.PASS, Recomputed.FAIL}
