"""Words that stand where an end stands, beside what has none: "both", "not applicable"."""

from collections.abc import Iterable, Sequence

from sweepbook.dialect.parameters import parameters
from sweepbook.draft.evidence import SeenCurve
from sweepbook.draft.naming import Naming

_MOST = 2

Beside = Iterable[tuple[str, str | None]]
"""Texts of one place, and the parameter that each stands beside."""


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
    if not ends or not 0 < len(strange) <= _MOST or len(ends) + len(strange) < len(texts):
        return []
    return [text for text in strange if all(map(_needs_none, texts[text]))]


def _needs_none(parameter: str | None) -> bool:
    return parameter is not None and parameters()[parameter].end != "each"


def with_blank(templates: Sequence[str]) -> list[str]:
    """Templates of cells of which some say nothing, which only a placeholder alone allows."""
    made = list(templates)
    for alone in ("{end}", "{pairs}"):
        if all(alone in of and of != alone for of in templates):
            made.append(alone)
    return made
