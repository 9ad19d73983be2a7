"""What physics says against the data of a file: units and formats that cannot be."""

from collections.abc import Iterator

from sweepbook.dialect.axes import HIGHEST_MHZ
from sweepbook.dialect.raw import Fault
from sweepbook_plugins.touchstone.data import Block
from sweepbook_plugins.touchstone.matrix import F64

MOST_GAIN = 1.1
"""Of a passive link no singular value of S is above 1; a measurement may be off by a little.
Common practice, no source."""


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
