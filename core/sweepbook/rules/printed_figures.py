"""The rule about the text that the source printed for a figure."""

import re
from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Any

from sweepbook.dialect.units import spellings_of, unit_of
from sweepbook.judging.phrases import subject
from sweepbook.rules.case import Case
from sweepbook.rules.model import Hit

Printed = tuple[str, int, Mapping[str, Any], Mapping[str, Any], frozenset[str]]
"""JSON path with room for a number, that number, what a figure is of, the object that has figure
and text, and the members that the figure may be."""
_QUANTITIES = {
    "db": "loss",
    "ns": "delay",
    "m": "length",
    "ohm": "resistance",
    "percent": "unbalance",
}
"""What a figure is, by the end of its member's name."""
_OF_SCALARS = frozenset(("length_m", "delay_ns", "resistance_ohm", "unbalance_percent", "value_db"))
_MARGINS = frozenset(f"margin_{unit}" for unit in _QUANTITIES)
_VALUES = frozenset(f"value_{unit}" for unit in _QUANTITIES)
_MARKS = ".,'\N{RIGHT SINGLE QUOTATION MARK}"
_BLANKS = " \N{NO-BREAK SPACE}\N{THIN SPACE}\N{NARROW NO-BREAK SPACE}"
_NUMBER = re.compile(f"[0-9](?:[0-9{_MARKS}]*[0-9])?(?:[{_BLANKS}][0-9]{{3}}(?![0-9]))*")
_UNIT = re.compile(r"\s*([^\W\d_]+|%)")
_NEAR = Decimal("1e-9")
"""Parts of a figure: the nearest double is nearer than that to a decimal."""


def figures_are_as_printed(case: Case) -> Iterator[Hit]:
    """Yield the figures that no number in the text beside them makes.

    Compared are digits, since the unit that a dialect declares may move the mark, and the source
    may count a sign otherwise. Where the text names its unit the mark counts too, and where the
    figure has a resolution it is a whole number of these. A text without a number says nothing.
    """
    for place, number, item, of, members in _printed(case.document):
        text, member = of["as_stated"], next(iter(of))
        if member not in members:
            member = next(name for name in of if name in members)
        value = of[member]
        if _plainly(text) == abs(value) or _fits(text, value, member, of.get("resolution")):
            continue
        what = subject(item["parameter"], item.get("end"), item.get("pairs", ()))
        unit = member.rpartition("_")[2].replace("db", "dB")
        figure = f"{value:.10g} {unit}"
        yield Hit(place.format(number), {"what": what, "text": text, "figure": figure})


def _printed(document: Mapping[str, Any]) -> Iterator[Printed]:
    """Every figure that has the source's text beside it."""
    for number, scalar in enumerate(document.get("results", {}).get("scalars", ())):
        if "as_stated" in scalar:
            yield "$.results.scalars[{}]", number, scalar, scalar, _OF_SCALARS
    for number, item in enumerate(document.get("stated", {}).get("items", ())):
        if of := item.get("worst_margin"):
            yield "$.stated.items[{}].worst_margin", number, item, of, _MARGINS
        if of := item.get("worst_value"):
            yield "$.stated.items[{}].worst_value", number, item, of, _VALUES


def _plainly(text: str) -> float | None:
    """The number that a text is as a whole, without its sign; None where it is more or other."""
    try:
        return abs(float(text.replace(",", ".")))
    except ValueError:
        return None


def _fits(text: str, value: float, member: str, resolution: float | None) -> bool:
    """Whether a number of a text is a figure, or the text has none."""
    figure, quantity = abs(Decimal(repr(value))), _QUANTITIES[member.rpartition("_")[2]]
    found = list(_NUMBER.finditer(text))
    return not found or any(
        _is(number[0], _unit(text, number.end(), quantity), figure, quantity, resolution)
        for number in found
    )


def _unit(text: str, end: int, quantity: str) -> str | None:
    """The unit that is written behind a number, None for any other word."""
    written = _UNIT.match(text, end)
    return spellings_of(quantity).get(written[1]) if written else None


def _is(
    number: str, unit: str | None, figure: Decimal, quantity: str, resolution: float | None
) -> bool:
    """Whether a number makes a figure, in the unit written with it or in one that is not told."""
    digits = "".join(char for char in number if char.isdigit())
    if unit is not None:
        times = unit_of(quantity, unit)
        scale = times.factor or Decimal(1).scaleb(times.shift)
        return any(abs(one * scale - figure) <= _NEAR * figure for one in _readings(number, digits))
    if resolution is not None:
        return abs(int(digits) * Decimal(repr(resolution)) - figure) <= _NEAR * figure
    return digits.strip("0") == "".join(map(str, figure.as_tuple().digits)).strip("0")


def _readings(number: str, digits: str) -> Iterator[Decimal]:
    """A number as all of its marks part groups, and as the last one is the decimal mark."""
    yield Decimal(digits)
    last = max(map(number.rfind, _MARKS))
    if last >= 0:
        behind = sum(char.isdigit() for char in number[last:])
        yield Decimal(digits).scaleb(-behind)
