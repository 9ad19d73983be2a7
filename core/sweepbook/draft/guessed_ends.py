"""Words for near and far that no trade knows, told by where they stand in the names of curves."""

from collections.abc import Sequence

from sweepbook.dialect.parameters import FAR_END
from sweepbook.draft import phrases
from sweepbook.draft.absent_words import says
from sweepbook.draft.ends_beside import needs_none
from sweepbook.draft.evidence import SeenCurve
from sweepbook.draft.naming import Naming
from sweepbook.draft.parsed import PLACEHOLDER, Ends, Parsed
from sweepbook.draft.trade_words import LIMIT, MARGIN
from sweepbook.draft.verdicts import verdict_of

_PAIRS = 4
_LEAST_OF_AN_END = 4
"""So many curves at least have an end in their names: return loss of four pairs."""
_WITH_NONE = 3
_SHORT = 2
"""No longer are codes of ends."""
BESIDE = (*LIMIT, *MARGIN)
"""Words for what stands beside curves."""
_IN_CONTRAST = ("measured", "measured value")
"""What curves are called beside these; measured at a place is another matter."""


def settle(curves: Sequence[SeenCurve], naming: Naming) -> None:
    """Where no word of the trade names an end, two words of one slot that name nothing else do.

    Args:
        curves: with all that may name them.
        naming: takes the ends that are found.
    """
    slots: dict[str, list[tuple[str, str | None]]] = {}
    naming_more: set[str] = set()
    for curve in curves:
        parts = {slot: naming.parse(text) for slot, text in curve.texts.items()}
        parameter = naming.together(parts.values()).parameter
        for slot, text in curve.texts.items():
            if parts[slot].parameter or parts[slot].pairs:
                naming_more.add(slot)
            elif says(text):
                slots.setdefault(slot, []).append((text.strip(), parameter))
    for texts in (some for slot, some in slots.items() if slot not in naming_more):
        words = _without_none(texts)
        told = any(map(_tells_kinds, words))
        if len(words) == 2 and not told and any(_have_more(curves, naming, words)):
            if {of[1] for word in words if (of := naming.parse(word).end)} == {"near", "far"}:
                return  # known by words of the trade, whichever of them comes first
            naming.ends = _driven_at_near(curves, naming, (words[0], words[1]))
            return
    if naming.ends is None:
        _numbers_are_ends(curves, naming)
    if naming.ends is None:
        naming.ends = _rest_is_ends(curves, naming)


def _without_none(texts: Sequence[tuple[str, str | None]]) -> list[str]:
    """The words of a slot, each once, without a third one for no end.

    Args:
        texts: with the parameter of each curve. That word stands only where no end is needed, and
            the two others beside each parameter where one is.
    """
    beside: dict[str, set[str | None]] = {}
    for word, parameter in texts:
        beside.setdefault(word, set()).add(parameter)
    words = list(beside)
    if len(words) != _WITH_NONE:
        return words
    for none in words:
        one, other = (word for word in words if word != none)
        ended = beside[one]
        if ended == beside[other] and all(needs_none(of, ended) for of in beside[none]):
            return [one, other]
    return words


def _tells_kinds(word: str) -> bool:
    """Whether a text tells curves from what stands beside them, or states a verdict."""
    beside = phrases.has(word, BESIDE) or phrases.whole(word, _IN_CONTRAST)
    return beside or verdict_of(word) is not None


def _numbers_are_ends(curves: Sequence[SeenCurve], naming: Naming) -> None:
    """Two codes in one slot are ends where another slot names four pairs; return loss has ends."""
    words: dict[str, list[str]] = {}
    for curve in curves:
        for slot, text in curve.texts.items():
            if says(text) and text.strip() not in words.setdefault(slot, []):
                words[slot].append(text.strip())
    all_pairs = [slot for slot, some in words.items() if len(some) == _PAIRS]
    for slot, some in words.items():
        short = all(text.isalnum() and len(text) <= _SHORT for text in some)
        numbered = len(some) == 2 and (short or all(naming.parse(text).pairs for text in some))
        if numbered and all_pairs and not all(says(curve.texts.get(slot, "")) for curve in curves):
            first, second = sorted(some)
            naming.ends = _driven_at_near(curves, naming, (first, second))
            naming.end_slots = {slot}
            return


def _driven_at_near(curves: Sequence[SeenCurve], naming: Naming, words: Ends) -> Ends:
    """Two words for the ends in their order: near and far.

    Far-end crosstalk that is given at one end only is received at the far one, since a tester
    drives from its main unit: common practice, no source. Else the words are as they come.

    Args:
        curves: with all that may name them.
        naming: how the rest is called.
        words: the two.
    """
    received: set[str] = set()
    others: set[str] = set()
    for curve in curves:
        said = [text.strip() for text in curve.texts.values()]
        named = filter(None, (naming.parse(text).parameter for text in said))
        far = any(parameter in FAR_END for _, parameter in named)
        (received if far else others).update(word for word in words if word in said)
    ordered = words[::-1] if received == {words[0]} and others == {*words} else words
    return ordered[0].casefold(), ordered[1].casefold()


def _rest_is_ends(curves: Sequence[SeenCurve], naming: Naming) -> tuple[str, str] | None:
    """Two words that names end in once parameter and pairs are taken out, such as (1) and (2)."""
    rests: dict[str, int] = {}
    for curve in curves:
        for text in curve.texts.values():
            part = naming.parse(text)
            rest = PLACEHOLDER.sub("", part.template).strip(" -:,;()[]/#@")
            if part.parameter and rest:
                rests[rest] = rests.get(rest, 0) + 1
    words = list(rests)
    alike = len(words) == 2 and min(rests.values()) >= _LEAST_OF_AN_END
    return (words[0].casefold(), words[1].casefold()) if alike else None


def _have_more(curves: Sequence[SeenCurve], naming: Naming, words: Sequence[str]) -> list[bool]:
    """Whether a curve with one of the words has a text besides that says more than its pairs."""
    return [
        any(text.strip() in words for text in curve.texts.values())
        and any(
            _says_more(naming.parse(text)) for text in curve.texts.values() if text not in words
        )
        for curve in curves
    ]


def _says_more(part: Parsed) -> bool:
    rest = PLACEHOLDER.sub("", part.template)
    return part.parameter is not None or any(map(str.isalpha, rest))
