"""From sweeps to matrices: digits, resolution, clipped values, gaps, complex data, split sweeps."""

from typing import Any

import numpy as np
import pytest
import skrf

from sweepbook.judging.curves import Curve, Curves, Key
from sweepbook.judging.measured import measured
from sweepbook.record.model import Record

from .links import ORDERS_DB

AXIS = [1.0, 2.0, 3.0, 4.0]


def read(*sweeps: dict[str, Any], grids: dict[str, list[float]] | None = None) -> Curves:
    """The curves of one parameter."""
    axes = grids or {"g": AXIS}
    document = {
        "kind": "balanced-link",
        "results": {
            "grids": [{"id": name, "frequency_mhz": axis} for name, axis in axes.items()],
            "sweeps": [{"grid": "g", "decimals": 1, **sweep} for sweep in sweeps],
        },
    }
    found, unread = measured(Record.of(document).document, ORDERS_DB)
    assert unread == {}
    (curves,) = found.values()
    return curves


def rl(pair: str = "1-2", **more: Any) -> dict[str, Any]:
    return {"parameter": "return_loss", "end": "near", "pairs": [pair], **more}


def only(*sweeps: dict[str, Any], grids: dict[str, list[float]] | None = None) -> Curve:
    return read(*sweeps, grids=grids).curve(0)


def test_half_the_last_digit_to_each_side() -> None:
    one = only(rl(value_db=[20.0, 21.0, 22.0, 23.0]))
    assert one.key == Key("return_loss", "near", ("1-2",))
    assert one.low.tolist() == pytest.approx([19.95, 20.95, 21.95, 22.95])
    assert one.high.tolist() == pytest.approx([20.05, 21.05, 22.05, 23.05])
    assert one.sweeps == (0,)


def test_a_resolution_goes_before_the_decimals() -> None:
    one = only(rl(value_db=[20.0, 21.0, 22.0, 23.0], resolution=0.5))
    assert one.low[0] == 19.75


def test_clipped_values_open_their_side() -> None:
    bounds = [
        {"from": 1, "to": 2, "bound": "at_least"},
        {"from": 3, "to": 3, "bound": "at_most"},
    ]
    one = only(rl(value_db=[20.0, 21.0, 22.0, 23.0], bounds=bounds))
    assert one.low.tolist() == pytest.approx([19.95, 20.95, 21.95, -np.inf])
    assert one.high.tolist() == pytest.approx([20.05, np.inf, np.inf, 23.05])


def test_gaps_and_bounds_count_grid_positions() -> None:
    one = only(
        rl(
            value_db=[20.0, 22.0, 23.0],
            gaps=[{"from": 1, "to": 1, "reason": "missing"}],
            bounds=[{"from": 3, "to": 3, "bound": "at_least"}],
        )
    )
    assert one.frequency_mhz.tolist() == [1.0, 3.0, 4.0]
    assert one.value.tolist() == [20.0, 22.0, 23.0]
    assert one.high.tolist() == pytest.approx([20.05, 22.05, np.inf])


def test_falling_frequencies_are_sorted_with_their_values() -> None:
    one = only(rl(value_db=[23.0, 20.0, 22.0, 21.0]), grids={"g": [4.0, 1.0, 3.0, 2.0]})
    assert one.frequency_mhz.tolist() == AXIS
    assert one.value.tolist() == [20.0, 21.0, 22.0, 23.0]
    assert not one.repeated


def test_a_curve_in_two_sweeps_is_one_curve() -> None:
    one = only(
        rl(value_db=[20.0, 21.0]),
        rl(value_db=[22.0, 23.0], grid="h"),
        grids={"g": [1.0, 2.0], "h": [3.0, 4.0]},
    )
    assert one.frequency_mhz.tolist() == AXIS
    assert one.value.tolist() == [20.0, 21.0, 22.0, 23.0]
    assert one.sweeps == (0, 1)
    assert not one.repeated


def test_parts_that_share_a_point_with_one_value_are_one_curve() -> None:
    grids = {"g": [1.0, 2.0], "h": [2.0, 3.0]}
    same = only(rl(value_db=[20.0, 21.0]), rl(value_db=[21.0, 23.0], grid="h"), grids=grids)
    other = only(rl(value_db=[20.0, 21.0]), rl(value_db=[21.5, 23.0], grid="h"), grids=grids)
    assert not same.repeated
    assert other.repeated


def test_two_values_for_one_frequency_are_their_hull() -> None:
    one = only(rl(value_db=[20.0, 25.0, 21.0]), grids={"g": [1.0, 2.0, 2.0]})
    assert one.repeated
    assert (one.value[1], one.low[1], one.high[1]) == pytest.approx((21.0, 20.95, 25.05))


def test_of_two_insertion_losses_the_greater_is_shown() -> None:
    il = {"parameter": "insertion_loss", "pairs": ["1-2"], "value_db": [1.0, 5.0, 4.0]}
    one = only(il, grids={"g": [1.0, 2.0, 2.0]})
    assert one.value[1] == 5.0


