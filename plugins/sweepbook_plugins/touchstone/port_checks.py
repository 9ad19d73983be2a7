"""What physics says against a port map: what is driven at one pair comes out at the same pair."""

from collections.abc import Iterator

import numpy as np

from sweepbook.dialect.raw import Fault
from sweepbook_plugins.touchstone.guess import guess
from sweepbook_plugins.touchstone.layout import ENDS, BalancedPort
from sweepbook_plugins.touchstone.network import Network

SOME_GAIN = 1.01
"""Of a passive link no singular value of S is above 1; a measurement may be off by a little.
Common practice, no source."""
MOST_DIFFERENCE = 0.05
"""By how much S12 and S21 of a passive link may differ in a measurement. Common practice, no
source."""
SOME_SIGNAL = 0.1
"""What comes out of a pair that is connected, at low frequencies, of what goes in: 20 dB less. Of a
pair that is interrupted nothing but crosstalk comes out, which is no matter of the port map."""
_LOW_PART = 4
"""The lowest of so many parts of a sweep shows what a pair is connected to."""


def connected(net: Network, ports: tuple[BalancedPort, ...]) -> Iterator[Fault]:
    """Yield notes where the data speak against the port map.

    Raises:
        Fault: what is driven at one pair comes out at another one.
    """
    size = np.abs(net.s)
    low = np.argsort(net.frequency_mhz, kind="stable")[: max(1, len(net.lines) // _LOW_PART)]
    mean = size[low].mean(axis=0)
    nears, fars = ([at for at, port in enumerate(ports) if port.end == end] for end in ENDS)
    for driven in nears:
        received = [at for at in fars if ports[at].pair == ports[driven].pair]
        if not received:
            continue
        strongest = max(fars, key=[float(of) for of in mean[:, driven]].__getitem__)
        if strongest != received[0] and mean[strongest, driven] >= SOME_SIGNAL:
            raise Fault(
                "",
                f"what is driven at {ports[driven]} comes out at {ports[strongest]} rather than at "
                f"{ports[received[0]]}; see touchstone.ports, or the link has its pairs crossed",
            )
    apart = np.abs(net.s - net.s.transpose(0, 2, 1)).max(axis=0) - net.off - net.off.T
    if not (apart <= MOST_DIFFERENCE).all():
        one, two = np.unravel_index(int(apart.argmax()), apart.shape)
        yield Fault(
            "",
            f"from {ports[one]} to {ports[two]} the data are not what they are the other way, as "
            "those of a passive link are; see the analyser, or how the file was put together",
        )
    if not (net.gain <= SOME_GAIN).all():
        at = int(net.gain.argmax())
        yield Fault(
            f"line {net.lines[at]}",
            f"at {net.frequency_mhz[at]:g} MHz {net.gain[at]:.3f} times as much comes out as goes "
            "in; a link gives no more than 1, see the calibration of the analyser",
        )


def conductors(net: Network, ports: tuple[BalancedPort, ...]) -> Iterator[Fault]:
    """Yield a note where two conductors are coupled as one pair, and the map makes them two.

    Args:
        net: of a file with one port a conductor.
        ports: the port map.

    Raises:
        Fault: a conductor comes out at a conductor of another pair.
    """
    found = guess(net.low)
    if found is None or not found.conductors:
        return
    ends = {
        port: other
        for near, far in zip(found.near, found.far, strict=True)
        for one, two in zip(near, far, strict=True)
        for port, other in ((one, two), (two, one))
    }
    place = {(entry.end, entry.pair): entry.ports for entry in ports}
    for entry in ports:
        others = place.get(("far" if entry.end == "near" else "near", entry.pair))
        for port in entry.ports if others else ():
            if ends[port] not in (others or ()):
                raise Fault(
                    "",
                    f"port {port}, of {entry} by touchstone.ports, is connected to port "
                    f"{ends[port]} at low frequencies, and that is not of the same pair; see the "
                    "map, or the link has conductors crossed",
                )
    lines = [{*near, *far} for near, far in zip(found.near, found.far, strict=True)]
    split = [entry for entry in ports if not any(set(entry.ports) <= line for line in lines)]
    if split:
        yield Fault(
            "",
            f"ports {split[0].ports[0]} and {split[0].ports[1]}, one pair by touchstone.ports, are "
            "each coupled to a conductor of another pair more than to each other; see the map, or "
            "the link has split pairs",
        )
