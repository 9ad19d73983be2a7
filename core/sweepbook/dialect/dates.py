"""Dates and times: from the text of an export to RFC 3339, with how the zone is known.

A form is written with the letters YYYY, YY, MM, DD, hh, mm, ss, MON (name of the month), DAY (name
of the day of the week, which is passed over), ap (a word for half of the day) and zone (an offset,
a declared name or one such as Europe/Lisbon); everything else stands for itself.
"""

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta, timezone, tzinfo
from functools import lru_cache
from typing import NamedTuple

from sweepbook.dialect import half_days
from sweepbook.dialect.half_days import HALVES, Beside
from sweepbook.dialect.months import MONTHS

_OFFSET = re.compile(r"([+-])([0-9]{2}):?([0-9]{2})")
_OF_UTC = re.compile(r"(?:UTC|GMT)([+-])([0-9]{1,2})(?::?([0-9]{2}))?")
_PIECES = {
    "YYYY": r"(?P<year>[0-9]{4})",
    "YY": r"(?P<year>[0-9]{2})",
    "MM": r"(?P<month>[0-9]{1,2})",
    "DD": r"(?P<day>[0-9]{1,2})",
    "MON": r"(?P<monthname>[^\W\d_]+)\.?",
    "DAY": r"(?P<weekday>[^\W\d_]+)\.?",
    "hh": r"(?P<hour>[0-9]{1,2})",
    "mm": r"(?P<minute>[0-9]{2})",
    "ss": r"(?P<second>[0-9]{2}(?:\.[0-9]+)?)",
    "ap": r"(?P<half>{halves})",
    "zone": r"(?P<zone>\S+)",
}
LETTERS = re.compile("YYYY|YY|MON|DAY|MM|DD|hh|mm|ss|ap|zone")
"""What stands for parts of a time in a form."""
_CLOCK = ("hh", "mm", "ss")


class Stamp(NamedTuple):
    """A time as a record keeps it.

    Attributes:
        as_stated: the text of the export.
        rfc3339: date and time; the offset "-00:00" where the zone is not known.
        zone: name or offset of the zone, or "" where unknown.
        zone_source: stated, dialect or unknown.
        day: the local calendar day.
        doubt: what could not be settled, in words; "" otherwise.
    """

    as_stated: str
    rfc3339: str
    zone: str
    zone_source: str
    day: date
    doubt: str


class NotADate(ValueError):
    """A text fits none of the declared forms, or names a day that does not exist."""


@dataclass(frozen=True, slots=True)
class Calendar:
    """How an export writes dates and times.

    Attributes:
        forms: forms, all of which are tried; if several fit they must agree.
        zone: IANA name, offset such as "+01:00", or "" for unknown.
        offsets: offset by the zone's name in the text, e.g. {"CEST": "+02:00"}.
        months: month numbers by lower-case name.
        halves: what a word for half of the day adds to the hour, as `half_days.halves_of` has it.
        repeated_hour: first or second, which of the two a time is that the clock of the zone
            showed twice; "" where nothing says so.
    """

    forms: Sequence[str] = ("YYYY-MM-DDThh:mm:sszone", "YYYY-MM-DD")
    zone: str = ""
    offsets: Mapping[str, str] = field(default_factory=dict)
    months: Mapping[str, int] = field(default_factory=lambda: MONTHS)
    halves: Mapping[str, int] = field(default_factory=lambda: HALVES)
    repeated_hour: str = ""

    def stamp(self, text: str) -> Stamp:
        """Read a date with a time of day.

        Raises:
            NotADate: no form with hours and minutes fits, or two fit and differ.
        """
        forms = [form for form in self.forms if "hh" in form]
        found = self._only(text, forms, "dates.forms with hh and mm")
        return _stamped(text, found, self)

    def day(self, text: str) -> date:
        """Read a calendar day; a time of day beside it is left out.

        Raises:
            NotADate: no form fits, or two fit and differ.
        """
        return self._only(text, self.forms, "dates.forms").local.date()

    def _only(self, text: str, forms: Sequence[str], key: str) -> "_Reading":
        fitting = {form: of for form in forms if (of := _read(text.strip(), form, self))}
        found = list(fitting.values())
        if not found:
            if name := next(filter(None, (_strange(text, form, self) for form in forms)), ""):
                raise NotADate(
                    f"{text!r} has {name!r} where the name of a month belongs, which is none that "
                    "is known; list the twelve that the export writes in dates.months"
                )
            if word := next(filter(None, (_strange_half(text, form) for form in forms)), ""):
                raise NotADate(
                    f"{text!r} has {word!r} where the word for half of the day belongs, which is "
                    "none that is known; list the words of the export in dates.before_noon and "
                    "dates.after_noon"
                )
            listed = ", ".join(repr(form) for form in forms) or "no form at all"
            raise NotADate(f"{text!r} is no date or time of the form {listed}; change {key}")
        if any(other != found[0] for other in found[1:]):
            listed = " and ".join(map(repr, fitting))
            raise NotADate(
                f"{text!r} fits {listed} and means two things; take the one out of dates.forms "
                "that the export does not write"
            )
        return found[0]


