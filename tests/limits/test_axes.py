"""An axis is known again by what it is, never by where it lies in the memory."""

import numpy as np

from sweepbook.limits.axes import axis_bytes


def test_an_axis_that_nobody_can_change_has_the_same_bytes_each_time() -> None:
    axis = np.array([1.0, 2.5, 4.0])
    axis.setflags(write=False)
    first = axis_bytes(axis)
    assert first == axis.tobytes()
    assert axis_bytes(axis) is first


def test_an_axis_that_was_changed_has_other_bytes() -> None:
    axis = np.array([1.0, 2.0, 3.0])
    view = axis[:]
    view.setflags(write=False)
    before = axis_bytes(axis), axis_bytes(view)
    axis[1] = 2.5
    assert axis_bytes(axis) == axis_bytes(view) == axis.tobytes() != before[0] == before[1]


def test_any_number_of_axes_are_told_apart() -> None:
    for count in range(200):
        axis = np.arange(float(count))
        axis.setflags(write=False)
        assert axis_bytes(axis) == axis.tobytes()
