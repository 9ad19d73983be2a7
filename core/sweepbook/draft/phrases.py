"""Finds phrases of the trade in texts, however their words are joined."""

import re
import unicodedata
from collections.abc import Iterable, Mapping
from functools import cache, lru_cache
from typing import NamedTuple

from sweepbook.draft.trade_words import (
    PAIR_COLOURS,
    PAIR_LETTERS,
    PAIR_NUMBERS,
    PARAMETERS,
    PIN_PAIRS,
)

_JOINT = r"[\s_.,'\u2019\u00b0\u00ba-]*"
_LETTERS = r"[^\W\d_]"
_TURN = "(?-i:(?<=[a-z])(?=[A-Z]))"
_KANA = "(?:(?<=[\u30a1-\u30f6\u30fc])(?=[\u4e00-\u9fff]))"
_BEGIN = rf"(?:(?<!{_LETTERS})|{_TURN}|{_KANA})"
_END = rf"(?:(?!{_LETTERS})|{_TURN}|{_KANA})"
"""No letter stands beside a phrase, but where small and great letters part words: LocalEnd; so does
in Japanese a sign of words behind one of sounds.
"""
_LETTER_FIRST = rf"(?={_LETTERS})"
"""Asked before hundreds of phrases are tried, each in vain, at a blank or a digit."""

_APART = rf"(?:{_JOINT[:-1]}+|{_TURN})"
_LETTERED = ("a", "b")
"""Letters of ends, which stand apart from the word before them: "unit a" is no "unita"."""

_SMALL = ("de", "d", "du", "des", "del", "di", "do", "da", "van")
"""Words inside a phrase that names of elements leave out: TempsPropagation."""
_SPELT_OUT = {
    **{"ä": "(?:ä|ae?)", "ö": "(?:ö|oe?)", "ü": "(?:ü|ue?)", "ß": "(?:ß|ss)"},
    **{"ø": "(?:ø|oe?)", "å": "(?:å|aa?)", "æ": "(?:æ|ae)", "ł": "[łl]", "ı": "[ıi]", "đ": "[đd]"},
}
_STROKES = str.maketrans({"ø": "o", "æ": "ae", "ł": "l", "ı": "i", "đ": "d"})
"""Letters that Unicode takes apart into no plain one."""
_LONGEST = 1000
"""Characters of a text that may name something; a search costs half a microsecond a letter."""


class Span(NamedTuple):
    """A stretch of a text and what it stands for."""

    start: int
    end: int
    meaning: str


def joined(phrase: str) -> str:
    """The expression for a phrase, its words together or apart; small words in it may lack."""
    first, *others = phrase.split()
    parts = ["".join(map(_letter, first))]
    for at, word in enumerate(others):
        spelt = (_APART if word in _LETTERED else _JOINT) + "".join(map(_letter, word))
        parts.append(f"(?:{spelt})?" if word in _SMALL and at + 1 < len(others) else spelt)
    return "".join(parts)


def _letter(letter: str) -> str:
    """The expression for a letter; one with a mark may have lost it."""
    if letter in _SPELT_OUT:
        return _SPELT_OUT[letter]
    bare = unicodedata.normalize("NFKD", letter)[0]
    return re.escape(letter) if bare == letter else f"[{letter}{bare}]"


def folded(text: str) -> str:
    """A text in small letters, without their marks, and with single blanks."""
    apart = unicodedata.normalize("NFKD", text.casefold().translate(_STROKES))
    return " ".join("".join(c for c in apart if not unicodedata.combining(c)).split())


Meanings = tuple[tuple[str, tuple[str, ...]], ...]


