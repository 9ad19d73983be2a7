"""Finds phrases of the trade in texts, however their words are joined."""

import re
from collections.abc import Iterable, Mapping
from functools import cache, lru_cache
from typing import NamedTuple

from sweepbook.draft import abbreviations, spellings
from sweepbook.draft.spellings import LETTER, Spelling, joined
from sweepbook.draft.trade_words import (
    AND,
    PAIR_COLOURS,
    PAIR_LETTERS,
    PAIR_NUMBERS,
    PARAMETERS,
    PIN_PAIRS,
    POWER_SUMS,
    RATIO_WORDS,
    RATIOS,
    SUM_WORDS,
)

_LONGEST = 1000
"""Characters of a text that may name something."""


class Span(NamedTuple):
    """A stretch of a text and what it stands for."""

    start: int
    end: int
    meaning: str


Meanings = tuple[tuple[str, tuple[str, ...]], ...]


def find(text: str, meanings: Mapping[str, tuple[str, ...]]) -> Span | None:
    """The first phrase in a text and its meaning; the longest of those that begin there.

    A text longer than names are is a row of numbers or a remark, and names nothing.
    """
    return _found(text, tuple(meanings.items())) if len(text) <= _LONGEST else None


@lru_cache(maxsize=1 << 13)
def _found(text: str, meanings: Meanings) -> Span | None:
    """Asked of phrases alone whose stem a text has: of thousands a few, and only those compiled."""
    plain, first = spellings.plain(text), None
    for spelling, meaning in _longest_first(meanings):
        match = spelling.inside.search(text) if spelling.stem in plain else None
        if match and (first is None or match.start() < first.start):
            first = Span(match.start(), match.end(), meaning)
    return first


@cache
def _longest_first(meanings: Meanings) -> tuple[tuple[Spelling, str], ...]:
    phrases = ((phrase, word) for word, some in meanings for phrase in some)
    ordered = sorted(phrases, key=lambda item: (-len(item[0]), item[0]))
    return tuple((spellings.spelling(phrase), word) for phrase, word in ordered)


def has(text: str, words: Iterable[str]) -> bool:
    """Whether one of some phrases stands in a text."""
    return first_of(text, words) is not None


def first_of(text: str, words: Iterable[str]) -> Span | None:
    """The first of some phrases in a text, as `find`, whatever it means."""
    return _found(text, (("", tuple(words)),)) if len(text) <= _LONGEST else None


def whole(text: str, phrases: Iterable[str]) -> bool:
    """Whether a text is one of the phrases, whatever joins its words."""
    return _whole(text, tuple(phrases))


@lru_cache(maxsize=1 << 13)
def _whole(text: str, phrases: tuple[str, ...]) -> bool:
    plain = spellings.plain(text)
    return any(
        spelling.stem in plain and spelling.alone.fullmatch(text)
        for spelling in map(spellings.spelling, phrases)
    )


@lru_cache(maxsize=4096)
def parameter_in(text: str) -> Span | None:
    """The parameter that a text names; of several the longest phrase, the first of these."""
    found = [_with_its_sum(text, _with_its_ratio(text, span)) for span in _parameters(text)]
    for span in found if len(found) > 1 else ():
        if text[span.start - 1 : span.start] + text[span.end : span.end + 1] in ("()", "[]"):
            return span  # a code in brackets says which of several the words before it mean
    if not found and (short := abbreviations.find(text)):
        return Span(*short)
    return max(found, key=lambda span: (span.end - span.start, -span.start), default=None)


def _with_its_ratio(text: str, span: Span) -> Span:
    """Crosstalk with the word right behind it that sets it against the loss of its pair."""
    behind = spellings.right_behind(RATIO_WORDS).match(text[span.end :])
    if behind is None or span.meaning not in RATIOS:
        return span
    return Span(span.start, span.end + behind.end(), RATIOS[span.meaning])


