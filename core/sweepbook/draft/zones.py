"""Zones of times that an export names in a text of its own."""

import re
from collections.abc import Sequence
from typing import NamedTuple

from sweepbook.dialect import zone_names
from sweepbook.dialect.dates import LETTERS
from sweepbook.draft import phrases
from sweepbook.word_lists import words_of

_OFFSET = re.compile(r"(?:\b(?:UTC|GMT)\s?|^)([+\-\u2212])([0-9]{1,2})(?::?([0-9]{2}))?(?![0-9])")
_NAME = re.compile(r"\b[A-ZČ]{2,5}\b")
_BRACKETS = re.compile(r"[()\[\],;]")
_KEYS = words_of(
    """
    time zone, zone, tz, zeitzone, sommerzeit, fuseau, fuseau horaire, fuso, zona, zona horaria,
    huso horario, fuso orario, fuso horário, tijdzone, strefa, strefa czasowa, časové pásmo,
    pásmo, tidszone, tidssone, tidszon, időzóna, часовой пояс, saat dilimi, 时区, 시간대, clock
    """
)
"""What a key with the name of a zone is called: common practice, no source."""
_TIMES = words_of(
    """
    times, clock times, clock, clocks, uhrzeiten, zeiten, zeitangaben, heures, horas, orari, ore,
    tijden, godziny, časy, tider, klokkeslett
    """
)
"""What a line about the times of a file speaks of: common practice, no source."""
_UNIVERSAL = "UTC"
_MOST_WORDS = 3
"""More are a remark that names a zone, and no part of a time."""


class ZoneForms(NamedTuple):
    """How a dialect reads the texts.

    Attributes:
        behind: what stands behind a time in its form, one for each way to write it.
        offsets: by the text that stands where the form says zone, where that is no offset itself.
        unseen: those of `behind` that only the other half of a year has.
    """

    behind: tuple[str, ...]
    offsets: dict[str, str]
    unseen: tuple[str, ...] = ()


def offset_in(text: str) -> str | None:
    """The offset from UTC that a text names as +hh:mm; None where it names none.

    A bare number is one only with hours and minutes: a temperature is +01 too.
    """
    found = _OFFSET.search(text.strip())
    if found is None or (not found[3] and not found[0][0].isalpha()):
        return None
    if any(char.isdigit() for char in text.strip().replace(found[0], "", 1)):
        return None  # a time of something else, with its zone
    sign = "+" if found[1] == "+" else "-"
    return f"{sign}{int(found[2]):02}:{found[3] or '00'}"


def is_of_clocks(text: str) -> bool:
    """Whether a line says in which zone the times of its file are."""
    may = _UNIVERSAL in text or "/" in text or _OFFSET.search(text) is not None
    return may and phrases.has(text, (*_TIMES, *_KEYS)) and bool(_said(text))


def of_clocks(texts: Sequence[str], year: int) -> str | None:
    """The zone of all times by such lines, as a dialect writes it.

    None where they differ, and where clocks that say so say something else in the other half of the
    year, in which a file of the same make may be.

    Args:
        texts: the lines.
        year: of the times.
    """
    found = {_said(text) for text in texts}
    if len(found) != 1:
        return None
    (zone,) = found
    if "/" in zone:
        return zone
    names = [name for text in texts for name in _NAME.findall(text)]
    own = [of for of in names if of != _UNIVERSAL and zone in zone_names.meanings(of, year)]
    alone = not own and zone == _offset_of(_UNIVERSAL, year) and _UNIVERSAL in names
    name = _UNIVERSAL if alone else next(iter(own), "")
    return zone if zone_names.stays(name, zone, year) else None


def _said(text: str) -> str:
    """The place or the offset that a line names; "" where it names none."""
    universal = _UNIVERSAL in _NAME.findall(text) and not any(map(str.isdigit, text))
    return region_of(text) or offset_in(text) or ("+00:00" if universal else "")


def are_zones(key: str, texts: Sequence[str]) -> bool:
    """Whether all texts of a key say a zone: an offset, a place, or a short name if it asks so."""
    asked = phrases.has(key, _KEYS)
    return all(
        offset_in(text) or region_of(text) or (asked and _NAME.fullmatch(text.strip()))
        for text in texts
    )


def region_of(text: str) -> str | None:
    """The zone of a place that a text names, as Europe/Lisbon, perhaps with words beside it."""
    words = _BRACKETS.sub(" ", text).split() if "/" in text else []
    found = [word for word in words if "/" in word and word in zone_names.regions()]
    return found[0] if len(found) == 1 else None


def only_zone(texts: Sequence[str], year: int) -> str | None:
    """The zone of all times as a dialect writes it, where all texts say the same one.

    A short name is one where all zones whose clocks show it in that year have the same offset.
    """
    found = {region_of(text) or offset_in(text) or _offset_of(text, year) for text in texts}
    return found.pop() if len(found) == 1 else None


def forms(texts: Sequence[str], year: int) -> ZoneForms | None:
    """What reads texts that all name an offset; None where a form cannot hold their words.

    Args:
        texts: of a key beside a time.
        year: of the times, for what short names mean in it.
    """
    behind: dict[str, None] = {}
    offsets: dict[str, str] = {}
    halves: dict[str, None] = {}
    for text in map(str.strip, texts):
        found = _OFFSET.search(text) if offset_in(text) else None
        if region := region_of(text):
            if region != text:  # words beside it, which no form holds
                return None
            behind["zone"] = None
            continue
        if found is None:
            offset = _offset_of(text, year)
            if offset is None:
                return None
            behind["zone"], offsets[text] = None, offset
            continue
        before, after = text[: found.start(1)], text[found.end() :]
        if LETTERS.search(before) or LETTERS.search(after) or len(text.split()) > _MOST_WORDS:
            return None
        behind[f"{before}zone{after}"] = None
        other = _other_half(before, after, offset_in(text) or "", year)
        halves["zone".join(other)] = None
        if not (found[3] and len(found[2]) == len("01") and found[1] != "\u2212"):
            offsets[text[found.start(1) : found.end()]] = offset_in(text) or ""
    unseen = tuple(form for form in halves if form not in behind)
    return ZoneForms((*behind, *unseen), offsets, unseen)


def _other_half(before: str, after: str, offset: str, year: int) -> tuple[str, str]:
    """What stands around an offset in the other half of the year: CET for CEST."""

    def turned(found: re.Match[str]) -> str:
        return zone_names.other_half(found[0], offset, year) or found[0]

    words = _NAME.sub(turned, before), _NAME.sub(turned, after)
    return (before, after) if any(map(LETTERS.search, words)) else words


def _offset_of(name: str, year: int) -> str | None:
    """The offset of a short name; None where it has several or none."""
    found = list(zone_names.meanings(name.strip(), year))
    return found[0] if len(found) == 1 else None