@cache
def finder(meanings: Meanings) -> tuple[re.Pattern[str], tuple[str, ...]]:
    """An expression for phrases, the longest first, and the meaning of each of its groups.

    No letter may stand beside a phrase.
    """
    phrases = sorted(
        ((phrase, word) for word, some in meanings for phrase in some),
        key=lambda item: (-len(item[0]), item[0]),
    )
    options = [f"(?P<m{n}>{joined(phrase)})" for n, (phrase, _) in enumerate(phrases)]
    first = _BEGIN + (_LETTER_FIRST if all(phrase[:1].isalpha() for phrase, _ in phrases) else "")
    pattern = re.compile(rf"{first}(?:{'|'.join(options)}){_END}", re.IGNORECASE)
    return pattern, tuple(word for _, word in phrases)


def find(text: str, meanings: Mapping[str, Iterable[str]]) -> Span | None:
    """The first phrase in a text and its meaning; the longest of those that begin there.

    A text longer than names are is a row of numbers or a remark, and names nothing.
    """
    if len(text) > _LONGEST:
        return None
    pattern, words = finder(tuple((word, tuple(some)) for word, some in meanings.items()))
    match = pattern.search(text)
    if match is None or match.lastgroup is None:
        return None
    return Span(match.start(), match.end(), words[int(match.lastgroup[1:])])


def has(text: str, words: Iterable[str]) -> bool:
    """Whether one of some phrases stands in a text."""
    return find(text, {"": words}) is not None


def expression(phrases: Iterable[str]) -> re.Pattern[str]:
    """The expression for any of some phrases; no letter may stand beside it."""
    return re.compile(rf"{_BEGIN}(?:{'|'.join(map(joined, phrases))}){_END}", re.IGNORECASE)


def whole(text: str, phrases: Iterable[str]) -> bool:
    """Whether a text is one of the phrases, whatever joins its words."""
    return _whole(tuple(phrases)).fullmatch(text) is not None


@cache
def _whole(phrases: tuple[str, ...]) -> re.Pattern[str]:
    return re.compile(rf"\W*(?:{'|'.join(map(joined, phrases))})\W*", re.IGNORECASE)


@lru_cache(maxsize=4096)
def parameter_in(text: str) -> Span | None:
    """The parameter that a text names; of several the longest phrase, the first of these."""
    found = [span for span in _parameters(text)]
    for span in found if len(found) > 1 else ():
        if text[span.start - 1 : span.start] + text[span.end : span.end + 1] in ("()", "[]"):
            return span  # a code in brackets says which of several the words before it mean
    return max(found, key=lambda span: (span.end - span.start, -span.start), default=None)


def _parameters(text: str) -> Iterable[Span]:
    rest = text
    while span := find(rest, PARAMETERS):
        yield span
        rest = rest[: span.start] + "\0" * (span.end - span.start) + rest[span.end :]


_BESIDE = {"letters": _LETTERS, "told": r"[^\W_]"}
"""What may not stand beside a pair, by how pairs are called; digits where nothing else is said."""
_SMALL_LETTER, _GREAT_LETTER = "[a-zß-öø-ÿ]", "[A-ZÀ-ÖØ-Þ]"
_HUMP = (
    f"(?-i:(?<={_SMALL_LETTER})(?={_GREAT_LETTER})"
    f"|(?<={_GREAT_LETTER})(?={_GREAT_LETTER}{_SMALL_LETTER}))"
)
"""Where a great letter begins a word, be it behind one of one letter: GreenAndBlue, VerdeYAzul."""
_COLOUR = rf"(?:(?<!{_LETTERS})|{_HUMP})", rf"(?:(?!{_LETTERS})|{_HUMP})"
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
        alternatives = "|".join(f"(?P<p{n}>{option})" for n, (_, option) in enumerate(self.options))
        beside = _BESIDE.get(self.name, r"[0-9]")
        before, behind = rf"(?<!{beside})", rf"(?!{beside})"
        if self.name == "colours":
            before, behind = _COLOUR
        flags = re.IGNORECASE if self.name == "colours" else 0
        pattern = re.compile(rf"{before}(?:{alternatives}){behind}", flags)
        return [
            Span(match.start(), match.end(), self.options[int(match.lastgroup[1:])][0])
            for match in pattern.finditer(text)
            if match.lastgroup
        ]


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
