"""The rule about the text that the source printed for a figure."""

import re
from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Any

from sweepbook.dialect.units import spellings_of, unit_of
from sweepbook.judging.phrases import subject
from sweepbook.rules.case import Case
from sweepbook.rules.model import Hit

Printed = tuple[str, Mapping[str, Any], Mapping[str, Any], str]
"""JSON path of a figure with a text, what it is of, the object that has both, its member."""
_QUANTITIES = {
    "db": "loss",
    "ns": "delay",
    "m": "length",
    "ohm": "resistance",
    "percent": "unbalance",
}
"""What a figure is, by the end of its member's name."""
_OF_SCALARS = ("length_m", "delay_ns", "resistance_ohm", "unbalance_percent", "value_db")
_OF_ITEMS = {
    "worst_margin": tuple(f"margin_{unit}" for unit in _QUANTITIES),
    "worst_value": tuple(f"value_{unit}" for unit in _QUANTITIES),
}
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
    for path, item, of, member in _printed(case.document):
        text, value = of["as_stated"], of[member]
        if _plainly(text) == abs(value) or _fits(text, value, member, of.get("resolution")):
            continue
        what = subject(item["parameter"], item.get("end"), item.get("pairs", ()))
        unit = member.rpartition("_")[2].replace("db", "dB")
        yield Hit(path, {"what": what, "text": text, "figure": f"{value:.10g} {unit}"})


def _printed(document: Mapping[str, Any]) -> Iterator[Printed]:
    """Every figure that has the source's text beside it."""
    for number, scalar in enumerate(document.get("results", {}).get("scalars", ())):
        if "as_stated" in scalar:
            member = next(name for name in _OF_SCALARS if name in scalar)
            yield f"$.results.scalars[{number}]", scalar, scalar, member
    for number, item in enumerate(document.get("stated", {}).get("items", ())):
        for group, members in _OF_ITEMS.items():
            if group in item:
                of = item[group]
                member = next(name for name in members if name in of)
                yield f"$.stated.items[{number}].{group}", item, of, member


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
