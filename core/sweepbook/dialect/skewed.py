"""A delay skew that no delays of the test can differ by: a wrong unit or decimal mark."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from sweepbook.dialect.raw import Fault, RawFigure


def notes(scalars: Iterable[Mapping[str, Any]], figures: Iterable[RawFigure]) -> Iterator[Fault]:
    """Yield one note for all skews above the longest delay of a test, where that has a signal.

    Args:
        scalars: those of the record.
        figures: as they were read, for what stands there and where.
    """
    plain = [of for of in scalars if "bound" not in of]
    delays = [of["delay_ns"] for of in plain if of["parameter"] == "propagation_delay"]
    longest = max(delays, default=0.0)
    if longest <= 0.0:
        return
    skews = (of for of in plain if of["parameter"] == "delay_skew")
    if above := [of for of in skews if of["delay_ns"] > longest]:
        pairs, more = tuple(above[0]["pairs"]), len(above) - 1
        figure = next(
            of for of in figures if of.name.parameter == "delay_skew" and of.name.pairs == pairs
        )
        yield Fault(
            figure.cell.place,
            f"{figure.cell.text.strip()!r} for '{figure.name}' would be {above[0]['delay_ns']:g} ns"
            f"{f' (and {more} more)' if more else ''}, while the longest delay of the test is "
            f"{longest:g} ns and a skew is what two delays differ by; see units.delay, and where "
            "the export has the unit beside each figure, take it into their names as {unit}",
        )
