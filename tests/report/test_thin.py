"""Fewer points of a curve, and what must not be lost by it."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sweepbook_plugins.report.path import polyline
from sweepbook_plugins.report.thin import bends, holes, kept, runs, starts


@given(
    st.lists(st.tuples(st.integers(0, 5), st.integers(-9, 9)), min_size=1, max_size=60),
)
def test_each_column_reaches_as_far_as_with_all_points(points: list[tuple[int, int]]) -> None:
    points.sort(key=lambda point: point[0])
    column = np.array([column for column, _ in points], dtype=np.intp)
    height = np.array([height for _, height in points], dtype=np.intp)
    both = kept(starts(column), np.stack([height[::-1], height]))
    found = np.flatnonzero(both[1]).tolist()
    assert {0, len(points) - 1} <= set(found)
    drawn = [points[at] for at in found]
    for number in set(column.tolist()):
        whole = [value for at, value in points if at == number]
        some = [value for at, value in drawn if at == number]
        assert (min(some), max(some)) == (min(whole), max(whole))
        assert len(some) <= 5


def grid(*runs_of: tuple[float, float, int]) -> list[float]:
    return [start + number * step for start, step, count in runs_of for number in range(count)]


@pytest.mark.parametrize(
    ("axis", "after"),
    [
        (grid((1, 0.5, 40)), []),
        (grid((1, 0.15, 60), (10, 0.5, 80), (50, 2, 25)), []),
        (np.geomspace(1, 500, 200).tolist(), []),
        ([f for f in grid((1, 1, 20)) if f != 7], [6]),
        ([f for f in grid((1, 1, 30)) if not 7 <= f <= 9], [6]),
        ([f for f in grid((1, 1, 30)) if f not in (7, 9)], [6, 8]),
        ([f for f in grid((1, 1, 30)) if f not in (2, 29)], [1, 28]),
        ([1.0, 2.0], []),
    ],
)
def test_a_hole_is_a_step_wider_than_on_either_side(axis: list[float], after: list[float]) -> None:
    found = holes(np.array(axis))
    assert [axis[at] for at in np.flatnonzero(found)] == after


def test_a_stretch_goes_on_from_the_one_before_it_save_after_a_hole() -> None:
    kind = np.array([1, 1, 0, 0, 0, 0], dtype=np.uint8)
    broken = np.array([False, False, False, True, False])
    assert runs(kind, broken) == [(1, 0, 2), (0, 1, 4), (0, 4, 6)]


@given(st.lists(st.tuples(st.integers(0, 40), st.integers(0, 40)), min_size=1, max_size=30))
def test_a_line_goes_where_its_points_are(points: list[tuple[int, int]]) -> None:
    """Read back by the rules of SVG 2, 9.3: M, then l with pairs of steps."""
    x, y = np.array(points, dtype=np.intp).T
    start, _, rest = polyline(x, y).partition("l")
    at = tuple(map(int, start.removesuffix("h0")[1:].split()))
    steps = list(map(int, rest.replace("-", " -").split()))
    places = [at]
    for right, down in zip(steps[::2], steps[1::2], strict=True):
        at = at[0] + right, at[1] + down
        places.append(at)
    assert places == [p for n, p in enumerate(points) if n == 0 or p != points[n - 1]]


@given(st.lists(st.tuples(st.integers(0, 60), st.integers(0, 40)), min_size=1, max_size=40))
def test_a_line_of_fewer_points_runs_as_high_as_with_all(points: list[tuple[int, int]]) -> None:
    points.sort(key=lambda point: point[0])
    x, y = np.array(points, dtype=np.intp).T
    needed = np.flatnonzero(bends(x, y)).tolist()
    assert needed[0] == 0 and needed[-1] == len(points) - 1
    for start, end in pairwise(needed):
        for at in range(start + 1, end):
            assert x[start] < x[end]
            share = (x[at] - x[start]) / (x[end] - x[start])
            assert abs(y[at] - (y[start] + share * (y[end] - y[start]))) <= 0.5 + 1e-9


def test_a_straight_line_needs_its_ends_alone() -> None:
    x = np.arange(200, dtype=np.intp)
    assert np.flatnonzero(bends(x, 3 * x)).tolist() == [0, 199]
