"""The one curve or figure that a person asks for first."""

import math
from collections.abc import Iterable, Sequence
from operator import attrgetter

from sweepbook.judging.assessment import IN_NS, Margin, Outcome, ScalarMargin

Part = Margin | ScalarMargin
ALL, WORST, NONE = "all", "worst", "none"
"""Which parts are wanted of a record: all; of each parameter the one nearest to failing; none."""


def worst_margin(margins: Sequence[Margin]) -> Margin | None:
    """The required curve with the smallest margin in dB; any curve where none is required.

    Returns:
        None where no curve in dB was evaluated.
    """
    worst, least = None, math.inf
    for margin in margins:
        found = margin.worst_margin_db
        if (
            found is not None
            and found < least  # asked first, since it is true of few
            and margin.obligation == "required"
            and margin.parameter not in IN_NS
        ):
            worst, least = margin, found
    return worst or _any_margin(margins)


def _any_margin(margins: Iterable[Margin]) -> Margin | None:
    """The smallest, required or not, where no required curve has a finite one."""
    known = [m for m in margins if m.worst_margin_db is not None and m.parameter not in IN_NS]
    required = [margin for margin in known if margin.obligation == "required"]
    return min(required or known, key=attrgetter("worst_margin_db"), default=None)


def failing(parts: Iterable[Part]) -> list[Part]:
    """The required parts that fail, the first the one to tell: see `rank`."""
    fail = Outcome.FAIL  # looked up once: there are a hundred parts
    found = [part for part in parts if part.outcome is fail and part.obligation == "required"]
    return sorted(found, key=rank)


def rank(part: Part) -> tuple[int, float]:
    """The wire map first, since the rest may follow from it; then curves, the worst first."""
    if isinstance(part, Margin):
        return 1, part.worst_margin_db or 0.0
    return (0 if part.parameter == "wire_map" else 2), part.margin or 0.0


def deciding(margins: Sequence[Margin], scalars: Sequence[ScalarMargin]) -> Part | None:
    """The part to be shown for a whole record.

    Returns:
        Of a fail, the part that fails, so that a fail is never shown with a margin that is good;
        else the required curve with the smallest margin in dB. None where there is neither.
    """
    every: list[Part] = [*margins, *scalars]
    found = failing(every)
    return found[0] if found else worst_margin(margins)


def wanted(parts: Sequence[Part], which: str) -> list[int]:
    """The places of the parts that are wanted, curves and single figures apart.

    Args:
        parts: of a record.
        which: ALL, WORST or NONE.
    """
    if which == NONE:
        return []
    if which == ALL:
        return [*range(len(parts))]
    nearest: dict[tuple[str, bool], tuple[bool, float, int]] = {}
    fail = Outcome.FAIL  # looked up once: there are a hundred parts
    for place, part in enumerate(parts):
        if isinstance(part, Margin):
            kind, margin = (part.parameter, True), part.worst_margin_db
        else:
            kind, margin = (part.parameter, False), part.margin
        # what fails comes first, then by margin, what has none last, then by place
        held = (part.outcome is not fail, math.inf if margin is None else margin, place)
        if held < nearest.setdefault(kind, held):
            nearest[kind] = held
    return [place for _, _, place in nearest.values()]
