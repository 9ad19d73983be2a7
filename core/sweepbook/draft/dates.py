"""The form of dates and times in an export, as a dialect writes it."""

import re
from collections.abc import Sequence
from typing import NamedTuple

from sweepbook.dialect import half_days
from sweepbook.dialect.half_days import HALVES
from sweepbook.dialect.months import MONTHS
from sweepbook.draft import clock_notes, day_order
from sweepbook.word_lists import words_of

_MONTH = r"[^\W\d_]{3,14}\.?"
_DAY = (
    rf"(?P<a>[0-9]{{1,4}})(?P<s>\. |[-./ ])(?P<b>[0-9]{{1,2}}|{_MONTH})(?P=s)(?P<c>[0-9]{{2,4}})"
    rf"|(?P<day>[0-9]{{1,2}}\b)(?P<dm>\.? | de )(?P<month>{_MONTH})(?P<my>,? | del? )"
    r"(?P<year>[0-9]{4}\b)(?P<tailed> r\.)?"
    rf"|(?P<first>{_MONTH} )(?P<second>[0-9]{{1,2}}\b)(?P<then>,? )(?P<last>[0-9]{{4}}\b)"
    r"|(?P<counted>[0-9]{4})(?P<cy>[年년])(?P<gaps> ?)"
    r"[0-9]{1,2}(?P<cm>[月월])(?P=gaps)[0-9]{1,2}(?P<cd>[日일])"
)
"""Three parts between marks; the name of a month among other words; such a name before them; and
each part before the word that says what it counts."""
_ZONE = (
    r"Z|[+-][0-9]{2}:?[0-9]{2}|(?:UTC|GMT)[+-][0-9]{1,2}(?::?[0-9]{2})?"
    r"|[A-Z]{3,5}|[A-Z][A-Za-z]+/[A-Za-z_/]+"
)
_HALF = f"(?i:{half_days.expression(tuple(HALVES))})"
_UNKNOWN_BEFORE = r"[^\W\d_\x00-\u024f年월月日일]{2,12}"
_UNKNOWN_BEHIND = r"(?![A-Z])[^\W\d_][^\d:;,/]{1,13}"
"""What may say which half of the day an hour is in, in words that are not known."""
_AT = (
    r"(?:(?P<first_ap>{before})(?P<first_gap>[\s\u00a0]?))?"
    r"(?P<h>[0-9]{{1,2}})(?P<t>[:.]|(?P<word>{hours})|[時时点點] ?|시 ?)[0-9]{{2}}"
    r"(?P<sec>(?:(?P=t)|(?P<m>{minutes}|[分분] ?|(?(word)[:.]|(?!))))[0-9]{{2}}(?:\.[0-9]+)?)?"
    r"(?P<tail>(?: ?(?:Uhr|hrs?|h|hod\.?|u)|(?(word){counted}|(?!)))(?![^\W\d_])|[分秒분초])?"
    r"(?P<apgap>[\s\u00a0]?)(?P<ap>{behind})?"
    r"(?P<zgap> ?)(?:(?P<open>\()?"
    rf"(?P<zone>{_ZONE.replace('{', '{{').replace('}', '}}')})(?(open)\)))?"
)
_BLANK = r"[\s\u00a0]?"
_HOURS_ARE, _MINUTES_ARE, _SECONDS_ARE = (
    "|".join(map(re.escape, sorted(words_of(words), key=len, reverse=True)))
    for words in (
        "h, uhr, ч, ч., giờ, óra, sa",
        "m, min, min., mn, мин, мин., phút, perc, dk, dk.",
        "s, sec, sec., sek, sek., с, с., сек, сек., giây, mp, sn, sn.",
    )
)
"""Words behind the number of hours, of minutes and of seconds: common practice, no source."""
_COUNTED_IN = {
    "hours": f"{_BLANK}(?i:{_HOURS_ARE}){_BLANK}",
    "minutes": f"{_BLANK}(?i:{_MINUTES_ARE}){_BLANK}",
    "counted": f"{_BLANK}(?i:{_MINUTES_ARE}|{_SECONDS_ARE})",
}
_KNOWN_AT = _AT.format(before=_HALF, behind=rf"{_HALF}(?![^\W\d_])", **_COUNTED_IN)
_ANY_AT = _AT.format(
    before=f"{_HALF}|{_UNKNOWN_BEFORE}",
    behind=rf"{_HALF}(?![^\W\d_])|{_UNKNOWN_BEHIND}",
    **_COUNTED_IN,
)
_ARTICLE = "(?i:den|dne|dnia|am|le|el|il|op|em|on|the) "
"""What may stand before a day in some languages."""
_WEEKDAY = (
    rf"(?:(?!{_ARTICLE})(?P<weekday>[^\W\d_]{{2,14}}\.?)(?P<wgap>,? ))?(?P<article>{_ARTICLE})?"
)
_GAP = r",? (?:à|um|alle ore|ore|a las|às|o godz\.|o|v|kl\.?|at|в|о) |[T ,]{1,2}|(?<=[日일])"
_WHOLE = re.compile(rf"{_WEEKDAY}(?:{_DAY})(?:(?P<gap>{_GAP}){_ANY_AT})?")
_CLOCK_FIRST = re.compile(
    rf"{_KNOWN_AT}(?P<gap>[ ,]{{1,2}}){_WEEKDAY}(?:{_DAY})"
    rf"(?:(?P<lgap> )(?P<lopen>\()?(?P<lzone>{_ZONE})(?(lopen)\)))?"
)
_CLOCK = re.compile(_KNOWN_AT)
_HOURS = 24
_NOON = 12
_NAMED = "the month has a name"
_COUNTED = "year, month and day are called so"
YEAR = 2026
"""Taken where dates show no year."""


