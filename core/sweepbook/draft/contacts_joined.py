"""Pairs by their two contacts with a mark or a word of the export's own between: "1e2", "1 y 2"."""

import re
from collections.abc import Iterable, Sequence

from sweepbook.draft.phrases import JOINED, PINS, Pairing
from sweepbook.draft.trade_words import PIN_PAIRS

_LONGEST = 5
"""Characters between two contacts, blanks around a short word among them."""
_USUAL = re.compile(JOINED)
_JOINTS = tuple(
    re.compile(rf"(?<![0-9]){near}(?=([^0-9]{{1,{_LONGEST}}}){far}(?![0-9]))")
    for near, far in PIN_PAIRS.values()
)


def joined_otherwise(texts: Sequence[str]) -> Pairing | None:
    """How pairs are called where the same stands between the contacts of all four.

    Args:
        texts: names.

    Returns:
        None where nothing does, or only what usually stands there.
    """
    common = set.intersection(*(_joints(joint, texts) for joint in _JOINTS))
    marks = sorted(mark for mark in common if not _USUAL.fullmatch(mark))
    if not marks:
        return None
    between = "|".join(map(re.escape, sorted(marks, key=len, reverse=True)))
    pairs = ((pair, rf"{near}(?:{between}){far}") for pair, (near, far) in PIN_PAIRS.items())
    return Pairing(PINS.name, tuple(pairs))


def is_contacts(text: str) -> bool:
    """Whether a text is the two contacts of a pair, though it might be a number: 3,6."""
    return text.strip().replace(",", "-").replace(".", "-") in PIN_PAIRS


def _joints(joint: re.Pattern[str], texts: Iterable[str]) -> set[str]:
    """What stands between the contacts of one pair."""
    return {found for text in texts for found in joint.findall(text)}
