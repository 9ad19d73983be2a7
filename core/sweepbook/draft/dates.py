"""The form of dates and times in an export, as a dialect writes it."""

import re
from collections.abc import Sequence
from typing import NamedTuple

_DAY = r"(?P<a>[0-9]{1,4})(?P<s>[-./ ])(?P<b>[0-9]{1,2}|[A-Za-z]{3,9}\.?)(?P=s)(?P<c>[0-9]{2,4})"
_AT = (
    r"(?P<h>[0-9]{1,2})(?P<t>[:.h])[0-9]{2}"
    r"(?P<sec>(?P=t)[0-9]{2}(?:\.[0-9]+)?)?"
    r"(?P<tail> ?(?:Uhr|hrs?|h|hod\.?|u))?"
    r"(?P<apgap> ?)(?P<ap>[AaPp]\.?[Mm]\.?)?"
    r"(?P<zgap> ?)(?P<zone>Z|[+-][0-9]{2}:?[0-9]{2}|[A-Z]{3,5}|[A-Z][A-Za-z]+/[A-Za-z_/]+)?"
)
_WEEKDAY = r"(?:[^\W\d_]{2,10}\.?(?P<wgap>,? ))?"
_WHOLE = re.compile(rf"{_WEEKDAY}{_DAY}(?:(?P<gap>[T ,]{{1,2}}){_AT})?")
_CLOCK = re.compile(_AT)
_HOURS = 24
YEAR = 2026
"""Taken where dates show no year."""


class DateForms(NamedTuple):
    """Forms that fit.

    Attributes:
        forms: one, or two where day and month cannot be told apart.
        why: what the order rests on, in words.
        sure: whether the texts show the order.
        zoned: whether the texts name their zone.
    """

    forms: tuple[str, ...]
    why: str
    sure: bool
    zoned: bool


def is_time(text: str) -> bool:
    """Whether a text is a date with a time of day."""
    match = _WHOLE.fullmatch(text.strip())
    return match is not None and match["h"] is not None


def names_zone(text: str) -> bool:
    """Whether a text is a time that names its zone."""
    match = _WHOLE.fullmatch(text.strip())
    return match is not None and bool(match["zone"])


def zone_names(texts: Sequence[str]) -> list[str]:
    """The short names of zones, such as CEST, that stand in times."""
    matches = (_WHOLE.fullmatch(text.strip()) for text in texts)
    names = (match["zone"] for match in matches if match and match["zone"])
    return [name for name in dict.fromkeys(names) if name.isalpha() and name != "Z"]


def year_of(texts: Sequence[str]) -> int:
    """The year of the first of some dates; YEAR where none shows one."""
    for text in texts:
        if match := _WHOLE.fullmatch(text.strip()):
            year = match["a"] if len(match["a"]) == 4 else match["c"]
            if len(year) in (2, 4):
                return int(year) + (2000 if len(year) == 2 else 0)
    return YEAR


def is_day(text: str) -> bool:
    """Whether a text is a date, with or without a time of day."""
    return _WHOLE.fullmatch(text.strip()) is not None


def is_clock(text: str, *, asked: bool = False) -> bool:
    """Whether a text is a time of day alone.

    Args:
        text: the text.
        asked: whether its key asks for one; else 17.05 is a number.
    """
    match = _CLOCK.fullmatch(text.strip())
    if match is None or int(match["h"]) >= _HOURS:
        return False
    number = match["t"] == "." and not (match["sec"] or match["tail"] or match["ap"])
    return asked or not number


def forms(texts: Sequence[str], *, foreign: bool = False) -> DateForms | None:
    """The form of dates that are all written alike; None where a text is no date.

    Args:
        texts: the dates.
        foreign: whether the words around them are of another language than English: of those that
            are known here, none puts the month before the day.
    """
    matches = [_WHOLE.fullmatch(text.strip()) for text in texts]
    found = [match for match in matches if match]
    if not found or len(found) != len(matches):
        return None
    before, time = _weekday(found[0]), _time(found[0])
    mark, zoned = found[0]["s"], any(match["zone"] for match in found)
    if any(match["b"][0].isalpha() for match in found):
        year = "YYYY" if len(found[0]["c"]) == 4 else "YY"
        return DateForms(
            (f"{before}DD{mark}MON{mark}{year}{time}",), "the month has a name", True, zoned
        )
    if all(len(match["a"]) == 4 for match in found):
        why = "the year comes first, then month and day"
        return DateForms((f"{before}YYYY{mark}MM{mark}DD{time}",), why, True, zoned)
    year = "YYYY" if all(len(match["c"]) == 4 for match in found) else "YY"
    day_first = f"{before}DD{mark}MM{mark}{year}{time}"
    month_first = f"{before}MM{mark}DD{mark}{year}{time}"
    if any(int(match["a"]) > 12 for match in found):
        return DateForms((day_first,), "a first number is above 12, so the day", True, zoned)
    if any(int(match["b"]) > 12 for match in found):
        return DateForms((month_first,), "a second number is above 12, so the day", True, zoned)
    if mark == ".":
        why = "where points part a date the day comes first, by custom"
        return DateForms((day_first,), why, False, zoned)
    if foreign:
        why = "no number is above 12; in the language of the words the day comes first"
        return DateForms((day_first,), why, False, zoned)
    why = (
        "no number is above 12, so day and month cannot be told apart; with both forms a date that "
        "fits both is kept as stated and told: take out the wrong form"
    )
    return DateForms((day_first, month_first), why, False, zoned)


def _weekday(match: re.Match[str]) -> str:
    """The part of a form for the name of the day of the week, and what stands behind it."""
    return "" if match["wgap"] is None else f"DAY{match['wgap']}"


def _time(match: re.Match[str]) -> str:
    if match["h"] is None:
        return ""
    parts = [match["gap"], "hh", match["t"], "mm"]
    parts += [match["t"], "ss"] if match["sec"] else []
    parts += [match["tail"] or ""]
    parts += [match["apgap"], "ap"] if match["ap"] else []
    gap = match["zgap"] if match["ap"] else match["apgap"]
    parts += [gap, "zone"] if match["zone"] else []
    return "".join(parts)
