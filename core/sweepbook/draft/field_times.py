"""Members of a record that keys fill, and those whose text is spread over several keys: times."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from sweepbook.draft import dates, phrases, zones
from sweepbook.word_lists import words_of

_CLOCKS = words_of(
    """
    time, clock, hour, uhrzeit, zeit, heure, hora, ora, tijd, godzina, čas, klokkeslæt, klokkeslett,
    klockslag, tid, klokken, klockan, uhr, orario, horário, hodina, kellonaika
    """
)
"""What a key with a time of day is called: common practice, no source."""


class Filled(NamedTuple):
    """A member and the keys that fill it.

    Attributes:
        path: member of the record.
        keys: one key, or date and time.
        texts: samples.
        by_text: whether the texts alone speak for it, and no word of the key does.
        within: form of a text of which only a part fills the member, or "".
        zones: texts that say the zone of a time; of the last key, where a form can hold them.
        why: what it is assumed by, where it is.
        asleep: whether a person has to say that it is so.
    """

    path: str
    keys: tuple[str, ...]
    texts: Sequence[str]
    by_text: bool = False
    within: str = ""
    zones: Sequence[str] = ()
    why: str = ""
    asleep: bool = False


class Joins(NamedTuple):
    """How files were joined to that with the curves.

    Attributes:
        keys: that hold the texts which join them; one is a label if nothing else is.
        tests: how many tests each of these files has.
    """

    keys: frozenset[str] = frozenset()
    tests: frozenset[int] = frozenset()


def join_clock(
    found: dict[str, Filled], properties: Mapping[str, Sequence[str]], used: set[str]
) -> None:
    """A date without a time of day, and a key that holds that."""
    started = found.get("test.started")
    if started is None or any(map(dates.is_time, started.texts)):
        return
    for key, texts in properties.items():
        asked = phrases.has(key, _CLOCKS)
        clocks = [dates.is_clock(text, asked=asked) for text in texts]
        if key not in used and clocks and all(clocks):
            joined = [f"{day} {clock}" for day, clock in zip(started.texts, texts, strict=False)]
            found["test.started"] = Filled("test.started", (*started.keys, key), joined)
            used.add(key)
            return


def _join_to_the_end(found: dict[str, Filled], zone: str) -> None:
    """The zone of the begin is that of the end, too."""
    ended = found.get("test.ended")
    if (
        ended
        and all(map(dates.is_time, ended.texts))
        and not any(map(dates.names_zone, ended.texts))
    ):
        found["test.ended"] = ended._replace(keys=(*ended.keys, zone))


def join_zone(
    found: dict[str, Filled], properties: Mapping[str, Sequence[str]], used: set[str]
) -> None:
    """A time without a zone, and a key whose texts all say one, in a form or among other words."""
    started = found.get("test.started")
    if started is None or not all(map(dates.is_time, started.texts)):
        return
    if any(map(dates.names_zone, started.texts)):
        return
    for key, texts in properties.items():
        if key not in used and texts and zones.are_zones(key, texts):
            keys = started.keys
            if zones.forms(texts, dates.year_of(started.texts)) is not None:
                keys = (*keys, key)
                used.add(key)
                _join_to_the_end(found, key)
            found["test.started"] = started._replace(keys=keys, zones=texts)
            return
