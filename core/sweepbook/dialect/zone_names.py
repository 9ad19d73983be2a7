"""What short names of zones, such as CEST, may stand for: an offset, or several."""

from collections.abc import Iterator, Mapping
from datetime import datetime, timedelta
from functools import cache

_YEARS = {
    ("MEZ", "MESZ"): ("CET", "CEST"),
    ("OEZ", "OESZ"): ("EET", "EEST"),
    ("WEZ", "WESZ"): ("WET", "WEST"),
    ("HNEC", "HEEC"): ("CET", "CEST"),
    ("HEC", "HAEC"): ("CET", "CEST"),
    ("SEČ", "SELČ"): ("CET", "CEST"),
}
"""What one clock says in winter and in summer in other languages than English, by its names in the
zone data: common practice, no source."""
_CALLED = {own: of for names in _YEARS.items() for own, of in zip(*names, strict=True)}
_BESIDE: Mapping[str, Mapping[str, str]] = {
    "BST": {"+06:00": "Asia/Dhaka", "+11:00": "Pacific/Bougainville"},
    "AST": {"+03:00": "Asia/Riyadh"},
    "ADT": {"+04:00": "Asia/Baghdad"},
    "EST": {"+10:00": "Australia/Sydney"},
    "EDT": {"+11:00": "Australia/Sydney"},
    "CDT": {"+10:30": "Australia/Adelaide"},
    "WST": {"+08:00": "Australia/Perth", "+13:00": "Pacific/Apia"},
    "MST": {"+08:00": "Asia/Kuala_Lumpur"},
    "SST": {"+08:00": "Asia/Singapore"},
    "GST": {"+04:00": "Asia/Dubai", "-02:00": "Atlantic/South_Georgia"},
}
"""Further zones that people and machines call so, though the zone data does not: recalled."""
_UNIVERSAL = ("UTC", "GMT", "UT")
_MONTHS = (1, 7)
"""Whatever a clock says in a year it says in one of these, where summers have a time of their own.
"""

_ANY_YEAR = 2026
"""For whether a text is a name at all."""

Meanings = Mapping[str, tuple[str, ...]]
"""Zones by the offset from UTC, +hh:mm."""


def meanings(name: str, year: int) -> Meanings:
    """The offsets that a short name may stand for in a year, each with the zones that it is of.

    What clocks show is that of the IANA time zone data of this machine.
    """
    if name in _UNIVERSAL:
        return {"+00:00": ("UTC",)}
    found = dict(_of_data(year).get(_CALLED.get(name, name), {}))
    for offset, zone in _BESIDE.get(name, {}).items():
        found[offset] = (*found.get(offset, ()), zone)
    return found


def is_one(text: str) -> bool:
    """Whether a text is a short name of a zone."""
    return bool(meanings(text, _ANY_YEAR))


def other_half(name: str, offset: str, year: int) -> str:
    """What a clock that says a short name says in the other half of a year.

    "" for one that says the same all year, where such clocks differ, and for UTC and GMT.

    Args:
        name: the short name, of summer or winter time.
        offset: that goes with it, +hh:mm.
        year: the year.
    """
    for pair in _YEARS:
        if name in pair:
            return pair[name == pair[0]]
    regions = () if name in _UNIVERSAL else _of_data(year).get(name, {}).get(offset, ())
    said = {of for region in regions for of, _ in _clock(region, year)}
    others = [of for of in said - {name} if of[0].isalpha()]
    return others[0] if len(others) == 1 else ""


def stays(name: str, offset: str, year: int) -> bool:
    """Whether the clocks at an offset are there all year: those that say so, if a name is given.

    Args:
        name: a short name, or "".
        offset: +hh:mm.
        year: the year.
    """
    if name in _UNIVERSAL:
        return True
    clocks = [list(_clock(region, year)) for region in regions()]
    said = [of for of in clocks if any(at == offset and name in ("", by) for by, at in of)]
    return bool(said) and all(len({at for _, at in of}) == 1 for of in said)


@cache
def _of_data(year: int) -> Mapping[str, Meanings]:
    """What each short name of the zone data stands for."""
    found: dict[str, dict[str, list[str]]] = {}
    for region in regions():
        for name, offset in _clock(region, year):
            if name[0].isalpha():
                known = found.setdefault(name, {}).setdefault(offset, [])
                known += [] if region in known else [region]
    return {
        name: {offset: tuple(zones) for offset, zones in some.items()}
        for name, some in found.items()
    }


def _clock(region: str, year: int) -> Iterator[tuple[str, str]]:
    """The names that the clock of a place says in a year, each with its offset."""
    from zoneinfo import ZoneInfo

    zone = ZoneInfo(region)
    for month in _MONTHS:
        at = datetime(year, month, 15, 12, tzinfo=zone)
        name, offset = at.tzname(), at.utcoffset()
        if name and offset is not None:
            yield name, _written(offset)


@cache
def regions() -> tuple[str, ...]:
    """The zones of places, as Europe/Lisbon, in the order of their names."""
    from zoneinfo import available_timezones

    return tuple(
        name for name in sorted(available_timezones()) if "/" in name and name[:4] != "Etc/"
    )


def _written(offset: timedelta) -> str:
    minutes = round(offset.total_seconds() / 60)
    return f"{'-' if minutes < 0 else '+'}{abs(minutes) // 60:02}:{abs(minutes) % 60:02}"
