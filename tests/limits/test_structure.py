"""How the shipped tables hang together, apart from single values."""

from itertools import pairwise

import numpy as np
import pytest

from sweepbook.limits.formulas import Floats, evaluate
from sweepbook.limits.library import Library
from sweepbook.limits.lines import LimitLine, unrounded_line
from sweepbook.limits.model import LimitTable

PATHS = Library.load().paths()
# Where two segments do not meet: by how many dB the upper one starts higher, by parameter, joint
# and class or category, worked out from the formulas by another program. The documents round
# their coefficients; these are no faults here.
SMALL = 0.0006
STEPS: dict[tuple[str, float], dict[str, float]] = {
    ("return_loss", 20): {"class-d": -0.010},
    ("return_loss", 40): dict.fromkeys(
        ("cat6", "cat6a", "class-e", "class-ea", "class-f", "class-fa"), -0.010
    ),
    ("next", 300): {"cat6a": -0.032, "class-ea": -0.003, "class-ea/permanent-link-cp": -0.031},
    ("next", 330): {"cat6a": -0.028},
    ("psnext", 300): {"cat6a": 0.020, "class-ea": 0.024, "class-ea/permanent-link-cp": 0.022},
    ("psnext", 330): {"cat6a": -0.033},
    ("tcl", 30): dict.fromkeys(
        ("cat6a", "class-d", "class-e", "class-ea", "class-f", "class-fa"), -0.086
    ),
}
CAPS = {"next": 65.0, "psnext": 62.0, "psanext": 67.0, "psaacr_f": 67.0}
CAPS_OF_100_MHZ = {"next": 60.0, "psnext": 57.0}


def grid(table: LimitTable) -> Floats:
    """A fine grid over the whole range of a table."""
    return np.linspace(1.0, table.f_max_mhz, 4991)


def over(table: LimitTable, parameter: str, *mhz: float) -> LimitLine:
    return unrounded_line(table, parameter, np.array(mhz))


@pytest.mark.parametrize("path", PATHS)
def test_segments_meet_but_for_the_steps_listed(path: str, library: Library) -> None:
    for word, limit in library.table(path).parameters.items():
        for lower, upper in pairwise(limit.segments):
            assert lower.to_mhz is not None
            joint = np.array([float(lower.to_mhz)])
            step = float((evaluate(upper.shape, joint) - evaluate(lower.shape, joint))[0])
            assert abs(step) <= 0.15
            _, of, configuration = path.split("/")
            listed = STEPS.get((word, lower.to_mhz), {})
            expected = listed.get(f"{of}/{configuration}", listed.get(of, 0.0))
            assert step == pytest.approx(expected, abs=SMALL), (word, lower.to_mhz)


def test_the_upper_segment_owns_its_first_frequency(library: Library) -> None:
    channel = library.table("tia-568.2-d/cat6a/channel")
    just_below = np.nextafter(330.0, 0.0)
    found = over(channel, "psnext", just_below, 330.0)
    assert bytes(found.grade) == b"AC"
    assert found.value[1] == 28.0


def test_the_last_segment_owns_its_end_and_nothing_lies_beyond(library: Library) -> None:
    table = library.table("tia-568.2-d/cat6a/channel")
    found = over(table, "next", 0.999, 1.0, 500.0, 500.001)
    assert np.isnan(found.value).tolist() == [True, False, False, True]
    assert found.grade.tolist() == [0, ord("B"), ord("B"), 0]
    assert found.usable.tolist() == [False, True, True, False]


def test_the_doubtful_part_of_psnext_carries_its_interval(library: Library) -> None:
    table = library.table("tia-568.2-d/cat6a/channel")
    found = over(table, "psnext", 100.0, 400.0)
    assert found.low[0] == found.value[0] == found.high[0]
    assert found.high[1] - found.value[1] == pytest.approx(0.05)
    assert found.value[1] - found.low[1] == pytest.approx(0.05)
    assert found.usable.tolist() == [True, True]


def test_the_interval_holds_every_slope_that_gives_the_remembered_end_point(
    library: Library,
) -> None:
    """28.0 dB at 330 MHz and 23.2 dB at 500 MHz are memory; the slopes follow by arithmetic."""
    mhz = np.linspace(330.0, 500.0, 341)
    found = unrounded_line(library.table("tia-568.2-d/cat6a/channel"), "psnext", mhz)
    for end in (23.15, 23.25):
        slope = (28.0 - end) / np.log10(500.0 / 330.0)
        possible = 28.0 - slope * np.log10(mhz / 330.0)
        assert np.all(found.low <= possible + 0.001)
        assert np.all(possible <= found.high + 0.001)


@pytest.mark.parametrize("path", PATHS)
def test_caps_are_reached_at_the_low_end_and_left_above(path: str, library: Library) -> None:
    table = library.table(path)
    caps = {**CAPS, **(CAPS_OF_100_MHZ if table.f_max_mhz == 100 else {})}
    for parameter, cap in caps.items():
        if parameter in table.parameters and table.parameters[parameter].grade < "D":
            found = unrounded_line(table, parameter, grid(table)).value
            assert found[0] == cap
            assert found[-1] < cap - 5.0
            assert np.all(found <= cap)


@pytest.mark.parametrize("path", [path for path in PATHS if path.startswith("iso")])
def test_far_end_crosstalk_of_iso_reaches_its_cap_in_the_highest_classes_alone(
    path: str, library: Library
) -> None:
    """At 1 MHz the formula is at 57.4 dB for class D, 63.3 for E, above 65 for F (memory)."""
    table = library.table(path)
    reached = over(table, "acr_f", 1.0).value[0] == table.parameters["acr_f"].cap == 65.0
    assert reached == ("/class-f" in path)


def test_a_difference_takes_the_capped_and_floored_limits(library: Library) -> None:
    """At 1 MHz the capped NEXT of 65 dB less the floored insertion loss of 4 dB: 61 dB."""
    for path in PATHS:
        table = library.table(path)
        if "acr_n" in table.parameters and table.parameters["acr_n"].grade < "D":
            less = 5.0 if "/class-d/" in path else 0.0
            assert over(table, "acr_n", 1.0).value[0] == 61.0 - less
            assert over(table, "psacr_n", 1.0).value[0] == 58.0 - less


def test_the_iso_floor_of_insertion_loss_is_left_where_the_formula_passes_it(
    library: Library,
) -> None:
    for path in PATHS:
        table = library.table(path)
        found = unrounded_line(table, "insertion_loss", grid(table)).value
        if table.family == "iso":
            assert found[0] == 4.0
            assert np.all(found >= 4.0)
        else:
            assert found[0] < 2.5
        assert np.all(np.diff(found) >= 0.0)
