"""Whether all pairs have their ends where the port map says, by when crosstalk arrives.

All far-end crosstalk of a link arrives with the delay of the link: whichever way it takes, it runs
from one end to the other once. What comes back at the same end has turned round somewhere, most of
it early. So two pairs of which one has its ends exchanged show it: what should be far-end crosstalk
comes before it can be there, which is against causality, and near-end crosstalk with the delay of
the link.
"""

from collections.abc import Mapping

import numpy as np

from sweepbook.dialect.raw import Fault
from sweepbook_plugins.touchstone.delay import LARGEST_STEP_MHZ, Delay
from sweepbook_plugins.touchstone.layout import BalancedPort
from sweepbook_plugins.touchstone.matrix import C128, F64
from sweepbook_plugins.touchstone.network import Network

SHORTEST_NS = 20.0
"""Of shorter links, some 4 m, nothing is said: the ends lie too near to each other."""
EARLY, LATE = 0.9, 0.95
"""Parts of the delay of the link: earlier than the one no far-end crosstalk comes, and no near-end
crosstalk, on the mean over its power, as late as the other."""


def hold_ends(
    net: Network, ports: tuple[BalancedPort, ...], delays: Mapping[str, Delay | str]
) -> None:
    """Hold the port map against when crosstalk arrives.

    Args:
        net: the data.
        ports: the port map.
        delays: of each pair, as far as they are known.

    Raises:
        Fault: a pair has its ends exchanged.
    """
    steps = _steps(net.frequency_mhz)
    known = {pair: one for pair, one in delays.items() if isinstance(one, Delay)}
    if steps is None or len(known) < 2:
        return
    turn = -1.0 if any(one.turned for one in known.values()) else 1.0
    mean = {pair: float(one.delay_ns[steps].mean()) for pair, one in known.items()}
    place = {(port.end, port.pair): at for at, port in enumerate(ports)}
    against: dict[str, list[str]] = {pair: [] for pair in known}
    for one in known:
        for other in known:
            if one != other and min(mean[one], mean[other]) >= SHORTEST_NS:
                link = (mean[one] + mean[other]) / 2.0
                here, there = ((place[end, one], place[end, other]) for end in ("near", "far"))
                same = turn * _arrival(net, steps, [here, there])
                across = turn * _arrival(net, steps, [(here[0], there[1]), (there[0], here[1])])
                if across < EARLY * link and same > LATE * link:
                    against[one].append(other)
    worst = max(against, key=lambda pair: len(against[pair]))
    if against[worst]:
        raise Fault(
            "",
            f"crosstalk between {worst} and {', '.join(against[worst])} is at the far end before a "
            f"signal can be there, and late at the near one; exchange the ports of {worst} near "
            "and far in touchstone.ports, if only this pair is the wrong way round",
        )


def _steps(frequency_mhz: F64) -> np.ndarray[tuple[int], np.dtype[np.intp]] | None:
    """Positions before the most frequent of the fine steps; None where there are few."""
    steps = np.round(np.diff(frequency_mhz), 9)
    fine = steps[(steps > 0.0) & (steps <= LARGEST_STEP_MHZ)]
    if fine.size < 32:
        return None
    sizes, counts = np.unique(fine, return_counts=True)
    return np.flatnonzero(steps == sizes[counts.argmax()])


def _arrival(
    net: Network,
    steps: np.ndarray[tuple[int], np.dtype[np.intp]],
    between: list[tuple[int, int]],
) -> float:
    """Mean delay of some S-parameters in ns, weighted with their power."""
    step = float(net.frequency_mhz[steps[0] + 1] - net.frequency_mhz[steps[0]])
    turned: C128 = np.zeros(1, dtype=np.complex128)
    for to, of in between:
        s = net.s[:, to, of]
        turned = turned + (s[steps + 1] * s[steps].conj()).sum()
    return float(-np.angle(turned[0]) / (2e-3 * np.pi * step))
