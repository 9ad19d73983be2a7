"""What short names of zones, such as CEST, may stand for: an offset, or several."""

from collections.abc import Mapping
from datetime import datetime, timedelta
from functools import cache

_CALLED = {
    **{"MEZ": "CET", "MESZ": "CEST", "OEZ": "EET", "OESZ": "EEST", "WEZ": "WET", "WESZ": "WEST"},
    **{"HNEC": "CET", "HEEC": "CEST", "HEC": "CET", "HAEC": "CEST"},
}
"""Names in other languages than English, by those of the zone data: common practice, no source."""
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


@cache
def _of_data(year: int) -> Mapping[str, Meanings]:
    """What each short name of the zone data stands for."""
    from zoneinfo import ZoneInfo

    found: dict[str, dict[str, list[str]]] = {}
    for region in regions():
        zone = ZoneInfo(region)
        for month in _MONTHS:
            at = datetime(year, month, 15, 12, tzinfo=zone)
            name, offset = at.tzname(), at.utcoffset()
            if name and name[0].isalpha() and offset is not None:
                known = found.setdefault(name, {}).setdefault(_written(offset), [])
                known += [] if region in known else [region]
    return {
        name: {offset: tuple(zones) for offset, zones in some.items()}
        for name, some in found.items()
    }


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