class _Reading(NamedTuple):
    local: datetime
    zone: str


@lru_cache(maxsize=64)
def pattern(form: str, halves: tuple[str, ...] = tuple(HALVES)) -> re.Pattern[str]:
    """The expression that a form stands for.

    Args:
        form: the form.
        halves: words for half of the day; any text of letters is one if there are none.

    Raises:
        ValueError: the form lacks year, month or day, has one of the letters twice, or ap without
            an hour.
    """
    names = LETTERS.findall(form)
    kinds = [name.replace("YYYY", "YY").replace("MON", "MM") for name in names]
    doubled = {kind for kind in kinds if kinds.count(kind) > 1}
    if doubled or not {"YY", "MM", "DD"} <= set(kinds):
        raise ValueError("a form names year (YYYY or YY), month (MM or MON) and day (DD) once each")
    if "ap" in names and "hh" not in names:
        raise ValueError("ap says which half of the day an hour is in, and hh is missing")
    parts, rest = [], 0
    for match in LETTERS.finditer(form):
        piece = _PIECES[match.group()].replace("{halves}", half_days.expression(halves))
        parts += [re.escape(form[rest : match.start()]), piece]
        rest = match.end()
    return re.compile("".join([*parts, re.escape(form[rest:])]), re.IGNORECASE)


def beside_clock(form: str) -> Iterator[Beside]:
    """The words of letters that stand next to the clock in a form without ap."""
    found = list(LETTERS.finditer(form))
    clock = [at for at, match in enumerate(found) if match.group() in _CLOCK]
    if not clock or any(match.group() == "ap" for match in found):
        return
    for at in (clock[0], clock[-1] + 1):
        begin = found[at - 1].end() if at else 0
        end = found[at].start() if at < len(found) else len(form)
        text = form[begin:end]
        if any(map(str.isalpha, text)):
            follows = at < len(found) and found[at].group() not in _CLOCK
            yield Beside(form, text.strip(), f"{form[:begin]}\0{form[end:]}", follows)


def zone_of(name: str) -> tzinfo:
    """The zone of an IANA name or of an offset such as "+01:00".

    Raises:
        ValueError: there is no such zone, or this machine has no zone data.
    """
    if offset := offset_of(name):
        return offset
    from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, OSError, ValueError) as error:
        raise ValueError(
            f"there is no time zone {name!r} on this machine; write an IANA name such as "
            "'Europe/Lisbon' or an offset such as '+01:00', or install the package tzdata"
        ) from error


def offset_of(text: str) -> timezone | None:
    """The fixed offset a text names, maybe from UTC by that name; None if it names none."""
    if text in ("Z", "z"):
        return UTC
    match = _OFFSET.fullmatch(text) or _OF_UTC.fullmatch(text)
    if not match or int(match[2]) > 23 or int(match[3] or 0) > 59:
        return None
    minutes = int(match[2]) * 60 + int(match[3] or 0)
    return timezone(timedelta(minutes=minutes if match[1] == "+" else -minutes))


