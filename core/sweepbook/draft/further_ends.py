"""Words for the ends that stand beside figures, where those in the names of curves are others."""

from collections.abc import Collection, Iterable

from sweepbook.draft import phrases
from sweepbook.draft.absent_words import says
from sweepbook.draft.mixed_ends import whole_words
from sweepbook.draft.naming import Naming
from sweepbook.draft.trade_words import ENDS

_MOST = 3


def keep(places: Iterable[Collection[str]], naming: Naming) -> None:
    """Keep the two words of a place that are ends by a word of the trade, and nothing besides.

    Args:
        places: the texts of each place; one that says that there is none says nothing.
        naming: takes them, if it knows ends by other words.
    """
    if naming.ends is None:
        return
    for texts in places:
        words = list(filter(says, texts))
        if len(texts) > _MOST or len(words) != len(ENDS[0]):
            continue
        if {word.casefold() for word in words}.isdisjoint(naming.ends):
            naming.further_ends |= _told(words)


def _told(words: Collection[str]) -> dict[str, str]:
    """Near or far by each of two words; none where the trade knows no such pair of words."""
    for ends in ENDS:
        found = {
            word: side
            for word in words
            for side, end in zip(("near", "far"), ends, strict=True)
            if len(end) > 1 and phrases.whole(word, (end,))
        }
        if set(found.values()) == {"near", "far"}:
            return found
    sides = dict(zip(whole_words(list(words)) or (), ("near", "far"), strict=False))
    return {word: sides[word.casefold()] for word in words if word.casefold() in sides}
