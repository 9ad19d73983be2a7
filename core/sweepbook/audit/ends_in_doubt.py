"""Whose curves may be those of the other end: where a stated figure belongs to the curve there."""

from collections.abc import Iterable
from typing import TYPE_CHECKING

from sweepbook.findings import Finding
from sweepbook.judging.assessment import Margin, Recomputed
from sweepbook.judging.overview import deciding
from sweepbook.judging.phrases import subject
from sweepbook.rules.stated_parts import SOURCES

if TYPE_CHECKING:
    from sweepbook.rules.case import Case

ELSEWHERE = "elsewhere"
"""The argument of findings that says where a stated figure belongs to."""
FIGURES = frozenset({"worst_margin", "worst_value"})
DOUBT = " (or the other one: the two ends seem to be interchanged)"


def ends_in_doubt(case: "Case", findings: Iterable[Finding]) -> frozenset[str]:
    """The parameters whose curves may be those of the other end.

    Those are the parameter whose stated figure is of the other end, what is made from the same
    curves, and whatever else has no stated figure that names an end.

    Args:
        case: the record, judged.
        findings: on it; what somebody lets stand puts nothing in doubt.
    """
    paths = {one.path for one in findings if one.arguments.get(ELSEWHERE) and not one.accepted}
    if not paths:
        return frozenset()
    doubted, told = set(), set()
    for path, item in case.stated_items:
        source = _source(item["parameter"])
        if any(f"{path}.{figure}" in paths for figure in FIGURES):
            doubted.add(source)
        if "end" in item and not FIGURES.isdisjoint(item):
            told.add(source)
    judged = {one.parameter for one in case.assessment.margins if one.end is not None}
    return frozenset(one for one in judged if _source(one) in doubted or _source(one) not in told)


def with_doubt(case: "Case", doubted: frozenset[str]) -> str:
    """The reason of a judgement, with the doubt where it names the end of what decides.

    Args:
        case: the record, judged.
        doubted: see `ends_in_doubt`.
    """
    said = case.assessment
    part = deciding(said.margins, said.scalars) if doubted else None
    if said.recomputed is Recomputed.UNDECIDED or not isinstance(part, Margin):
        return said.reason
    if part.end is None or part.parameter not in doubted:
        return said.reason
    named = subject(part.parameter, part.end, part.pairs)[1:]  # it may begin a sentence
    return said.reason.replace(named, named + DOUBT, 1)


def _source(parameter: str) -> str:
    """The parameter that was measured, of one that is worked out."""
    return SOURCES.get(parameter, parameter)
