"""Single figures of a record (lengths, delays, resistances) as intervals, and their arithmetic."""

from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from typing import Any, NamedTuple

from sweepbook.judging.curves import PAIRS
from sweepbook.judging.digits import half_digit, opened

UNITS = {
    "delay_ns": "ns",
    "length_m": "m",
    "resistance_ohm": "ohm",
    "unbalance_percent": "percent",
    "value_db": "dB",
}


class Figure(NamedTuple):
    """One figure.

    Attributes:
        parameter: word of the vocabulary.
        pairs: none for the whole link, one, or two.
        value, low, high: in `unit`; the true value lies in [low, high].
        unit: ns, m, ohm, percent or dB.
        frequency_mhz: where it was measured, or None.
        path: JSON path, or "" where it was recomputed.
        recomputed: made from other figures.
    """

    parameter: str
    pairs: tuple[str, ...]
    value: float
    low: float
    high: float
    unit: str
    frequency_mhz: float | None
    path: str
    recomputed: bool = False

    @property
    def pair(self) -> str | None:
        """The pair or pairs in one word."""
        return "/".join(self.pairs) if self.pairs else None


def figures(document: Mapping[str, Any]) -> dict[str, list[Figure]]:
    """Every single figure of a record that holds a number, by parameter."""
    found: dict[str, list[Figure]] = {}
    for figure in _read(document):
        found.setdefault(figure.parameter, []).append(figure)
    return found


def _read(document: Mapping[str, Any]) -> Iterator[Figure]:
    for position, item in enumerate(document.get("results", {}).get("scalars", ())):
        name = _named(frozenset(item))
        if name is None:
            continue
        value, half = float(item[name]), half_digit(item)
        low, high = value - half, value + half
        if "bound" in item:
            low, high = opened(low, high, item["bound"])
        pairs, at_mhz = tuple(item.get("pairs", ())), item.get("frequency_mhz")
        path = f"$.results.scalars[{position}]"
        yield Figure(item["parameter"], pairs, value, low, high, UNITS[name], at_mhz, path)


@lru_cache(maxsize=256)
def _named(members: frozenset[str]) -> str | None:
    """Which of the members of a figure is its number."""
    return next((name for name in UNITS if name in members), None)


def skews(delays: Sequence[Figure]) -> list[Figure]:
    """Skew of each pair at each frequency: its delay less the least of all pairs.

    None at a frequency unless all pairs have a delay there.

    With d_i in [l_i, h_i]: skew_i lies in [max(0, l_i - least h_j), max(0, h_i - least l_j)],
    j over the other pairs. Of two delays of one pair at one frequency the greater is taken, within
    the interval of both.

    Args:
        delays: in ns; those of one frequency (or without) are taken together.
    """
    found: list[Figure] = []
    for frequency in dict.fromkeys(figure.frequency_mhz for figure in delays):
        here: dict[str, Figure] = {}
        for figure in delays:
            if figure.frequency_mhz == frequency and len(figure.pairs) == 1:
                (pair,) = figure.pairs
                here[pair] = _either(here[pair], figure) if pair in here else figure
        if all(pair in here for pair in PAIRS):
            found.extend(_skew(pair, here) for pair in here)
    return found


def _either(one: Figure, other: Figure) -> Figure:
    """The greater of two figures of one thing, within the interval of both."""
    greater = max(one, other, key=lambda figure: figure.value)
    return greater._replace(low=min(one.low, other.low), high=max(one.high, other.high))


def _skew(pair: str, all_pairs: Mapping[str, Figure]) -> Figure:
    mine = all_pairs[pair]
    others = [figure for other, figure in all_pairs.items() if other != pair]
    value = mine.value - min([mine.value, *[figure.value for figure in others]])
    low = max(0.0, mine.low - min([figure.high for figure in others]))
    high = max(0.0, mine.high - min([figure.low for figure in others]))
    return Figure("delay_skew", (pair,), value, low, high, "ns", mine.frequency_mhz, "", True)


def shortest(lengths: Sequence[Figure]) -> Figure:
    """The pair that decides where the shortest does; its interval is that of the least of all."""
    least = min(lengths, key=lambda figure: figure.value)
    return Figure(
        least.parameter,
        least.pairs,
        least.value,
        min(figure.low for figure in lengths),
        min(figure.high for figure in lengths),
        least.unit,
        least.frequency_mhz,
        least.path,
    )


Loops = Mapping[tuple[str, ...], Figure]
"""Loop resistances in ohm by their pairs."""


Base = tuple[float, float, float]
"""The resistance that 100 percent of an unbalance refer to: value, low, high in ohm."""


def base_ohm(figure: Figure, loops: Loops) -> Base | None:
    """The resistance that 100 percent of an unbalance refer to.

    Within a pair it is R_a + R_b, the loop resistance. Between pairs it is the sum of the two
    parallel resistances; a pair of equal conductors has a quarter of its loop resistance.

    Returns:
        None where a loop resistance is not there.
    """
    found = [loops.get((pair,)) for pair in figure.pairs]
    there = [loop for loop in found if loop is not None]
    if not there or len(there) != len(found):
        return None
    share = 1.0 if len(there) == 1 else 0.25
    return (
        share * sum(loop.value for loop in there),
        share * sum(max(0.0, loop.low) for loop in there),
        share * sum(loop.high for loop in there),
    )
