"""What physics says against the data of a file: units, formats and port maps that cannot be."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np

from sweepbook.dialect.raw import Fault
from sweepbook.dialect.sweeps import HIGHEST_MHZ
from sweepbook_plugins.touchstone.data import Block
from sweepbook_plugins.touchstone.guess import guess
from sweepbook_plugins.touchstone.layout import ENDS, BalancedPort
from sweepbook_plugins.touchstone.matrix import F64

if TYPE_CHECKING:
    from sweepbook_plugins.touchstone.network import Network

MOST_GAIN, SOME_GAIN = 1.1, 1.01
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


def too_much(gain: F64, block: Block) -> None:
    """Hold the data of all ports against passivity.

    Args:
        gain: float64[b], the largest singular value of each matrix.
        block: where they come from.

    Raises:
        Fault: more comes out of the link than goes in.
    """
    if (gain <= MOST_GAIN).all():
        return
    at = int((gain <= MOST_GAIN).argmin())
    raise Fault(
        f"line {block.lines[at]}",
        f"at {block.frequency_mhz[at]:g} MHz {gain[at]:.3g} times as much comes out of the ports "
        "as goes in, and a link gives no more than 1; see RI, MA or DB in the option line, the "
        "order of the numbers, and the calibration of the analyser",
    )


def negative(block: Block, form: str) -> None:
    """Refuse magnitudes below zero.

    Raises:
        Fault: there is one.
    """
    if form != "MA" or (block.first >= 0.0).all():
        return
    at = int((block.first >= 0.0).all(axis=1).argmin())
    raise Fault(
        f"line {block.lines[at]}",
        "a magnitude is below 0; see whether the option line should say DB or RI instead of MA",
    )


def axis(frequency_mhz: F64, lines: list[int], unit: str) -> Iterator[Fault]:
    """Yield a note where frequencies repeat or fall; they are kept as they are.

    Raises:
        Fault: a frequency is below 0, or the highest shows a wrong unit.
    """
    low, high = HIGHEST_MHZ
    if not (frequency_mhz >= 0.0).all():
        at = int((frequency_mhz >= 0.0).argmin())
        raise Fault(f"line {lines[at]}", f"the frequency is {frequency_mhz[at]:g} MHz, below 0")
    if not low <= frequency_mhz.max() <= high:
        at = int(frequency_mhz.argmax())
        raise Fault(
            f"line {lines[at]}",
            f"the highest frequency would be {frequency_mhz[at]:g} MHz, which no sweep of cabling "
            f"has; the option line says {unit} (GHz where it says none)",
        )
    rises = frequency_mhz[1:] > frequency_mhz[:-1]
    if not rises.all():
        at = int(rises.argmin()) + 1
        verb = "repeats" if frequency_mhz[at] == frequency_mhz[at - 1] else "falls"
        yield Fault(
            f"line {lines[at]}",
            f"the frequency {verb} at {frequency_mhz[at]:g} MHz; the format asks for rising ones, "
            "the points are kept as they are: see whether the file was put together of two",
        )


def connected(net: "Network", ports: tuple[BalancedPort, ...]) -> Iterator[Fault]:
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


def conductors(net: "Network", ports: tuple[BalancedPort, ...]) -> Iterator[Fault]:
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
