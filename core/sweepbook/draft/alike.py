"""Names beside each other: words that change places in them, and words that all of them have."""

import re
from collections.abc import Iterable, Mapping, Sequence
from itertools import combinations

from sweepbook.draft import phrases
from sweepbook.draft.evidence import SeenCurve
from sweepbook.draft.naming import Naming, whole_words
from sweepbook.draft.parsed import PLACEHOLDER, Ends
from sweepbook.draft.trade_words import ENDS, NO_VALUE

_WORD = re.compile(r"[^\W_]+")
_BETWEEN = re.compile(r"\{first_pair\}.*?\{second_pair\}")
_PAIRS = 4
"""So many names at least have an end: those of the return loss of four pairs."""
_BRACKETS = {"(": ")", "[": "]"}


def two_ends(curves: Sequence[SeenCurve], naming: Naming) -> Ends | None:
    """Two words that stand for each other in names that are otherwise the same.

    Names of one pair and of two are among them: of return loss and of crosstalk. So two words for
    two kinds of crosstalk, or for two losses of a pair, are not taken for ends. One of the two may
    stand in more names, as where far-end crosstalk is given at one end only.
    """
    for texts in _by_slot(curves).values():
        parsed = {text: naming.parse(text) for text in texts}
        spelt = [spelling for one in parsed.values() for spelling, _ in one.pairs]
        paired = set(_words(spelt))
        having: dict[str, list[str]] = {}
        for text in texts:
            for found in dict.fromkeys(_WORD.findall(text)):
                having.setdefault(found, []).append(text)
        often = [w for w, some in having.items() if len(some) >= _PAIRS and w not in paired]
        words = [w for w in often if not phrases.has(w, NO_VALUE)]
        for one, other in combinations(words, 2):
            fewer, more = sorted((one, other), key=lambda word: len(having[word]))
            first, second = ({_void(t, word) for t in having[word]} for word in (fewer, more))
            both = not set(having[one]).isdisjoint(having[other])
            sizes = {len(parsed[text].pairs) for text in having[fewer]}
            if not both and first <= second and sizes >= {1, 2}:
                ends = one.casefold(), other.casefold()
                known = whole_words(ends)  # in any language each, and whichever comes first
                return known or (ends if ends[::-1] not in ENDS else ends[::-1])
    return None


def shared(curves: Sequence[SeenCurve], naming: Naming) -> dict[str, frozenset[str]]:
    """Words that name nothing, by slot.

    Those of all names, of all with an end, between pairs; and units, which some names may have
    beside a word for a parameter that is known, and others beside one that is not.
    """
    found = {}
    for slot, texts in _by_slot(curves).items():
        parsed = [naming.parse(text) for text in texts]
        templates = [one.template for one in parsed]
        units = {one.unit for one in parsed if one.unit}
        ended = [template for template in templates if "{end}" in template]
        common = _common(templates) | _common(ended)
        between = [word for one in templates for part in _BETWEEN.findall(one)
                   for word in _words([PLACEHOLDER.sub(" ", part)])]  # fmt: skip
        found[slot] = frozenset(common.union(between, units))
    return found


def word(template: str, beside: frozenset[str]) -> str:
    """What is left of a name once its placeholders and the words of all names are taken out.

    Args:
        template: the name with placeholders.
        beside: words that name nothing.
    """
    rest = PLACEHOLDER.sub("\0", _BETWEEN.sub("\0", template))
    words = list(_WORD.finditer(rest))
    left = [found for found in words if found[0] not in beside] or words
    if not left:
        return ""
    begin, end = left[0].start(), left[-1].end()
    text = rest[begin:end]
    if "\0" in text or not any(map(str.isalpha, text)):
        return ""
    closes = next((close for open_, close in _BRACKETS.items() if text.count(open_) == 1), "")
    return text + closes if closes and rest[end : end + 1] == closes else text


def _by_slot(curves: Sequence[SeenCurve]) -> Mapping[str, list[str]]:
    """The distinct texts of each slot, in order."""
    slots: dict[str, dict[str, None]] = {}
    for curve in curves:
        for slot, text in curve.texts.items():
            slots.setdefault(slot, {})[text.strip()] = None
    return {slot: list(texts) for slot, texts in slots.items()}


def _common(templates: Sequence[str]) -> set[str]:
    """Words of all templates, where these are several."""
    sets = [set(_words([PLACEHOLDER.sub(" ", one)])) for one in templates]
    return set.intersection(*sets) if len(sets) > 1 else set()


def _words(texts: Iterable[str]) -> list[str]:
    return list(dict.fromkeys(found for text in texts for found in _WORD.findall(text)))


def _void(text: str, word: str) -> str:
    return _WORD.sub(lambda found: "\0" if found[0] == word else found[0], text)
