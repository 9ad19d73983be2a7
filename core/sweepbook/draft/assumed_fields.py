"""Members that a key may fill where neither its words nor its texts say so for certain."""

import re
from collections.abc import Iterator, Mapping, Sequence

from sweepbook.draft import phrases
from sweepbook.draft.field_times import Filled
from sweepbook.draft.key_offers import chosen_by, steps_of
from sweepbook.draft.key_words import CLIENTS, GENERAL, LOCATIONS, PROJECTS
from sweepbook.draft.trade_words import SOFTWARE

_SITE, _FIRMWARE = "link.near.place.site", "test.near.instrument.firmware"
_FLOOR = "link.near.place.floor"
_AROUND_A_FLOOR = ("link.near.place.building", "link.near.place.space")
_BELOW_A_SITE = tuple(f"link.near.place.{of}" for of in ("building", "floor", "space"))
_LEVELS = ("level",)
_OF_A_TESTER = re.compile(r"(?:level )?(?:[IVX]+e?|2G)", re.IGNORECASE)
"""Levels of accuracy of testers, which are no floors (IEC 61935-1, recalled)."""
_WORD = re.compile(r"[^\W\d_]{3}")
_OF_A_PROJECT = (
    "places are named, and no key is called after a site, as which a project often stands"
)
_OF_A_CLIENT = (
    "places are named, and no key is called after a site or a project; the name of whom a job is "
    "done for often stands as the site"
)
_OF_A_LOCATION = "tests of several links share this place, and no key is called after a site"
_OF_A_LEVEL = "buildings or rooms are named, and no key is called after a floor"
_OF_SOFTWARE = (
    "whether this software is the tester's or the computer's; take the mark off if it is the "
    "tester's"
)


def assumed(properties: Mapping[str, Sequence[str]], filled: Sequence[Filled]) -> Iterator[Filled]:
    """What is assumed: site, floor and, to be woken, firmware.

    The site by a place that tests share, or the name of a project or client, a floor by levels,
    firmware by a word for software.

    Args:
        properties: distinct texts by key.
        filled: members that keys fill for certain.
    """
    used = {key for one in filled for key in one.keys}
    known = {one.path for one in filled}
    free = {key: texts for key, texts in properties.items() if key not in used and any(texts)}
    if _SITE not in known and (key := _shared_location(free, filled)):
        yield Filled(_SITE, (key,), free[key], why=_OF_A_LOCATION)
    elif _SITE not in known and known.intersection(_BELOW_A_SITE):
        told = ((PROJECTS, _OF_A_PROJECT), (CLIENTS, _OF_A_CLIENT))
        named = [(key, why) for words, why in told for key in free if _names(key, free[key], words)]
        yield from (Filled(_SITE, (key,), free[key], why=why) for key, why in named[:1])
    if _FLOOR not in known and known.intersection(_AROUND_A_FLOOR):
        levels = (key for key, texts in free.items() if _is_level(key, texts))
        yield from (Filled(_FLOOR, (key,), free[key], why=_OF_A_LEVEL) for key in [*levels][:1])
    if not any(path.endswith("instrument.firmware") for path in known):
        software = [key for key, texts in free.items() if _is_software(key, texts)]
        for key in software[:1]:
            yield Filled(_FIRMWARE, (key,), free[key], why=_OF_SOFTWARE, asleep=True)


def _shared_location(free: Mapping[str, Sequence[str]], filled: Sequence[Filled]) -> str:
    """The first key that is called after a place which fewer texts name than labels; or ""."""
    labels = max((len({*one.texts}) for one in filled if one.path == "link.label"), default=0)
    shared = [key for key, texts in free.items() if len({*texts}) < labels]
    return next((key for key in shared if _names(key, free[key], LOCATIONS)), "")


def _names(key: str, texts: Sequence[str], words: Sequence[str]) -> bool:
    """Whether a key of these words holds names, and no numbers."""
    called = _last(key)
    if phrases.whole(called, GENERAL) and len(steps := steps_of(key)) > 1:
        called = steps[-2].partition("[")[0]
    return phrases.whole(called, words) and all(map(_is_a_name, texts))


def _is_a_name(text: str) -> bool:
    """Whether a text is a name rather than a number with letters before it."""
    return bool(_WORD.search(text)) and sum(map(str.isalpha, text)) > sum(map(str.isdigit, text))


def _is_level(key: str, texts: Sequence[str]) -> bool:
    """Whether a key is called after levels, and not those of the accuracy of testers."""
    return phrases.whole(_last(key), _LEVELS) and not any(map(_OF_A_TESTER.fullmatch, texts))


def _is_software(key: str, texts: Sequence[str]) -> bool:
    """Whether a key of each test says a version of software."""
    numbered = all(any(map(str.isdigit, text)) for text in texts)
    return numbered and not key.startswith("/") and phrases.whole(_last(key), SOFTWARE)


def _last(key: str) -> str:
    """What a key is called by itself."""
    return chosen_by(key) or steps_of(key)[-1].strip("@ ")
