"""Pairs that an export explains itself: its own word for each beside the contacts."""

import re
from collections.abc import Sequence

from sweepbook.draft.numbers import is_numeric
from sweepbook.draft.phrases import Pairing
from sweepbook.draft.trade_words import PAIR_WORDS, PIN_PAIRS

_CONTACTS = re.compile(r"([1-8])\s?[-,/&+]?\s?([1-8])")
_ASIDE = re.compile(r"\s*\([^()]*\)?\s*$")
"""What stands in brackets behind contacts, such as the colour of their wires."""
_OF_WIRES = re.compile(r"[^\W\d_]{2,}\.?\s+")
"""A word before contacts, in whatever language: "Adern 4/5", "ben 3-6"."""
_BY_CONTACTS = {contacts: pair for pair, contacts in PIN_PAIRS.items()}
_LONGEST_CONTACTS = 60
"""Characters of contacts with what stands around them."""
_LONGEST = 12
"""Characters of a word for a pair."""
_CALLED = re.compile(rf"\W*(?:{'|'.join(PAIR_WORDS)})\W*", re.IGNORECASE)
"""A word for pairs before the name of one: "Pair OR"."""


def _contacts_of(text: str) -> str | None:
    """The pair whose two contacts a text is, as the record calls it."""
    if len(text) > _LONGEST_CONTACTS:
        return None
    bare = _OF_WIRES.sub("", _ASIDE.sub("", text).strip(), count=1)
    match = _CONTACTS.fullmatch(bare)
    return _BY_CONTACTS.get((match[1], match[2])) if match else None


def explained(rows: Sequence[Sequence[str]]) -> Pairing | None:
    """The words for pairs, where four rows each hold the contacts of one and a word of its own.

    Args:
        rows: texts that stand side by side; rows of anything else do no harm.

    Returns:
        None where they explain no pairs: one is lacking, or its words are those of another.
    """
    words: dict[str, list[str]] = {}
    for row in rows:
        contacts = [pair for text in row if (pair := _contacts_of(text))]
        if len(contacts) == 1 and contacts[0] not in words:
            texts = [of for text in row for of in (text.strip(), _CALLED.sub("", text, count=1))]
            if own := [text for text in dict.fromkeys(texts) if _may_name(text)]:
                words[contacts[0]] = own
    if len(words) < len(PIN_PAIRS):
        return None
    every = [word for some in words.values() for word in some]
    alone = {pair: [one for one in some if every.count(one) == 1] for pair, some in words.items()}
    if not all(alone.values()):
        return None
    return Pairing("told", tuple((pair, _any_of(alone[pair])) for pair in PIN_PAIRS))


def _may_name(text: str) -> bool:
    """Whether a text may be a word for a pair: a short one, and of numbers one of four."""
    word = text.strip()
    return (
        0 < len(word) <= _LONGEST
        and not _contacts_of(word)
        and (word in ("1", "2", "3", "4") or not is_numeric(word))
    )


def _any_of(words: Sequence[str]) -> str:
    return "|".join(map(re.escape, sorted(words, key=len, reverse=True)))
