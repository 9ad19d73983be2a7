"""Figures as the page shows them."""

from sweepbook import shown
from sweepbook.judging import phrases

COUNTED = "faults"
"""The unit of a wire map, whose faults are counted."""


def plain(value: float | None, unit: str = "") -> str:
    """A value or limit with two decimals, more where two would show 0; "" for none.

    What is counted has no decimals.
    """
    if value is None:
        return ""
    return f"{value + 0.0:.0f}" if unit == COUNTED else shown.figure(value)


def signed(value: float | None, unit: str = "") -> str:
    """A margin with its sign; "" for none. What is counted has none where nothing is wrong."""
    if value is None:
        return ""
    return plain(value, unit) if unit == COUNTED else shown.signed(value)


def margin(value: float | None, of: str) -> str:
    """A margin with its unit: "-5.38 dB"; of faults how many there are: "1 fault"; "" for none."""
    if value is None:
        return ""
    if of == COUNTED:
        return counted(round(-value), "fault") if value else "no faults"
    return f"{signed(value, of)} {unit(of)}"


def megahertz(value: float | None) -> str:
    """A frequency without its unit, as exact as the judgement has it; "" for none."""
    return "" if value is None else phrases.frequency(value).removesuffix(" MHz")


def unit(name: str) -> str:
    """A unit as people write it."""
    return {"percent": "%"}.get(name, name)


def counted(count: int, word: str) -> str:
    """A count with its word: "1 test", "2 tests", with commas from a thousand on."""
    return f"{count:,} {word}" if count == 1 else f"{count:,} {word}s"