class DateForms(NamedTuple):
    """Forms that fit.

    Attributes:
        forms: one, or two where day and month cannot be told apart.
        why: what the order rests on, in words.
        sure: whether the texts show the order.
        zoned: whether the texts name their zone.
        halves: words that are not known where those for half of the day stand.
        note: words in brackets behind all times, which are part of the form; or "".
    """

    forms: tuple[str, ...]
    why: str
    sure: bool
    zoned: bool
    halves: tuple[str, ...] = ()
    note: str = ""


def _match(text: str) -> re.Match[str] | None:
    """A text as a date, with or without a time of day behind or before it."""
    text = clock_notes.parted(text)[0].strip()
    found = _WHOLE.fullmatch(text) or _CLOCK_FIRST.fullmatch(text)
    if found is None or (_half(found) and int(found["h"]) > _NOON):
        return None
    among = found["b"] if found["s"] == " " and found["b"][0].isalpha() else ""
    name = found["month"] or found["first"] or among
    return None if name and name.strip(". ").lower() not in MONTHS else found


def is_time(text: str) -> bool:
    """Whether a text is a date with a time of day."""
    match = _match(text)
    return match is not None and match["h"] is not None


def names_zone(text: str) -> bool:
    """Whether a text is a time that names its zone."""
    match = _match(text)
    return match is not None and bool(_zone(match))


def zone_names(texts: Sequence[str]) -> list[str]:
    """The short names of zones, such as CEST or UTC-5, that stand in times."""
    names = (_zone(match) for match in map(_match, texts) if match)
    return [of for of in dict.fromkeys(names) if of[:1].isalpha() and "/" not in of and of != "Z"]


def year_of(texts: Sequence[str]) -> int:
    """The year of the first of some dates; YEAR where none shows one."""
    for match in map(_match, texts):
        if match:
            year = match["year"] or match["last"] or match["counted"]
            year = year or (match["a"] if len(match["a"]) == 4 else match["c"])
            if len(year) in (2, 4):
                return int(year) + (2000 if len(year) == 2 else 0)
    return YEAR


def is_day(text: str) -> bool:
    """Whether a text is a date, with or without a time of day."""
    return _match(text) is not None


def is_clock(text: str, *, asked: bool = False) -> bool:
    """Whether a text is a time of day alone.

    Args:
        text: the text.
        asked: whether its key asks for one; else 17.05 is a number.
    """
    match = _CLOCK.fullmatch(clock_notes.parted(text)[0].strip())
    if match is None or int(match["h"]) >= _HOURS:
        return False
    number = match["t"] == "." and not (match["sec"] or match["tail"] or _half(match))
    return asked or not number


def forms(
    texts: Sequence[str],
    *,
    foreign: bool = False,
    feet: bool = False,
    others: Sequence[str] = (),
) -> DateForms | None:
    """The form of dates that are all written alike; None where a text is no date.

    Args:
        texts: the dates.
        foreign: whether the words around them are of another language than English: of those that
            are known here, none puts the month before the day.
        feet: whether lengths are in feet: where they are, the month comes first, by custom.
        others: further dates of the export, which may show what these leave open.
    """
    found = [match for match in map(_match, texts) if match]
    if not found or len(found) != len(texts):
        return None
    further = [match for match in map(_match, others) if match]
    days, why, sure = _days(found, further, foreign=foreign, feet=feet)
    notes = {clock_notes.parted(text)[1] for text in texts}
    if len(notes) > 1:
        return None  # forms that differ by such words alone are none of two kinds of times
    (note,) = notes
    whole = tuple(f"{_around(found[0], day)}{note}" for day in days)
    words = dict.fromkeys(word for word in map(_half, found) if word)
    unknown = tuple(word for word in words if half_days.said(word) not in HALVES)
    return DateForms(whole, why, sure, any(map(_zone, found)), unknown, note.strip(" ()"))


