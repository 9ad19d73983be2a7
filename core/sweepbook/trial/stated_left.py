"""What an export states and a dialect left over: verdicts and margins that lie in `extra`."""

import re
from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from sweepbook.draft import phrases
from sweepbook.draft.document import listed
from sweepbook.draft.naming import settle
from sweepbook.draft.numbers import is_numeric
from sweepbook.draft.trade_words import MARGIN, PAIR_WORDS
from sweepbook.draft.verdicts import asks_for_a_pass, verdict_of

_SHOWN = 3
_LEAST_LETTERS = 2
"""Shorter words among others are no verdicts: the p of a point, the f of a frequency."""
_CONDITION = re.compile(r"\[[^\]]*\]")
_NIL = re.compile(r"@[^/@]*:nil")
"""The key of an attribute that says that an element of XML has no value: no verdict either."""
_WORD = re.compile(r"[^\W\d_]+\*?")


class Left(NamedTuple):
    """What of one kind is left over below a key.

    Attributes:
        key: of the record's `extra`.
        kind: verdict or margin.
        texts: what stands there, each once, with how often it does.
    """

    key: str
    kind: str
    texts: Mapping[str, int]

    @property
    def shown(self) -> str:
        """The texts in words."""
        return listed([f"{text!r} ({count})" for text, count in self.texts.items()], _SHOWN)


def stated(
    extra: Mapping[str, str], declared: Mapping[str, str], naming: Collection[str] = ()
) -> Iterator[Left]:
    """The verdicts and margins in texts that nothing took.

    Args:
        extra: texts by key, a line for each place of the export.
        declared: meanings of the words for verdicts that the dialect knows; "none" for no verdict.
        naming: words for pairs and ends: a number among them is no margin where they are meant.
    """
    rows = rows_of(declared)
    for key, text in extra.items():
        if _NIL.fullmatch(key.rpartition("/")[2]):
            continue
        lines = [line.strip() for line in text.split("\n") if line.strip()]
        plain = _CONDITION.sub("", key)
        judged = [line for line in lines if _is_verdict(line, declared)]
        if lines and all(map(rows.fullmatch, lines)) and (words := _among(lines, declared)):
            yield Left(key, "verdict", Counter(words))
        elif judged and 2 * len(judged) >= len(lines) and asks_for_a_pass(plain, lines):
            yield Left(key, "verdict", Counter(judged))
        elif lines and all(map(is_numeric, lines)) and _is_margin(plain, lines, naming):
            yield Left(key, "margin", Counter(lines))
        elif phrases.parameter_in(plain) and (words := _among(lines, declared)):
            yield Left(key, "verdict", Counter(words))


def _is_verdict(text: str, declared: Mapping[str, str]) -> bool:
    return declared.get(text, "none") != "none" or (text not in declared and bool(verdict_of(text)))


def rows_of(declared: Mapping[str, str]) -> re.Pattern[str]:
    """What a line is that holds two words for verdicts or more, and nothing else.

    Of "marginal pass" and "pass" the longer one is meant, so that a long line is looked at once.
    """
    words = "|".join(re.escape(word) for word in sorted(declared, key=len, reverse=True) if word)
    return re.compile(rf"(?>{words})(?:\s+(?>{words}))+" if words else "(?!)")


def _is_margin(key: str, texts: Sequence[str], naming: Collection[str]) -> bool:
    """Whether numbers are margins, by their key; beside a margin may stand which pair it is of."""
    last = key.rpartition("/")[2]
    return phrases.has(last, MARGIN) and not says_which(last, texts, naming)


def says_which(key: str, texts: Iterable[str], naming: Collection[str]) -> bool:
    """Whether texts below a key that names no pair say of which pair or end something is."""
    if all(text in naming for text in texts):
        return True
    return phrases.has(key, PAIR_WORDS) and not settle([key]).parse(key).pairs


def _among(lines: Sequence[str], declared: Mapping[str, str]) -> list[str]:
    """The words for a verdict among others of a row."""
    words = (word for line in lines for word in _WORD.findall(line))
    return [of for of in words if len(of) >= _LEAST_LETTERS and declared.get(of, "none") != "none"]
