"""The part shown for a whole record: of a fail the one that fails, never a margin that is good."""

import math
from random import Random
from typing import Any

import numpy as np
import pytest

from sweepbook.judging.assessment import Margin, ScalarMargin
from sweepbook.judging.overview import deciding, worst_margin

from .links import PAIRS, Change, grid, judged, put, scalar
from .test_scalars import delays, figures


def shown(*changes: Change) -> tuple[str, float | None, str]:
    found, _ = judged(*changes)
    part = deciding(found.margins, found.scalars)
    assert part is not None
    margin = part.worst_margin_db if isinstance(part, Margin) else part.margin
    return part.parameter, margin, part.unit


def test_of_a_pass_the_nearest_curve_in_db() -> None:
    parameter, margin, unit = shown()
    assert (parameter, unit) == ("insertion_loss", "dB")
    assert margin is not None
    assert margin > 0.0


def test_of_a_fail_by_delay_the_delay() -> None:
    assert shown(delays(520, 490, 491, 492)) == ("propagation_delay", -22.0, "ns")


def test_of_several_fails_the_curve_first_and_the_wire_map_before_it() -> None:
    long = delays(520, 490, 491, 492)
    near = put("next", "near", ("1-2", "3-6"), 100.0, 20.0)
    assert shown(long, near)[0] in ("next", "psnext")

    def open_pin(body: dict[str, Any]) -> None:
        body["results"]["wire_map"]["pins"][0][1] = None

    assert shown(long, near, open_pin)[::2] == ("wire_map", "faults")


def swept(body: dict[str, Any]) -> None:
    """Delays over frequency, one of them too long at 10 MHz."""
    figures("propagation_delay")(body)
    figures("length", *(scalar("length", pair, length_m=98.0, decimals=1) for pair in PAIRS))(body)
    results = body["results"]
    results["grids"].append({"id": "t", "frequency_mhz": np.append(grid(), 10.0)})
    results["grids"][-1]["frequency_mhz"].sort()
    for pair in PAIRS:
        head = {"parameter": "propagation_delay", "pairs": [pair], "grid": "t", "decimals": 0}
        values = np.full(grid().size + 1, 520.0 if pair == "1-2" else 490.0)
        results["sweeps"].append({**head, "delay_ns": values})


def test_a_swept_delay_has_its_unit() -> None:
    found, _ = judged(swept)
    one = next(
        m for m in found.margins if (m.parameter, m.pairs) == ("propagation_delay", ("1-2",))
    )
    assert (one.unit, one.worst_margin_db) == ("ns", -22.0)
    assert shown(swept) == ("propagation_delay", -22.0, "ns")


@pytest.mark.parametrize(("ns", "judged_as"), [(490, "pass"), (520, "fail")])
def test_a_delay_that_names_no_frequency_is_said_to_be_judged_at_10_mhz(
    ns: int, judged_as: str
) -> None:
    found, _ = judged(delays(ns, 490, 491, 492))
    assert found.recomputed == judged_as
    assert "judged at 10 MHz, since it names no frequency" in found.reason
    with_frequency, _ = judged(delays(ns, 490, 491, 492, frequency_mhz=10))
    assert with_frequency.recomputed == judged_as
    assert "names no frequency" not in with_frequency.reason
    delay = next(s for s in found.scalars if s.parameter == "propagation_delay")
    assert isinstance(delay, ScalarMargin)


def test_the_worst_of_many_curves_is_the_smallest_required_one_in_db() -> None:
    """Against the words of the docstring, taken one after another."""
    dice = Random(7)
    sample = judged()[0].margins[0]
    kinds = set()
    for _ in range(300):
        margins = [
            sample._replace(
                parameter=dice.choice(("next", "propagation_delay")),
                obligation=dice.choice(("required", "informative")),
                worst_margin_db=dice.choice((None, math.inf, 1.0, -2.0, dice.gauss(0, 3))),
            )
            for _ in range(dice.randrange(6))
        ]
        known = [m for m in margins if m.worst_margin_db is not None and m.parameter == "next"]
        among = [margin for margin in known if margin.obligation == "required"] or known
        least = min((margin.worst_margin_db or 0.0 for margin in among), default=None)
        found = worst_margin(margins)
        wanted = next((margin for margin in among if margin.worst_margin_db == least), None)
        assert found is wanted
        kinds.add((len(known) > 0, among is known, least == math.inf))
    assert len(kinds) > 3
