"""Plots of curves that no demo has: with holes, clipped, without a limit, beyond measurement."""

from typing import Any

import numpy as np
import pytest

from sweepbook.judging.assessment import Outcome
from sweepbook_plugins.report.draw import Drawn, draw
from sweepbook_plugins.report.panel import Mark, Panel, Shown, Trace
from tests.xlsx.making import margin

AXIS = np.arange(1.0, 101.0)


def trace(value: Any = 60.0, name: str = "1-2", worst: int | None = 50, **parts: Any) -> Trace:
    axis = parts.pop("axis", AXIS)
    members: dict[str, Any] = {
        "shown": np.full(axis.size, Shown.JUDGED, dtype=np.uint8),
        "mark": np.full(axis.size, Mark.NONE, dtype=np.uint8),
        "margin": margin(pairs=(name,)),
    }
    members |= parts
    values = np.broadcast_to(np.asarray(value, dtype=np.float64), axis.shape)
    return Trace(name=name, frequency_mhz=axis, value=values, worst=worst, **members)


def drawn(*traces: Trace, limit: Any = 40.0) -> Drawn:
    at = AXIS if limit is not None else AXIS[:0]
    line = np.full(at.size, limit if limit is not None else 0.0)
    return draw(Panel("NEXT", "NEXT at the near end", "dB", "min", traces, at, line))


def test_a_gap_is_a_gap() -> None:
    with_gap = np.delete(AXIS, [30, 31, 32])
    (whole,) = drawn(trace()).curves
    (broken,) = drawn(trace(axis=with_gap)).curves
    assert (whole.line.count("M"), broken.line.count("M")) == (1, 2)


def test_points_beyond_the_limit_are_dotted_and_named() -> None:
    shown = np.full(AXIS.size, Shown.JUDGED, dtype=np.uint8)
    shown[80:] = Shown.NO_LIMIT
    shown[:20] = Shown.INFORMATION
    found = drawn(trace(shown=shown))
    assert [note.text for note in found.notes] == ["for information"]  # the other one is too narrow
    (curve,) = found.curves
    assert curve.dotted.count("M") == 2
    assert "For information only, dotted: 20 points." in found.about
    assert "Where no limit holds, dotted: 20 points." in found.about


@pytest.mark.parametrize(
    ("mark", "stroke", "said"),
    [
        (Mark.AT_LEAST, "v-14", "more than drawn"),
        (Mark.AT_MOST, "v14", "less than drawn"),
        (Mark.NO_READING, "m-7-7l14 14m0-14l-14 14", "No reading"),
    ],
)
def test_clipped_points_and_no_readings_have_marks(mark: Mark, stroke: str, said: str) -> None:
    marks = np.full(AXIS.size, Mark.NONE, dtype=np.uint8)
    marks[[0, 99]] = mark
    found = drawn(trace(mark=marks))
    (curve,) = found.curves
    assert curve.marks.count(stroke) == 2
    assert f"{said}" in found.about and ": 2 points." in found.about


def test_without_a_limit_the_curve_stands_alone() -> None:
    found = drawn(trace(worst=None, margin=margin(worst_margin_db=None)), limit=None)
    assert (found.limit, found.worst_text) == ("", "")
    assert [label.text for label in found.labels] == ["1-2"]
    assert found.span.endswith("no limit")


@pytest.mark.parametrize(
    ("axis", "value"),
    [
        (AXIS, 1e308 * np.sin(AXIS)),
        (AXIS, np.zeros(100)),
        (np.linspace(0.0, 1e300, 100), 50.0),
        (np.linspace(0.0, 1e-300, 100), -50.0),
    ],
)
def test_what_no_measurement_has_is_drawn_at_the_edges(axis: Any, value: Any) -> None:
    """With no warning of an overflow."""
    found = drawn(trace(value, axis=axis), limit=None)
    (curve,) = found.curves
    numbers = [float(x) for x in curve.line.replace("M", " ").split("l")[0].split()]
    assert all(0 <= number <= 1280 for number in numbers)
    assert len({place for place, _ in found.values}) == len(found.values) >= 2


def test_each_curve_that_fails_has_a_ring_and_a_name_that_stands_out() -> None:
    bad = margin(outcome=Outcome.FAIL, pairs=("4-5",), worst_margin_db=-1.0)
    found = drawn(trace(), trace(30.0, "4-5", 10, margin=bad), trace(55.0, "7-8"))
    looks = {label.text: label.look for label in found.labels}
    assert looks == {"1-2": "worst", "4-5": "fails", "7-8": "other", "limit": "limit"}
    assert [curve.ring is not None for curve in found.curves] == [False, True, True]
