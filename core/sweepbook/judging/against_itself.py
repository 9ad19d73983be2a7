"""What a source itself states to fail under its pass, though its sweeps pass.

Figures and sweeps are then not of one test, and either may be wrong: sweeps that were put beside
the figures of another link, or shifted, prove no pass of this one.
"""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from sweepbook.judging.assessment import Margin, Outcome, ScalarMargin
from sweepbook.judging.curves import UNORDERED
from sweepbook.judging.parts import Parts
from sweepbook.judging.phrases import figure, listed, subject
from sweepbook.judging.settle import TOLERANCE
from sweepbook.judging.stated_readings import WORST_MARGIN
from sweepbook.judging.working import StatedFigure

Part = Margin | ScalarMargin


def against_itself(
    document: Mapping[str, Any], figures: Sequence[StatedFigure], parts: Parts
) -> str:
    """Say which required parts a source states to fail though their curves and figures pass.

    Args:
        document: the record.
        figures: its stated figures beside the recomputed ones.
        parts: judged.

    Returns:
        In words, the first two of them; "" where there is none.
    """
    return listed(list(dict.fromkeys(_told(document, figures, parts))))


def _told(
    document: Mapping[str, Any], figures: Sequence[StatedFigure], parts: Parts
) -> Iterator[str]:
    passing: dict[str, list[Part]] = {}
    every: tuple[Part, ...] = (*parts.margins, *parts.scalars)
    for part in every:
        if part.obligation == "required" and part.outcome is Outcome.PASS:
            passing.setdefault(part.parameter, []).append(part)
    for one in figures:
        if one.parameter in passing and _is_below_its_limit(one):
            what = subject(one.parameter, one.end, one.pairs)
            stated, found = figure(-one.stated), figure(one.recomputed)
            unit = "%" if one.unit == "percent" else one.unit
            yield f"{what} {stated} {unit} worse than its limit (recomputed: {found} {unit} better)"
    for item in document.get("stated", {}).get("items", ()):
        if not item.get("verdict", "").startswith("fail"):
            continue
        if any(_is_about(item, part) for part in passing.get(item["parameter"], ())):
            what = subject(item["parameter"], item.get("end"), item.get("pairs", ()))
            yield f"a fail of {what} (recomputed: a pass)"


def _is_below_its_limit(one: StatedFigure) -> bool:
    """Whether a stated margin is below 0 in whatever way an instrument rounded, and is not found.

    A whole last digit is allowed, since value and limit may have been rounded before.
    """
    surely = one.stated + 2.0 * one.half_digit < -TOLERANCE
    return surely and one.figure == WORST_MARGIN and not one.agrees


def _is_about(item: Mapping[str, Any], part: Part) -> bool:
    """Whether a stated item is about a judged part; what it leaves open is about all."""
    pairs = tuple(item.get("pairs", ()))
    if isinstance(part, ScalarMargin):
        return not pairs or part.pair in ("/".join(pairs), None)
    if item.get("end") is not None and part.end not in (item["end"], None):
        return False
    same = part.pairs == pairs
    if part.parameter in UNORDERED:
        same = sorted(part.pairs) == sorted(pairs)
    return not pairs or same
