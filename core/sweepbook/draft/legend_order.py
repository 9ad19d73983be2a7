"""Which of two pairs comes first, where a remark says it: "Paare: störend-gestört".

Or it says which of two words is which pair: "A = disturbing pair, B = disturbed pair".
"""

from collections.abc import Mapping, Sequence
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


def roles_told(groups: Sequence[Sequence[Sequence[str]]]) -> Mapping[str, str]:
    """Each of two words of a group, in small letters, with the pair that it is explained as.

    Nothing where a group explains more, or two do so otherwise, since then nobody knows.
    """
    found = set()
    for group in groups:
        rows = [[of.strip() for of in row if of.strip()] for row in group]
        told = {
            (row[0].casefold(), role)
            for row in rows
            if len(row) == 2 and (role := _role_in(row[1]))
        }
        if len({role for _, role in told}) == len(_SAID):
            found.add(tuple(sorted(told)))
    said = found.pop() if len(found) == 1 else ()
    return dict(said) if len(said) == len(_SAID) == len(dict(said)) else {}


def _role_in(text: str) -> str:
    """Which of both pairs a sentence names, and nothing else; "" where it names none."""
    first = text.partition(". ")[0].strip(" .")
    return next((role for role, words in _SAID.items() if phrases.whole(first, words)), "")


def first_in(text: str) -> str:
    """The first of two pairs by a text that names both, with a mark between; "" for another."""
    first = phrases.find(text, _SAID) if len(text) <= _LONGEST else None
    second = phrases.find(text[first.end :], _SAID) if first else None
    if first is None or second is None or first.meaning == second.meaning:
        return ""
    between = text[first.end :][: second.start].strip()
    apart = 0 < len(between) <= _MOST_BETWEEN and not any(map(str.isalnum, between))
    return first.meaning if apart and between not in ("<", "<-", "\u2190") else ""
