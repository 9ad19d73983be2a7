"""Parameters whose words are cut short by a point: "Att. d'insertion", "Ins. loss"."""

import re
from functools import cache

from sweepbook.draft.spellings import SMALL, folded
from sweepbook.draft.trade_words import PARAMETERS

_WORD = re.compile(r"([^\W\d_]+)(\.?)")
_CUT = re.compile(r"[^\W\d_]{3}\.")
_LEAST = 3
"""So many letters of a word that is cut short; a single one may be of too many words."""

Words = tuple[str, ...]


def find(text: str) -> tuple[int, int, str] | None:
    """Where the first such phrase of several words begins and ends in a text, and its meaning.

    None where a word that is cut short may be of phrases that mean several things.
    """
    if _CUT.search(text) is None:
        return None
    every = [(match, folded(match[1])) for match in _WORD.finditer(text)]
    words = [(match, word) for match, word in every if word not in SMALL]
    for at in range(len(words)):
        found: dict[int, set[str]] = {}
        for phrase, meaning in _phrases().get(words[at][1][:_LEAST], ()):
            some = words[at : at + len(phrase)]
            if len(some) == len(phrase) and _reads(some, phrase):
                found.setdefault(len(phrase), set()).add(meaning)
        if found:
            longest = max(found)
            last = words[at + longest - 1][0]
            meaning, *others = found[longest]
            return None if others else (words[at][0].start(), last.end(), meaning)
    return None


def _reads(words: list[tuple[re.Match[str], str]], phrase: Words) -> bool:
    """Whether words are those of a phrase, at least one of them cut short."""
    cut = [
        bool(match[2]) and word != whole for (match, word), whole in zip(words, phrase, strict=True)
    ]
    return any(cut) and all(
        len(word) >= _LEAST and whole.startswith(word) if short else word == whole
        for (_, word), whole, short in zip(words, phrase, cut, strict=True)
    )


@cache
def _phrases() -> dict[str, list[tuple[Words, str]]]:
    """The phrases of several words without the small ones, by the first letters of the first."""
    found: dict[str, list[tuple[Words, str]]] = {}
    for meaning, phrases in PARAMETERS.items():
        for phrase in phrases:
            words = tuple(word for word in folded(phrase).split() if word not in SMALL)
            if len(words) > 1:
                found.setdefault(words[0][:_LEAST], []).append((words, meaning))
    return found
