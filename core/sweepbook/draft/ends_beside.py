"""Words where an end stands: others than in the names of curves, or for none, such as "both"."""

from collections.abc import Collection, Iterable, Sequence

from sweepbook.dialect.parameters import FAR_END, parameters
from sweepbook.draft import phrases
from sweepbook.draft.absent_words import says
from sweepbook.draft.evidence import SeenCurve
from sweepbook.draft.naming import Naming, whole_words
from sweepbook.draft.trade_words import ENDS

_MOST_WORDS = 3
_MOST_FOR_NONE = 2

Beside = Iterable[tuple[str, str | None]]
"""Texts of one place, and the parameter that each stands beside."""


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
        if len(texts) > _MOST_WORDS or len(words) != len(ENDS[0]):
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


def of_curves(curves: Sequence[SeenCurve], naming: Naming) -> list[str]:
    """Such words in the names of curves."""
    slots: dict[str, list[tuple[str, str | None]]] = {}
    for curve in curves:
        parts = {slot: naming.parse_in(slot, text) for slot, text in curve.texts.items()}
        parameter = naming.together(parts.values()).parameter
        for slot, text in curve.texts.items():
            slots.setdefault(slot, []).append((text.strip(), parameter))
    return [word for beside in slots.values() for word in words(beside, naming)]


def words(beside: Beside, naming: Naming) -> list[str]:
    """The words of a place where other texts are ends, if they stand only where none is needed."""
    texts: dict[str, list[str | None]] = {}
    for text, parameter in beside:
        if any(map(str.isalnum, text)):
            texts.setdefault(text, []).append(parameter)
    parsed = {text: naming.parse(text) for text in texts}
    strange = [text for text, part in parsed.items() if "{" not in part.template]
    ends = [text for text, part in parsed.items() if part.end and not part.parameter]
    if not ends or not 0 < len(strange) <= _MOST_FOR_NONE or len(ends) + len(strange) < len(texts):
        return []
    ended = {parameter for text in ends for parameter in texts[text]}
    return [text for text in strange if all(needs_none(of, ended) for of in texts[text])]


def needs_none(parameter: str | None, ended: Collection[str | None]) -> bool:
    """Whether curves of a parameter may be told without an end.

    Far-end crosstalk may that is given one way only.

    Args:
        parameter: of the curves.
        ended: the parameters of curves that are told with one.
    """
    one_way = parameter in FAR_END and parameter not in ended
    return parameter is not None and (one_way or parameters()[parameter].end != "each")


def with_blank(templates: Sequence[str]) -> list[str]:
    """Templates of cells of which some say nothing, which only a placeholder alone allows."""
    made = list(templates)
    for alone in ("{end}", "{pairs}"):
        if all(alone in of and of != alone for of in templates):
            made.append(alone)
    return made
