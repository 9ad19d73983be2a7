"""Which code page a text is in, by what its letters are once it is decoded.

In the right one words are of the letters of one language, none has a capital behind a small letter
or letters of two scripts, and no sign stands within a word. In a wrong one they do.
"""

import re
import unicodedata
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from functools import cache
from itertools import pairwise
from math import log
from typing import NamedTuple

from sweepbook.draft.alphabets import PAGES, RARE, Alphabet, alphabets
from sweepbook.draft.key_words import known_word

_MOST_BYTES = 16_384
_LINES = re.compile(rb"[^\r\n]*[\x80-\xff][^\r\n]*")
_WORDS = re.compile(r"[^\x00-@\[-`{-\x7f\s]*[^\x00-\x7f\s][^\x00-@\[-`{-\x7f\s]*")
_SIGN_WITHIN = re.compile(
    r"(?<=[^\W\d_])[^\w\x00-\x7f’・ー](?=[^\W\d_])(?<!l·(?=l))|[²³§°](?=[^\W\d_])"
)
_SIGNS = frozenset("°µ²³·±×–—…’‘“”„«»‹›№§€£®©™•½¼¾¿¡Ω≤≥→←、。・ー，：（）；「」【】％℃Ωμ")
_SIGN_COST = log(60)
_RARE_COST = 4.0
_KNOWN_GAIN = 5.0
_FAULT_COST = 5.0
_SHOWN, _SEVERAL = 3, 2
_NEAR = 1.5
"""A page whose letters cost up to this times what the best one's do is named as another."""


class Guess(NamedTuple):
    """A code page that fits.

    Attributes:
        page: as a dialect calls it.
        words: some that it makes of the bytes beyond ASCII.
        others: pages that fit nearly as well, each with what it makes of the first of these words.
        sample: lines that it was told by.
    """

    page: str
    words: tuple[str, ...]
    others: tuple[tuple[str, str], ...]
    sample: bytes = b""


def guess_together(guesses: Sequence[Guess]) -> Guess | None:
    """The code page of several files of one make; None where they are in the same one already."""
    if len({one.page for one in guesses}) < _SEVERAL:
        return None
    return guess(b"\n".join(one.sample for one in guesses))


def guess(raw: bytes) -> Guess:
    """The code page of a text that is no UTF-8."""
    sample = _sample(raw)
    texts = {page: sample.decode(page, "replace") for page in PAGES}
    costs = {page: _cost(page, text) for page, text in texts.items()}
    best = min(costs, key=lambda page: costs[page])
    near = sorted(
        (page for page in PAGES if costs[page] <= costs[best] * _NEAR), key=lambda page: costs[page]
    )
    words = [word for word in dict.fromkeys(_WORDS.findall(texts[best])) if len(word) > 1]
    others: dict[str, tuple[str, str]] = {}
    for page in near:
        if texts[page] != texts[best] and costs[page] <= costs[best] * _NEAR:
            differs = (raw.decode(page, "replace") for raw in _encoded(words, best))
            changed = [new for word, new in zip(words, differs, strict=True) if new != word]
            others.setdefault(texts[page], (page, changed[0] if changed else ""))
    return Guess(best, tuple(words[:_SHOWN]), tuple(others.values())[:_SHOWN], sample)


def _encoded(words: Iterable[str], page: str) -> Iterator[bytes]:
    return (word.encode(page, "replace") for word in words)


def _sample(raw: bytes) -> bytes:
    """Lines with bytes beyond ASCII, each once."""
    lines: dict[bytes, None] = {}
    size = 0
    for match in _LINES.finditer(raw):
        if match[0] not in lines:
            lines[match[0]] = None
            size += len(match[0])
        if size > _MOST_BYTES:
            break
    return b"\n".join(lines)[:_MOST_BYTES]


def _cost(page: str, text: str) -> float:
    """How unlikely a text is as one of a language of a page."""
    words = Counter(_WORDS.findall(text))
    letters = Counter(letter for word in words for letter in word if not letter.isascii())
    least = min(_letters_cost(letters, alphabet) for alphabet in alphabets(page))
    known = sum(known_word(word) for word in words)
    return (
        least
        - _KNOWN_GAIN * known
        + _FAULT_COST * sum(map(_faults, words))
        + _RARE_COST * (page in RARE)
    )


def _letters_cost(letters: Counter[str], alphabet: Alphabet) -> float:
    total = 0.0
    for letter, count in letters.items():
        cost = alphabet.costs.get(letter, alphabet.costs.get(letter.lower()))
        if cost is None:
            cost = _SIGN_COST if letter in _SIGNS else alphabet.strange
        total += cost * count
    return total


def _faults(word: str) -> int:
    """Where a word has a capital behind a small letter, two scripts, or a sign within."""
    found = 0
    for one, other in pairwise(word):
        if one.isascii() and other.isascii():
            continue
        if one.isalpha() and other.isalpha():
            found += one.islower() and other.isupper()
            found += _script(one) != _script(other)
    return found + len(_SIGN_WITHIN.findall(word))


@cache
def _script(letter: str) -> str:
    """The first word of a letter's name in Unicode, such as LATIN."""
    first = unicodedata.name(letter, "").partition(" ")[0]
    return "JAPANESE" if first in ("HIRAGANA", "KATAKANA", "CJK") else first
