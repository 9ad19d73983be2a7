"""The one curve or figure that a person asks for first."""

import math
from collections.abc import Iterable, Sequence
from operator import attrgetter

from sweepbook.judging.assessment import IN_NS, Margin, Outcome, ScalarMargin

Part = Margin | ScalarMargin


def worst_margin(margins: Iterable[Margin]) -> Margin | None:
    """The required curve with the smallest margin in dB; any curve where none is required.

    Returns:
        None where no curve in dB was evaluated.
    """
    worst, least = None, math.inf
    others: list[Margin] = []
    for margin in margins:
        found = margin.worst_margin_db
        if found is None or margin.parameter in IN_NS:
            continue
        if margin.obligation != "required":
            others.append(margin)
        elif worst is None or found < least:
            worst, least = margin, found
    return worst or min(others, key=attrgetter("worst_margin_db"), default=None)


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
