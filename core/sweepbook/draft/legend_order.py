"""Which of two pairs comes first, where a remark says it: "Paare: störend-gestört"."""

from collections.abc import Sequence
from typing import NamedTuple

from sweepbook.draft import phrases
from sweepbook.draft.trade_words import DISTURBED, DISTURBING

_SAID = {"disturbing": DISTURBING, "disturbed": DISTURBED}
_LONGEST = 300
"""Characters of a remark that may explain something."""
_MOST_BETWEEN = 4
"""Characters between the two words, as between two pairs."""


class Order(NamedTuple):
    """Which pair comes first, "disturbing" or "disturbed", and the remark that says so."""

    first: str
    remark: str


def order_told(remarks: Sequence[str]) -> Order | None:
    """The order that remarks name both pairs in; None where none does, or two contradict."""
    told = {first: text for text in reversed(remarks) if (first := first_in(text))}
    return Order(*told.popitem()) if len(told) == 1 else None


def first_in(text: str) -> str:
    """The first of two pairs by a text that names both, with a mark between; "" for another."""
    first = phrases.find(text, _SAID) if len(text) <= _LONGEST else None
    second = phrases.find(text[first.end :], _SAID) if first else None
    if first is None or second is None or first.meaning == second.meaning:
        return ""
    between = text[first.end :][: second.start].strip()
    apart = 0 < len(between) <= _MOST_BETWEEN and not any(map(str.isalnum, between))
    return first.meaning if apart and between not in ("<", "<-", "\u2190") else ""
