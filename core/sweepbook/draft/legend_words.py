"""Words for parameters that an export explains: what each is, or of which two the difference."""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence

from sweepbook.draft import phrases
from sweepbook.draft.curve_facts import Measured, falls
from sweepbook.draft.spellings import expression
from sweepbook.draft.trade_words import POWER_SUMS
from sweepbook.draft.verdicts import verdict_of
from sweepbook.word_lists import words_of

_LEAST_WORDS = 2
"""So many parameters that lines side by side explain are a list of words; one may be a key."""
_SHORT = re.compile(r"[^\W\d_](?:[^\W_]|[./-]){0,6}")
_BOTH = 2
_REMARK = " #!%*/'"

_LESS = expression(
    words_of(
        "minus, less, reduced by, abzüglich, weniger, moins, diminué de, menos, meno, mniej, "
        "pomniejszony o, pomniejszone o, mínus, bez, verminderd met, mínusz, минус"
    )
)
"""Words between two parameters of which the second is taken off: from memory, no source."""
_SIGN = re.compile(r"\s[-\u2212\u2013]\s")
_LESS_LOSS = {"next": "acr_n", "fext": "acr_f"}
"""What is left of a crosstalk loss without the insertion loss (by the vocabulary's definitions)."""
_LESS_LOSS |= {POWER_SUMS[talk]: POWER_SUMS[left] for talk, left in _LESS_LOSS.items()}

Told = tuple[str, str]
"""A word of the export, and what the export says that it is."""


def words_told(groups: Sequence[Sequence[Sequence[str]]]) -> dict[str, str]:
    """The parameter by each word that is explained, in one way, and that the trade does not know.

    So "PDX paradiaphonie (NEXT)" explains PDX, and "RX = PDX minus attenuation" RX behind it.

    Args:
        groups: rows that stand together, each with texts side by side.
    """
    found: dict[str, set[str]] = {}
    for group in groups:
        told = [said for row in group for said in _explained(row)]
        plain = {word: named for word, said in told if (named := _meant(said, {}))}
        every = [(word, named) for word, said in told if (named := _meant(said, plain))]
        if len({parameter for _, parameter in every}) >= _LEAST_WORDS:
            for word, parameter in every:
                found.setdefault(word, set()).add(parameter)
    return {word: next(iter(some)) for word, some in found.items() if len(some) == 1}


def borne_out(words: Mapping[str, str], curves: Iterable[tuple[str, Measured]]) -> dict[str, str]:
    """Words that are explained, but those for insertion loss whose curves fall with frequency.

    Args:
        words: parameter by word.
        curves: the words that they are called by, and their numbers.
    """
    falling = {word for word, curve in curves if falls(curve)}
    return {
        word: parameter
        for word, parameter in words.items()
        if parameter != "insertion_loss" or word not in falling
    }


def _explained(row: Sequence[str]) -> Iterator[Told]:
    """Words of one row and what is said of them: in each cell a word and what it is, or in two."""
    pairs = [cell.strip(_REMARK).partition(" ")[::2] for cell in row]
    pairs += [(row[0].strip(_REMARK), row[1])] if len(row) == _BOTH else []
    for word, said in pairs:
        capitals = word.isupper() and _SHORT.fullmatch(word) is not None
        spoken = any(map(str.islower, said)) and capitals
        if spoken and phrases.parameter_in(word) is None and verdict_of(word) is None:
            yield word, said


def _meant(said: str, words: Mapping[str, str]) -> str | None:
    """The parameter that a text says a word is; a difference only where both its parts are known.

    Args:
        said: the text.
        words: parameter by words that are explained beside it.
    """
    less = _LESS.search(said) or _SIGN.search(said)
    if less is None:
        return _named(said, {})
    whole, taken = _named(said[: less.start()], words), _named(said[less.end() :], words)
    return _LESS_LOSS.get(whole or "") if taken == "insertion_loss" else None


def _named(text: str, words: Mapping[str, str]) -> str | None:
    """The parameter that a text names by a word of the trade, or by one that is explained."""
    named = phrases.parameter_in(text)
    own = next((words[word] for word in re.findall(r"[^\W_]+", text) if word in words), None)
    return named.meaning if named else own
