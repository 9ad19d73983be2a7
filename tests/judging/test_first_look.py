"""What is looked at first never changes what is found.

A record is judged twice: as it is, and with every first look told to see nothing, so that each
curve is looked at point by point. Both have to say the same, whatever is wrong with the record.
"""

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import event, given, settings
from hypothesis import strategies as st

from sweepbook.judging import placeholders, settle, signs, trials, twin_rows, twins, worst
from sweepbook.judging.assessment import Assessment
from sweepbook.judging.bands import MOST_ABOVE, MOST_BELOW
from sweepbook.judging.curves import Curves, Key
from sweepbook.judging.judge import judge_with_working
from sweepbook.judging.settings import JudgeSettings
from sweepbook.judging.working import Working
from sweepbook.record.model import Record

from .links import F64, ISO, TIA, readings, table
from .links import settings as judging
from .test_properties import near_the_limits

Body = dict[str, Any]
Odd = Callable[[Body, np.random.Generator], None]
SEEDS = st.integers(0, 2**32 - 1)


def some(body: Body, random: np.random.Generator) -> dict[str, Any]:
    sweep: dict[str, Any] = body["results"]["sweeps"][
        random.integers(len(body["results"]["sweeps"]))
    ]
    sweep["value_db"] = sweep["value_db"].copy()
    return sweep


def clipped(body: Body, random: np.random.Generator) -> None:
    sweep = some(body, random)
    if "gaps" in sweep:
        return
    first, many = random.integers(sweep["value_db"].size - 60), random.choice([1, 5, 60])
    word = str(random.choice(["at_least", "at_most"]))
    sweep["bounds"] = [{"from": int(first), "to": int(first + many), "bound": word}]
    if random.random() < 0.5:
        ends = {"at_least": sweep["value_db"].max(), "at_most": sweep["value_db"].min()}
        sweep["value_db"][first : first + many + 1] = ends[word]


def gap(body: Body, random: np.random.Generator) -> None:
    sweep = some(body, random)
    if "gaps" in sweep or "bounds" in sweep:
        return
    first, many = random.integers(sweep["value_db"].size - 60), random.choice([1, 5, 60])
    sweep["value_db"] = np.delete(sweep["value_db"], np.s_[first : first + many])
    sweep["gaps"] = [{"from": int(first), "to": int(first + many - 1), "reason": "missing"}]


def stand_ins(body: Body, random: np.random.Generator) -> None:
    values = some(body, random)["value_db"]
    many = random.choice([1, 2, 4, 9])
    figures = [0.0, 99.99, -99.0, values.max() + 31.0]  # 30 dB from what lies beside it and more
    values[random.choice(values.size, many, replace=False)] = random.choice(figures)


def lost_mark(body: Body, random: np.random.Generator) -> None:
    values = some(body, random)["value_db"]
    values[random.integers(values.size)] *= random.choice([10.0, 100.0, 0.1])


