"""How a phrase of the trade may be spelt: words joined or apart, marks kept or lost, any case."""

import re
import unicodedata
from collections.abc import Iterable
from functools import cache, cached_property

JOINT = r"(?:[\s_.,'\u00b0\u00ba-]++|\u2019)*"
"""What may stand between two words. The curly mark stands apart: one sign beyond the first 256 in a
class has the whole class compiled by a table of all 65,536.
"""
LETTER = r"[^\W\d_]"
_TURN = "(?-i:(?<=[a-z])(?=[A-Z]))"
_BEGIN = rf"(?<!{LETTER})|{_TURN}"
_END = rf"(?!{LETTER})|{_TURN}"
"""No letter stands beside a phrase, but where small and great letters part words: LocalEnd."""

_KANA, _KANJI = "[\u30a1-\u30f6\u30fc]", "[\u4e00-\u9fff]"
_SIGNS = f"(?<={_KANA})(?={_KANJI})"
"""So does in Japanese a sign of words behind one of sounds: asked of phrases alone that begin or
end with such, since every class beyond the first 256 signs costs (see JOINT).
"""
_APART = rf"(?:{JOINT[:-1]}+|{_TURN})"
_LETTERED = ("a", "b")
"""Letters of ends, which stand apart from the word before them: "unit a" is no "unita"."""

SMALL = ("de", "d", "du", "des", "del", "di", "do", "da", "van")
"""Words inside a phrase that names of elements leave out: TempsPropagation."""
_ARTICLES = ("la", "le", "l", "della", "dello", "dell", "of", "the")
_SPELT_OUT = {
    **{"ä": "(?:ä|ae?)", "ö": "(?:ö|oe?)", "ü": "(?:ü|ue?)", "ß": "(?:ß|ss)"},
    **{"ø": "(?:ø|oe?)", "å": "(?:å|aa?)", "æ": "(?:æ|ae)", "ł": "[łl]", "ı": "[ıi]", "đ": "[đd]"},
}
_STROKES = str.maketrans({"ø": "o", "æ": "ae", "ł": "l", "ı": "i", "đ": "d"})
"""Letters that Unicode takes apart into no plain one."""
_DOTLESS = str.maketrans({"ı": "i"})
"""The one letter that an expression without case takes for another and `casefold` does not."""


class Spelling:
    """The expressions for a phrase, each made when it is first asked for.

    Attributes:
        phrase: it.
        stem: letters of it that stand in every text that has it, by `plain`; may be none.
    """

    def __init__(self, phrase: str) -> None:
        self.phrase = phrase
        self.stem = _stem(phrase)

    @cached_property
    def inside(self) -> re.Pattern[str]:
        """It in a text, no letter beside it."""
        return expression([self.phrase])

    @cached_property
    def alone(self) -> re.Pattern[str]:
        """It and nothing else but marks."""
        return re.compile(rf"\W*(?:{joined(self.phrase)})\W*", re.IGNORECASE)


@cache
def spelling(phrase: str) -> Spelling:
    """How a phrase may be spelt."""
    return Spelling(phrase)


@cache
def right_before(phrases: tuple[str, ...]) -> re.Pattern[str]:
    """The expression for any of some phrases at the end of a text, with what joins words.

    Small words may stand behind it, as in "soma de potências da".
    """
    some, small = "|".join(map(joined, phrases)), "|".join((*SMALL, *_ARTICLES))
    behind = f"{JOINT}(?:(?:{small})(?!{LETTER}){JOINT})*"
    return re.compile(f"(?:{_BEGIN})(?:{some})(?:{_END}){behind}$", re.IGNORECASE)


@cache
def right_behind(phrases: tuple[str, ...]) -> re.Pattern[str]:
    """The same at its beginning, and in brackets."""
    some = f"(?:{'|'.join(map(joined, phrases))})"
    bracketed = rf"\s*(?:\({some}\)|\[{some}\])"
    return re.compile(f"{bracketed}|{JOINT}{some}(?:{_END})", re.IGNORECASE)


def expression(phrases: Iterable[str]) -> re.Pattern[str]:
    """The expression for any of some phrases; no letter may stand beside it."""
    some = tuple(phrases)
    begin, end = _BEGIN, _END
    if any(re.match(_KANJI, phrase) for phrase in some):
        begin = f"{begin}|{_SIGNS}"
    if any(re.search(f"{_KANA}$", phrase) for phrase in some):
        end = f"{end}|{_SIGNS}"
    return re.compile(f"(?:{begin})(?:{'|'.join(map(joined, some))})(?:{end})", re.IGNORECASE)


def joined(phrase: str) -> str:
    """The expression for a phrase, its words together or apart; small words in it may lack."""
    first, *others = phrase.split()
    parts = ["".join(map(_letter, first))]
    for at, word in enumerate(others):
        spelt = (_APART if word in _LETTERED else JOINT) + "".join(map(_letter, word))
        parts.append(f"(?:{spelt})?" if word in SMALL and at + 1 < len(others) else spelt)
    return "".join(parts)


def folded(text: str) -> str:
    """A text in small letters, without their marks, and with single blanks."""
    apart = unicodedata.normalize("NFKD", text.casefold().translate(_STROKES))
    return " ".join("".join(c for c in apart if not unicodedata.combining(c)).split())


def plain(text: str) -> str:
    """A text as stems are looked for in it: without case."""
    return text.casefold().translate(_DOTLESS)


def _letter(letter: str) -> str:
    """The expression for a letter; one with a mark may have lost it."""
    if letter in _SPELT_OUT:
        return _SPELT_OUT[letter]
    bare = unicodedata.normalize("NFKD", letter)[0]
    return re.escape(letter) if bare == letter else f"[{letter}{bare}]"


def _stem(phrase: str) -> str:
    """The longest run of signs that no spelling of a phrase changes."""
    first, *others = phrase.split()
    kept = [first, *(word for word in others if word not in SMALL)]
    signs = ("".join(c if _letter(c) == re.escape(c) else " " for c in word) for word in kept)
    return plain(max((run for word in signs for run in word.split()), key=len, default=""))
