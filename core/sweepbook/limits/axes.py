"""An axis as the bytes by which is kept what follows from it."""

import numpy as np
from numpy.typing import NDArray

_MOST = 64
_LONGEST = 20_000  # points; longer axes are not of a tester
_known: dict[int, tuple[NDArray[np.float64], bytes]] = {}
_shared: dict[bytes, NDArray[np.float64]] = {}


def axis_bytes(axis: NDArray[np.float64]) -> bytes:
    """The doubles of an axis, float64[n].

    Those of an array that many records share, which owns its numbers and lets nobody change them,
    are the same object each time, so that what is kept by them is found without a look at them.
    """
    there = _known.get(id(axis))
    if there is not None and there[0] is axis:
        return there[1]
    data = axis.tobytes()
    if axis.base is None and not axis.flags.writeable and axis.size <= _LONGEST:
        if len(_known) >= _MOST:
            _known.clear()
        _known[id(axis)] = axis, data
    return data


def shared_axis(axis: NDArray[np.float64]) -> NDArray[np.float64]:
    """An axis of the same doubles, float64[n], that is the same object for every record."""
    if axis.size > _LONGEST or id(axis) in _known:
        return axis
    data = axis.tobytes()
    there = _shared.get(data)
    if there is None:
        there = axis.copy()
        there.setflags(write=False)
        if len(_shared) >= _MOST:
            _shared.clear()
        _shared[data] = there
    return there
