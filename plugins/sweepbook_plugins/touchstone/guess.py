"""What the data alone say of the ports: which are connected, and which two are one pair.

At low frequencies a signal leaves a link where its conductor ends. The two conductors of a pair lie
so near to each other that much of it, a hundredth and far more, shows on the other one; between
pairs it is far less. Common practice, no source.
"""

from typing import NamedTuple

import numpy as np

from sweepbook_plugins.touchstone.data import Block, Data
from sweepbook_plugins.touchstone.layout import PAIRS
from sweepbook_plugins.touchstone.matrix import F64, complex_of, square

LOW_MHZ = 10.0
_POINTS = 4
_ONE_PAIR = 0.02
"""Of the signal of a conductor on the other one of its pair, at least; -34 dB."""


class Guess(NamedTuple):
    """Ports by pair, near before far: one a pair where they are balanced, else two.

    Attributes:
        near, far: n lists of ports, counted from 1; a pair stands at one position in both.
        in_order: whether the ports are numbered by ends, one end first or both in turn; else it is
            not known which of the two ports of a line is at which end.
    """

    near: list[list[int]]
    far: list[list[int]]
    in_order: bool

    @property
    def conductors(self) -> bool:
        """Whether each conductor has a port of its own."""
        return len(self.near[0]) == 2


def guess(size: F64) -> Guess | None:
    """What the magnitudes at low frequencies say; None where they do not show up to four pairs.

    Args:
        size: float64[n, n], by `sizes`.
    """
    through = _through(size)
    if through is None:
        return None
    partner = _partners(size, through)
    if partner is None:
        near, far = [[one] for one, _ in through], [[other] for _, other in through]
    else:
        near, far = [], []
        for one, two in partner:
            near.append([through[one][0], through[two][0]])
            far.append([through[one][1], through[two][1]])
    if len(near) > len(PAIRS):
        return None
    near, far = ([[port + 1 for port in ports] for ports in side] for side in (near, far))
    return Guess(near, far, _in_order(through))


def _in_order(through: list[tuple[int, int]]) -> bool:
    apart = {other - one for one, other in through}
    return apart in ({1}, {len(through)})


def sizes(block: Block, data: Data) -> F64:
    """Mean magnitudes float64[n, n] at the first frequencies, the greater of both directions."""
    low = np.flatnonzero(block.frequency_mhz <= LOW_MHZ)[:_POINTS]
    some = low if low.size else np.arange(1)
    one, two = (square(cells[some], data.ports, data.heading) for cells in block[1:3])
    mean = np.abs(complex_of(one, two, data.heading.options.form)).mean(axis=0)
    made: F64 = np.maximum(mean, mean.T)
    return made


def _through(size: F64) -> list[tuple[int, int]] | None:
    """Each two ports that are the ends of one line, the lower first; None where it is not clear."""
    others = size.copy()
    np.fill_diagonal(others, 0.0)
    strongest = others.argmax(axis=1)
    if size.shape[0] % 2 or not (strongest[strongest] == np.arange(strongest.size)).all():
        return None
    return [(port, int(other)) for port, other in enumerate(strongest) if port < other]


def _partners(size: F64, through: list[tuple[int, int]]) -> list[tuple[int, int]] | None:
    """Each two lines that are one pair, by position; None where every line is a pair."""
    count = len(through)
    shared = np.zeros((count, count))
    for one, ends in enumerate(through):
        for two, others in enumerate(through):
            if one != two:
                shared[one, two] = size[np.ix_(ends, others)].max()
    nearest = shared.argmax(axis=1)
    coupled = count > 1 and float(shared.max(axis=1).min()) >= _ONE_PAIR
    if not coupled or count % 2 or not (nearest[nearest] == np.arange(count)).all():
        return None
    return [(one, int(two)) for one, two in enumerate(nearest) if one < two]