def _days(
    found: Sequence[re.Match[str]],
    others: Sequence[re.Match[str]],
    *,
    foreign: bool,
    feet: bool,
) -> tuple[Sequence[str], str, bool]:
    """The forms of days, what their order rests on, and whether the texts show it."""
    one = found[0]
    if form := _told(one):
        return [form], _COUNTED if one["counted"] else _NAMED, True
    mark, same = one["s"], [match for match in found if match["s"]]
    if any(match["b"][0].isalpha() for match in same):
        year = "YYYY" if len(one["c"]) == 4 else "YY"
        first = len(one["a"]) == 4
        form = f"YYYY{mark}MON{mark}DD" if first else f"DD{mark}MON{mark}{year}"
        return [form], _NAMED, True
    if all(len(match["a"]) == 4 for match in same):
        why = "the year comes first, then month and day"
        return [f"YYYY{mark}MM{mark}DD"], why, True
    year = "YYYY" if all(len(match["c"]) == 4 for match in same) else "YY"
    day_first, month_first = f"DD{mark}MM{mark}{year}", f"MM{mark}DD{mark}{year}"
    if any(int(match["a"]) > 12 for match in same):
        return [day_first], "a first number is above 12, so the day", True
    if any(int(match["b"]) > 12 for match in same):
        return [month_first], "a second number is above 12, so the day", True
    if shown := day_order.shown_by(others, mark):
        why = f"no number is above 12; another date of the export shows it: {shown.text!r}"
        return [day_first if shown.day_first else month_first], why, False
    return *_by_custom(same, day_first, month_first, foreign=foreign, feet=feet), False


def _by_custom(
    dates: Sequence[re.Match[str]], day_first: str, month_first: str, *, foreign: bool, feet: bool
) -> tuple[Sequence[str], str]:
    """The form of days that show no order, and what it rests on; both where nothing tells."""
    if dates[0]["s"] == ".":
        return [day_first], "where points part a date the day comes first, by custom"
    if foreign:
        why = "no number is above 12; in the language of the words the day comes first"
        return [day_first], why
    if feet:
        why = "no number is above 12; where lengths are in feet the month comes first, by custom"
        return [month_first], why
    why = (
        "no number is above 12, so day and month cannot be told apart; with both forms a date that "
        f"fits both is kept as stated and told. Take one out of forms: that with {month_first} if "
        f"the export writes the day first, else that with {day_first}"
    )
    spans = day_order.spans(dates)
    if None in spans or spans[0] == spans[1]:
        return [day_first, month_first], why
    each = zip((day_first, month_first), spans, strict=True)
    ordered = sorted(each, key=lambda of: of[1] or 0)
    told = " and by ".join(f"{form} within {days} days" for form, days in ordered)
    why += f". By {told} of each other, so that the first is likelier"
    return [form for form, _ in ordered], why


def _told(one: re.Match[str]) -> str:
    """The form of a day whose parts stand among words; "" for one between marks."""
    if one["month"]:
        return f"DD{one['dm']}MON{one['my']}YYYY{one['tailed'] or ''}"
    if one["first"]:
        return f"MON DD{one['then']}YYYY"
    if one["counted"]:
        return f"YYYY{one['cy']}{one['gaps']}MM{one['cm']}{one['gaps']}DD{one['cd']}"
    return ""


def _around(match: re.Match[str], day: str) -> str:
    """The form of a day with what stands around it: name of the day, and time of day."""
    day = f"{match['article'] or ''}{day}"
    day = day if match["wgap"] is None else f"DAY{match['wgap']}{day}"
    if match["h"] is None:
        return day
    if match.re is _CLOCK_FIRST:
        zone = f"{match['lgap']}{_written('zone', match['lopen'])}" if match["lzone"] else ""
        return f"{_time(match)}{match['gap']}{day}{zone}"
    return f"{day}{match['gap']}{_time(match)}"


def _half(match: re.Match[str]) -> str:
    """The word for half of the day, or ""."""
    return (match["first_ap"] or match["ap"] or "").strip()


def _zone(match: re.Match[str]) -> str:
    """The zone that a time names, or ""."""
    return match["zone"] or match.groupdict().get("lzone") or ""


def _time(match: re.Match[str]) -> str:
    parts = [f"ap{match['first_gap']}"] if match["first_ap"] else []
    parts += ["hh", match["t"], "mm"]
    parts += [match["m"] or match["t"], "ss"] if match["sec"] else []
    parts += [match["tail"] or ""]
    parts += [match["apgap"], "ap"] if match["ap"] else []
    gap = match["zgap"] if match["ap"] else match["apgap"]
    parts += [gap, _written("zone", match["open"])] if match["zone"] else []
    return "".join(parts)


def _written(zone: str, bracket: str | None) -> str:
    """The word for a zone in a form, in brackets where it stands in them."""
    return f"({zone})" if bracket else zone