def test_complex_data_against_scikit_rf() -> None:
    """A loss is minus the dB of the magnitude, as scikit-rf has it."""
    rng = np.random.default_rng(3)
    s = rng.uniform(0.01, 0.9, 4) * np.exp(1j * rng.uniform(-3, 3, 4))
    network = skrf.Network(f=np.array(AXIS), s=s.reshape(4, 1, 1), f_unit="mhz")
    expected = -network.s_db[:, 0, 0]
    forms = [
        {"form": "real-imaginary", "real": s.real.tolist(), "imaginary": s.imag.tolist()},
        {
            "form": "magnitude-phase",
            "magnitude": np.abs(s).tolist(),
            "phase_deg": np.degrees(np.angle(s)).tolist(),
        },
        {
            "form": "db-phase",
            "magnitude_db": (20 * np.log10(np.abs(s))).tolist(),
            "phase_deg": np.degrees(np.angle(s)).tolist(),
        },
    ]
    for form in forms:
        one = only(rl(complex=form, decimals=4))
        assert one.value == pytest.approx(expected, abs=1e-9)
        assert ((one.low < one.value) & (one.value < one.high)).all()


def test_the_interval_of_a_complex_value_holds_every_reading_of_it() -> None:
    """0.10 and -0.20, both within 0.005: the corners of the square lie inside the interval."""
    one = only(
        rl(complex={"form": "real-imaginary", "real": [0.1], "imaginary": [-0.2]}, decimals=2),
        grids={"g": [1.0]},
    )
    for real in (0.095, 0.105):
        for imaginary in (-0.205, -0.195):
            loss = -20 * np.log10(np.hypot(real, imaginary))
            assert one.low[0] <= loss <= one.high[0]


def test_a_magnitude_that_may_be_zero_has_no_upper_end() -> None:
    form = {"form": "magnitude-phase", "magnitude": [0.0, 0.01], "phase_deg": [0.0, 0.0]}
    one = only(rl(complex=form, decimals=2), grids={"g": [1.0, 2.0]})
    # 0.00 is at most 0.005: a loss of at least 46.02 dB.
    assert one.low.tolist() == pytest.approx([46.0206, 36.4782], abs=1e-4)
    assert one.high[0] == np.inf


@pytest.mark.parametrize(
    ("data", "told"),
    [
        ({"form": "polar"}, "polar"),
        ({"form": "db-phase", "reference_ohm": 50.0, "magnitude_db": [-20.0] * 4}, "50 ohm"),
    ],
    ids=["an unknown form", "another impedance than the limits are for"],
)
def test_complex_values_that_are_of_no_use_are_told_and_the_rest_is_read(
    data: dict[str, Any], told: str
) -> None:
    document = {
        "kind": "balanced-link",
        "results": {
            "grids": [{"id": "g", "frequency_mhz": AXIS}],
            "sweeps": [
                {**rl(), "grid": "g", "decimals": 1, "complex": data},
                {**rl("3-6"), "grid": "g", "decimals": 1, "value_db": [20.0] * 4},
            ],
        },
    }
    found, unread = measured(Record.of(document).document, ORDERS_DB)
    assert list(unread) == ["$.results.sweeps[0]"]
    assert told in unread["$.results.sweeps[0]"]
    assert found["return_loss"].keys == (Key("return_loss", "near", ("3-6",)),)


def next_of(*pairs: str, **more: Any) -> dict[str, Any]:
    return {"parameter": "next", "end": "near", "pairs": list(pairs), **more}


def test_both_orders_of_a_combination_of_next_are_one_curve() -> None:
    """NEXT is reciprocal: what one pair puts into the other, the other puts into the one."""
    values = [60.0, 55.0, 50.0, 45.0]
    same = read(next_of("1-2", "3-6", value_db=values), next_of("3-6", "1-2", value_db=values))
    assert same.keys == (Key("next", "near", ("1-2", "3-6")),)
    assert same.sweeps == ((0, 1),)
    assert not same.repeated[0]
    other = [60.0, 55.0, 49.0, 45.0]
    differing = read(
        next_of("3-6", "1-2", value_db=values), next_of("1-2", "3-6", value_db=other)
    ).curve(0)
    assert not differing.repeated  # by noise at one point
    assert differing.value.tolist() == other
    assert (differing.low[2], differing.high[2]) == pytest.approx((48.95, 50.05))


@pytest.mark.parametrize(
    ("other", "repeated"),
    [
        ([60.5, 54.5, 50.5, 44.5], False),  # as far apart as may be
        ([60.0, 55.0, 51.0, 46.0], False),  # two of four further
        ([60.0, 54.0, 51.0, 46.0], True),  # three of four
    ],
)
def test_orders_that_differ_at_most_points_are_of_two_combinations(
    other: list[float], repeated: bool
) -> None:
    values = [60.0, 55.0, 50.0, 45.0]
    both = read(next_of("1-2", "3-6", value_db=values), next_of("3-6", "1-2", value_db=other))
    assert both.repeated.tolist() == [repeated]


def test_each_order_may_have_a_frequency_once_only() -> None:
    values, other = [60.0, 55.0, 50.0, 45.0], [60.0, 55.1, 50.0, 45.0]
    sweeps = [next_of("1-2", "3-6", value_db=one) for one in (values, other)]
    both = read(*sweeps, next_of("3-6", "1-2", value_db=values))
    assert both.repeated.tolist() == [True]


def test_an_order_may_be_there_for_some_combinations_only() -> None:
    values = [60.0, 55.0, 50.0, 45.0]
    noisy = next_of("3-6", "1-2", value_db=[60.1, 54.9, 50.1, 44.9])
    found = read(
        next_of("1-2", "3-6", value_db=values), next_of("4-5", "7-8", value_db=values), noisy
    )
    assert not found.repeated.any()
    assert found.value[1].tolist() == values
