"""How the shipped tables hang together, apart from single values."""

from itertools import pairwise

import numpy as np
import pytest

from sweepbook.limits.formulas import Floats, evaluate
from sweepbook.limits.library import Library
from sweepbook.limits.lines import LimitLine, unrounded_line
from sweepbook.limits.model import LimitTable
from sweepbook.limits.shape_model import DifferenceOf

GRID: Floats = np.linspace(1.0, 500.0, 4991)
PATHS = Library.load().paths()
FAMILIES = [
    ("tia-568.2-d/cat6a/channel", "tia-568.2-d/cat6a/permanent-link"),
    ("iso-11801-1-2017/class-ea/channel", "iso-11801-1-2017/class-ea/permanent-link"),
    ("iso-11801-1-2017/class-ea/channel", "iso-11801-1-2017/class-ea/permanent-link-cp"),
]
# Where two segments do not meet: by how many dB the upper one starts higher, worked out from the
# formulas by another program. The documents round their coefficients; these are no faults here.
STEPS: dict[tuple[str, str, float], float] = {
    ("tia-568.2-d/cat6a/channel", "return_loss", 40): -0.010,
    ("tia-568.2-d/cat6a/channel", "next", 330): -0.028,
    ("tia-568.2-d/cat6a/channel", "psnext", 330): -0.033,
    ("tia-568.2-d/cat6a/channel", "tcl", 30): -0.086,
    ("tia-568.2-d/cat6a/permanent-link", "return_loss", 40): -0.010,
    ("tia-568.2-d/cat6a/permanent-link", "next", 300): -0.032,
    ("tia-568.2-d/cat6a/permanent-link", "psnext", 300): 0.020,
    ("iso-11801-1-2017/class-ea/channel", "return_loss", 40): -0.010,
    ("iso-11801-1-2017/class-ea/channel", "tcl", 30): -0.086,
    ("iso-11801-1-2017/class-ea/permanent-link", "return_loss", 40): -0.010,
    ("iso-11801-1-2017/class-ea/permanent-link", "next", 300): -0.003,
    ("iso-11801-1-2017/class-ea/permanent-link", "psnext", 300): 0.024,
    ("iso-11801-1-2017/class-ea/permanent-link", "tcl", 30): -0.086,
    ("iso-11801-1-2017/class-ea/permanent-link-cp", "return_loss", 40): -0.010,
    ("iso-11801-1-2017/class-ea/permanent-link-cp", "next", 300): -0.031,
    ("iso-11801-1-2017/class-ea/permanent-link-cp", "psnext", 300): 0.022,
    ("iso-11801-1-2017/class-ea/permanent-link-cp", "tcl", 30): -0.086,
}


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
            listed = STEPS.get((path, word, lower.to_mhz), 0.0)
            assert step == pytest.approx(listed, abs=0.0006), (word, lower.to_mhz)


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


@pytest.mark.parametrize(
    ("parameter", "cap"),
    [("next", 65.0), ("psnext", 62.0), ("psanext", 67.0), ("psaacr_f", 67.0)],
)
@pytest.mark.parametrize("path", PATHS)
def test_caps_are_reached_at_the_low_end_and_left_above(
    path: str, parameter: str, cap: float, library: Library
) -> None:
    table = library.table(path)
    if parameter in table.parameters:
        found = unrounded_line(table, parameter, GRID).value
        assert found[0] == cap
        assert found[-1] < cap - 10.0
        assert np.all(found <= cap)


def test_a_difference_takes_the_capped_and_floored_limits(library: Library) -> None:
    """At 1 MHz the capped NEXT of 65 dB less the floored insertion loss of 4 dB: 61 dB."""
    for path in PATHS:
        table = library.table(path)
        if "acr_n" in table.parameters:
            assert over(table, "acr_n", 1.0).value[0] == 61.0
            assert over(table, "psacr_n", 1.0).value[0] == 58.0


def test_the_iso_floor_of_insertion_loss_is_left_where_the_formula_passes_it(
    library: Library,
) -> None:
    for path in PATHS:
        table = library.table(path)
        found = unrounded_line(table, "insertion_loss", GRID).value
        if table.family == "iso":
            assert found[0] == 4.0
            assert np.all(found >= 4.0)
        else:
            assert found[0] < 2.5
        assert np.all(np.diff(found) >= 0.0)


@pytest.mark.parametrize(("channel", "link"), FAMILIES)
def test_a_permanent_link_is_never_looser_than_its_channel(
    channel: str, link: str, library: Library
) -> None:
    whole, part = library.table(channel), library.table(link)
    for word, limit in part.parameters.items():
        wide = unrounded_line(whole, word, GRID).value
        narrow = unrounded_line(part, word, GRID).value
        both = ~np.isnan(wide) & ~np.isnan(narrow)
        looser = wide[both] - narrow[both] if limit.sense == "min" else narrow[both] - wide[both]
        assert np.all(looser <= 1e-9), word


def test_a_link_with_consolidation_point_differs_in_near_end_crosstalk_alone(
    library: Library,
) -> None:
    bare = library.table("iso-11801-1-2017/class-ea/permanent-link")
    with_cp = library.table("iso-11801-1-2017/class-ea/permanent-link-cp")
    assert bare.variants == (with_cp.path,)
    assert with_cp.variants == (bare.path,)
    for word in bare.parameters:
        one = unrounded_line(bare, word, GRID).value
        other = unrounded_line(with_cp, word, GRID).value
        differs = ~np.isclose(one, other, equal_nan=True)
        if word in ("next", "psnext", "acr_n", "psacr_n"):
            assert GRID[differs].min() >= 300.0
            assert np.all(other[differs] < one[differs])
        else:
            assert not differs.any(), word


def test_differences_are_made_of_curves_of_the_same_table(library: Library) -> None:
    for path in PATHS:
        for word, limit in library.table(path).parameters.items():
            made = [s.shape for s in limit.segments if isinstance(s.shape, DifferenceOf)]
            assert bool(made) == (word in ("acr_n", "psacr_n"))
