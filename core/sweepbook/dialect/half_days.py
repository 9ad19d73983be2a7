"""What a clock of twelve hours writes for the two halves of the day."""

import re
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from typing import Final, NamedTuple

from sweepbook.dialect import zone_names
from sweepbook.word_lists import words_of

_BEFORE = words_of("""
    am, fm, ap, dop, дп, π.μ, de, ÖÖ, ق.ظ, 上午, 午前, 오전, SA, ก่อนเที่ยง, f.h, ص, priešpiet,
    dopoldne
    """)
_AFTER = words_of("""
    pm, em, ip, odp, pop, пп, μ.μ, du, ÖS, ب.ظ, 下午, 午後, 오후, CH, หลังเที่ยง, e.h, م, popiet,
    popoldne
    """)
"""Of English, Spanish, Dutch, Romanian, Norwegian, Catalan and Galician together, of Swedish,
Finnish, Czech, Slovenian, Ukrainian, Greek, Hungarian, Turkish, Persian, Chinese, Japanese, Korean,
Vietnamese, Thai, Icelandic, Arabic and Lithuanian (Unicode CLDR). None means both."""

_ON = ("am", "em", "de", "du")
"""Words that before a day mean "on" or "of" in German, Portuguese, Spanish and French."""
_PASSED = re.compile(r"[.\s]")
_GAP = r"[.\s]*"
_LETTERS = re.compile(r"[^\d\s:,;/.][^\d:,;/]*")
_NOON: Final = 12


def said(text: str) -> str:
    """A word as it is looked up: in small letters, without points and blanks."""
    return _PASSED.sub("", text).lower()


def halves_of(before: Iterable[str], after: Iterable[str]) -> dict[str, int]:
    """What a word adds to the hour, 0 or 12, by the word as it is looked up.

    Raises:
        ValueError: a word stands for both halves, or holds no letter.
    """
    first, second = ({said(word): word for word in words} for words in (before, after))
    if both := sorted(first.keys() & second.keys()):
        raise ValueError(f"{first[both[0]]!r} stands for both halves of the day")
    for key, word in {**first, **second}.items():
        if not key or any(map(str.isdigit, key)):
            raise ValueError(f"{word!r} is no word: it needs letters, and has no digits")
    return {**dict.fromkeys(first, 0), **dict.fromkeys(second, _NOON)}


HALVES: Mapping[str, int] = halves_of(_BEFORE, _AFTER)
"""The words that are known."""


@lru_cache(maxsize=64)
def expression(words: Sequence[str]) -> str:
    """What a word for half of the day looks like; any text of letters if none is given."""
    if not words:
        return _LETTERS.pattern
    longest = sorted(words, key=len, reverse=True)
    return "|".join(_GAP.join(map(re.escape, word)) + r"\.?" for word in longest)


def hour_of(hour: int, added: int) -> int | None:
    """Hour of the day, 0 to 23; None outside 0 to 12, of which 0 and 12 are the same hour."""
    return hour % _NOON + added if 0 <= hour <= _NOON else None


_WORD = re.compile(r"[^\W\d_]+")


class Beside(NamedTuple):
    """Fixed text of a form next to its clock.

    Attributes:
        form: the form.
        text: the fixed text, without blanks around it.
        rest: the form without it.
        day_follows: whether a day stands behind it.
    """

    form: str
    text: str
    rest: str
    day_follows: bool


def fault(beside: Sequence[Beside], *, declared: bool) -> str:
    """What is wrong with forms that have such words as fixed text, in words; "" if none has.

    Args:
        beside: what stands next to the clock of forms that have no `ap`.
        declared: whether the dialect lists the words itself.
    """
    for one in beside:
        if said(one.text) in HALVES and not (one.day_follows and one.text in _ON):
            return (
                f"{one.form!r}: {one.text!r} says which half of the day, and as fixed text it is "
                "passed over, so that times come out twelve hours wrong; write ap in its place"
            )
    seen: dict[str, Beside] = {}
    for one in () if declared else beside:
        other = seen.setdefault(one.rest, one)
        if said(other.text) != said(one.text) and not _name_zones(other.text, one.text):
            return (
                f"{other.form!r} and {one.form!r} differ by {other.text!r} and {one.text!r} alone, "
                "and fixed text is passed over; if these say which half of the day, write ap in "
                "their place and list them in dates.before_noon and dates.after_noon; if not, list "
                "there what does, such as AM and PM"
            )
    return ""


def _name_zones(*texts: str) -> bool:
    """Whether two texts differ by short names of zones alone, as CET and CEST."""
    one, other = (set(_WORD.findall(text)) for text in texts)
    return one != other and all(map(zone_names.is_one, one ^ other))