def _with_its_sum(text: str, span: Span) -> Span:
    """A parameter with the words right beside it that say that its powers were added up."""
    if span.meaning not in POWER_SUMS:
        return span
    before = spellings.right_before(SUM_WORDS).search(text[: span.start])
    behind = spellings.right_behind(SUM_WORDS).match(text[span.end :])
    if before is None and behind is None:
        return span
    start = before.start() if before else span.start
    return Span(start, span.end + (behind.end() if behind else 0), POWER_SUMS[span.meaning])


def _parameters(text: str) -> Iterable[Span]:
    rest = text
    while span := find(rest, PARAMETERS):
        yield span
        rest = rest[: span.start] + "\0" * (span.end - span.start) + rest[span.end :]


_BESIDE = {"letters": LETTER, "told": r"[^\W_]"}
"""What may not stand beside a pair, by how pairs are called; digits where nothing else is said."""
_SMALL_LETTER, _GREAT_LETTER = "[a-zß-öø-ÿ]", "[A-ZÀ-ÖØ-Þ]"
_HUMP = (
    f"(?-i:(?<={_SMALL_LETTER})(?={_GREAT_LETTER})"
    f"|(?<={_GREAT_LETTER})(?={_GREAT_LETTER}{_SMALL_LETTER}))"
)
"""Where a great letter begins a word, be it behind one of one letter: GreenAndBlue, VerdeYAzul."""
_THREE = 3
_COLOUR = rf"(?:(?<!{LETTER})|{_HUMP})", rf"(?:(?!{LETTER})|{_HUMP})"
"""What must stand before and behind a colour."""


class Pairing(NamedTuple):
    """A way to call the pairs.

    Attributes:
        name: pins, numbers, colours, letters, or told by the export.
        options: expression by pair.
    """

    name: str
    options: tuple[tuple[str, str], ...]

    def find(self, text: str) -> list[Span]:
        """The pairs in a text, in order."""
        found = [
            Span(match.start(), match.end(), self.options[int(match.lastgroup[1:])][0])
            for match in _any_pair(self).finditer(text)
            if match.lastgroup
        ]
        return [span for span in found if not _is_and(text, span, found)]


def _is_and(text: str, span: Span, found: list[Span]) -> bool:
    """Whether a short colour is a word for and: the middle one of three, as in grøn og blå."""
    between = len(found) == _THREE and span is found[1]
    return between and text[span.start : span.end].casefold() in AND


@cache
def _any_pair(pairing: Pairing) -> re.Pattern[str]:
    """The expression for a pair as it is called in a way, with a group a pair."""
    alternatives = "|".join(f"(?P<p{n}>{option})" for n, (_, option) in enumerate(pairing.options))
    if pairing.name == "colours":
        before, behind = _COLOUR
        return re.compile(rf"{before}(?:{alternatives}){behind}", re.IGNORECASE)
    beside = _BESIDE.get(pairing.name, r"[0-9]")
    return re.compile(rf"(?<!{beside})(?:{alternatives})(?!{beside})")


JOINED = r"[-,/&+]?"
"""What may stand between the two contacts of a pair, as an expression."""

_CONTACTS = rf"[1-8](?:{JOINED}|[eE])[1-8]"
PAIR_LIKE = re.compile(rf"{_CONTACTS}(?:\D+{_CONTACTS})?|[1-4]|[1-4]\D[1-4]")
"""A pair, or two of them, where the text might be a number as well."""

PINS = Pairing("pins", tuple((pair, rf"{a}{JOINED}{b}") for pair, (a, b) in PIN_PAIRS.items()))
NUMBERS = Pairing("numbers", tuple(PAIR_NUMBERS.items()))
COLOURS = Pairing(
    "colours",
    tuple((pair, "|".join(map(joined, words))) for pair, words in PAIR_COLOURS.items()),
)
LETTERS = Pairing("letters", tuple(PAIR_LETTERS.items()))
PAIRINGS = (PINS, NUMBERS, COLOURS, LETTERS)
"""The last of them counts only where all four are seen: A and B alone are ends."""