def level(body: Body, random: np.random.Generator) -> None:
    values = some(body, random)["value_db"]
    start = random.choice([0, values.size // 2, values.size - 30])
    values[start:] = values[start]


def twin(body: Body, random: np.random.Generator) -> None:
    one, other = some(body, random), some(body, random)
    if one["value_db"].size == other["value_db"].size:
        values = one["value_db"] + random.choice([0.0, 0.02, 0.04])
        changed = random.choice(values.size, random.choice([0, 3, 45, 60]), replace=False)
        values[changed] += 1.0
        other["value_db"] = values


def signs_turned(body: Body, random: np.random.Generator) -> None:
    sweep = some(body, random)
    sweep["value_db"] = -sweep["value_db"]
    sweep["value_db"][: random.choice([0, 0, 1])] = 1.0


def digits(body: Body, random: np.random.Generator) -> None:
    for sweep in body["results"]["sweeps"]:
        sweep["decimals"] = int(random.integers(0, 4))


def beyond(body: Body, random: np.random.Generator) -> None:
    sweep = some(body, random)
    sweep["value_db"] = sweep["value_db"] * random.choice([10.0, 1e-3, 1e300])


ODDITIES: dict[Odd, set[str]] = {
    clipped: {"contradiction"},
    gap: set(),
    stand_ins: {"contradiction"},
    lost_mark: {"contradiction"},
    level: {"flat"},
    twin: {"copy"},
    signs_turned: {"impossible"},
    digits: set(),
    beyond: {"contradiction"},
}
"""Ways to be odd, and what each makes doubtful at times: else the property would say nothing."""
ODD = tuple(ODDITIES)


@contextmanager
def looking_at_everything() -> Iterator[None]:
    """Every first look sees nothing."""

    def rows(curves: Curves, *_: object) -> list[int]:
        return list(range(len(curves.keys)))

    def pairs(_values: object, found: Sequence[Any], *_: object) -> dict[int, list[int]]:
        def apart(one: int, other: int) -> bool:
            keys: list[Key] = [found[one], found[other]]
            names = {key.parameter for key in keys}
            one_group = len(names) == 1 or not names & set(twin_rows.STEADY)
            return one_group and not twin_rows._reciprocal(*keys)

        count = len(found)
        every = {one: [o for o in range(one + 1, count) if apart(one, o)] for one in range(count)}
        return {one: others for one, others in every.items() if others}

    def reach(stack: worst._Stack) -> F64:
        found = honest(stack).copy()
        found[[MOST_BELOW, MOST_ABOVE]] = np.inf
        return found

    honest = worst._Stack._reach
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Curves, "whole", property(lambda _: False))
        patch.setattr(Curves, "ends_in", lambda *_: None)
        patch.setattr(Curves, "clipped", property(lambda _: True))
        patch.setattr(signs, "_seen_above", lambda _: False)
        patch.setattr(placeholders, "_with_level", rows)
        patch.setattr(placeholders, "_with_steps", rows)
        patch.setattr(twins, "candidates", pairs)
        patch.setattr(settle, "_surely_meet", lambda *_: False)
        patch.setattr(trials, "_harmless", lambda *_: False)
        patch.setattr(trials, "_touched", lambda table, *_: frozenset(table.parameters))
        patch.setattr(worst._Stack, "_reach", reach)
        yield


def facts(working: Working) -> dict[str, Any]:
    names = ("lacks", "doubts", "disagreements", "stated_figures", "asterisk", "trials", "unread")
    return {name: getattr(working, name) for name in names}


def both(body: Body, path: str, chosen: JudgeSettings) -> tuple[Assessment, Working]:
    """Judge both ways, and hold the one to the other."""
    record = Record.of({"kind": "balanced-link", **body})
    quick, how = judge_with_working(record, table(path), chosen)
    with looking_at_everything():
        whole, slowly = judge_with_working(record, table(path), chosen)
    assert facts(how) == facts(slowly)
    assert quick == whole
    return quick, how


@settings(max_examples=20, deadline=None)
@given(
    SEEDS,
    st.sampled_from([TIA, ISO]),
    st.sampled_from([0.1, 0.6, 0.99]),
    st.lists(st.sampled_from(ODD), min_size=1, max_size=4),
    st.sampled_from([None, *readings().ids()]),
)
def test_a_first_look_changes_nothing(
    seed: int, path: str, length: float, odd: list[Odd], reading: str | None
) -> None:
    random = np.random.default_rng(seed)
    body = near_the_limits(seed, path, length)
    for change in odd:
        change(body, random)
    chosen = judging()
    if reading is not None:
        chosen = replace(chosen, interpretations=readings().with_(reading))
    quick, how = both(body, path, chosen)
    event(f"{quick.recomputed}, {'doubted' if how.doubts else 'not doubted'}")


@pytest.mark.parametrize("change", ODD, ids=lambda change: change.__name__)
def test_nor_does_it_for_any_one_oddity(change: Odd) -> None:
    seen: set[str] = set()
    for seed in range(10):
        random = np.random.default_rng(seed)
        body = near_the_limits(seed, TIA, 0.6)
        change(body, random)
        change(body, random)
        seen |= {doubt.kind.value for doubt in both(body, TIA, judging())[1].doubts}
    assert seen >= ODDITIES[change]


@given(SEEDS, st.lists(st.sampled_from(ODD), max_size=4))
@settings(max_examples=12, deadline=None)
def test_ends_at_some_points_are_those_of_all(seed: int, odd: list[Odd]) -> None:
    random = np.random.default_rng(seed)
    body = near_the_limits(seed, TIA, 0.6)
    for change in odd:
        change(body, random)
    record = Record.of({"kind": "balanced-link", **body})
    working = judge_with_working(record, table(), judging())[1]
    for curves in working.judged_curves.values():
        rows = random.integers(len(curves.keys), size=50)
        columns = random.integers(curves.frequency_mhz.size, size=50)
        with np.errstate(all="ignore"):
            low, high = curves.band.at(curves.value, rows, columns)
            below, above = curves.value - curves.low, curves.high - curves.value
            least_below, most_below, least_above, most_above = curves.reach[:, :, None]
        assert np.array_equal(low, curves.low[rows, columns], equal_nan=True)
        assert np.array_equal(high, curves.high[rows, columns], equal_nan=True)
        room = 1e-9 * (1.0 + np.abs(curves.value))
        assert not ((below < least_below - room) | (below > most_below + room)).any()
        assert not ((above < least_above - room) | (above > most_above + room)).any()