def _read(text: str, form: str, calendar: Calendar) -> _Reading | None:
    """What a text means in a form; None if it does not fit or names no possible day or time."""
    match = pattern(form, tuple(calendar.halves)).fullmatch(text)
    if not match:
        return None
    parts = match.groupdict()
    part: Callable[[str], str] = lambda name: parts.get(name) or ""  # noqa: E731
    month = calendar.months.get(part("monthname").lower(), 0) if part("monthname") else 0
    year = int(part("year")) + (2000 if len(part("year")) == 2 else 0)
    seconds, _, fraction = (part("second") or "0").partition(".")
    hour: int | None = int(part("hour") or 0)
    if hour is not None and (half := half_days.said(part("half"))):
        hour = half_days.hour_of(hour, calendar.halves[half])
    if hour is None:
        return None
    try:
        local = datetime(
            year,
            month or int(part("month") or 0),
            int(part("day")),
            hour,
            int(part("minute") or 0),
            int(seconds),
            int(f"{fraction:0<6.6}"),
        )
    except ValueError:
        return None
    return _Reading(local, part("zone"))


def _strange(text: str, form: str, calendar: Calendar) -> str:
    """What stands for the name of a month where all else fits; "" where it is one, or none fits."""
    match = pattern(form, tuple(calendar.halves)).fullmatch(text.strip())
    name: str = (match.groupdict().get("monthname") or "") if match else ""
    return "" if name.lower() in calendar.months else name


def _strange_half(text: str, form: str) -> str:
    """What stands for the word for half of the day where all else fits; "" where nothing does."""
    match = pattern(form, ()).fullmatch(text.strip()) if "ap" in form else None
    return match["half"].strip() if match else ""


def _stamped(text: str, reading: _Reading, calendar: Calendar) -> Stamp:
    """Put the zone on: the one in the text, else the dialect's, else unknown."""
    local, named = reading
    if named and named != "-00:00":
        offset = offset_of(calendar.offsets.get(named, named))
        if offset is not None:
            return Stamp(text, _rfc3339(local, offset), named, "stated", local.date(), "")
        if "/" not in named:
            raise NotADate(f"{text!r} names the zone {named!r}; add it to dates.offsets")
        try:
            return _in_zone(text, local, named, "stated", calendar)
        except ValueError as error:
            raise NotADate(f"{text!r}: {error}") from error
    if named or not calendar.zone:
        return Stamp(text, _rfc3339(local, None), "", "unknown", local.date(), "")
    return _in_zone(text, local, calendar.zone, "dialect", calendar)


def _in_zone(text: str, local: datetime, name: str, source: str, calendar: Calendar) -> Stamp:
    """A time by the clock of a zone.

    Raises:
        ValueError: there is no such zone.
    """
    zone = zone_of(name)
    doubt = _doubt(local, name, zone, calendar)
    if doubt:
        words = f"{text!r} {doubt}; its offset is kept as unknown"
        return Stamp(text, _rfc3339(local, None), "", "unknown", local.date(), words)
    local = local.replace(fold=int(calendar.repeated_hour == "second"))
    return Stamp(text, _rfc3339(local, zone), name, source, local.date(), "")


def _doubt(local: datetime, name: str, zone: tzinfo, calendar: Calendar) -> str:
    """What is wrong with a local time: it comes twice, or the clock never showed it."""
    early = local.replace(tzinfo=zone, fold=0).utcoffset()
    late = local.replace(tzinfo=zone, fold=1).utcoffset()
    if early == late or early is None or late is None:
        return ""
    if early < late:
        return f"was never on the clock in {name}; see dates.zone"
    if calendar.repeated_hour:
        return ""
    return (
        f"comes twice in {name}; if the export says which it is, as CET or CEST, add that "
        "to the key in fields and to dates.forms and dates.offsets; if the handbook does, see "
        "dates.repeated_hour"
    )


def _rfc3339(local: datetime, zone: tzinfo | None) -> str:
    """RFC 3339 text; without a zone the offset is "-00:00", not known (RFC 3339 section 4.3)."""
    if zone is None:
        return f"{local.isoformat()}-00:00"
    return local.replace(tzinfo=zone).isoformat()
