"""Which limit a verdict was stated under, and what to say where it is judged under another."""

from dataclasses import replace
from typing import TYPE_CHECKING

from sweepbook.judging.assessment import Assessment
from sweepbook.rules.stated_limit import StatedLimit, find

if TYPE_CHECKING:
    from sweepbook.corrections.model import Correction
    from sweepbook.limits.library import Library
    from sweepbook.record.model import Record

ASKED_FOR = "asked for instead of the limit stated"


def told(
    assessment: Assessment, stated: StatedLimit, library: "Library", *, asked: bool
) -> Assessment:
    """The assessment, which names the limit of its verdict and says so where that is another.

    Args:
        assessment: judged under the table that its `limit_path` names.
        stated: what the record, as corrected, leads to.
        library: the tables at hand.
        asked: whether the table was asked for, whatever the record names.
    """
    record = assessment.record
    changes = _corrections(record)
    testers = find(record.evidence, library) if changes else stated
    known = replace(assessment, verdict_limit=testers.spelling, verdict_limit_path=testers.path)
    if known.limit_path is None:
        return known
    if changes and not asked:
        return replace(known, reason=f"{known.reason} {_corrected(known, changes[-1])}")
    if known.is_stated_under_another:
        return replace(known, reason=f"{known.reason} {_another(known)}")
    return known


def _corrections(record: "Record") -> "list[Correction]":
    """The corrections of the limit as they were applied; none where they were taken back."""
    corrected = record.corrected
    if corrected is None or "test.limit" in corrected.taken_back:
        return []
    return [one for one in corrected.applied if one.field == "test.limit"]


def _corrected(assessment: Assessment, last: "Correction") -> str:
    """The sentence for a limit that is right by a correction."""
    under = assessment.verdict_limit or "one that is not named"
    return (
        f"The limit is {last.new} as corrected by {last.who}; the verdict was stated under {under}."
    )


def _another(assessment: Assessment) -> str:
    """The sentence for a verdict that is held against a limit that was asked for."""
    start = f"The {assessment.stated} was stated"
    if assessment.verdict_limit_path is not None:
        return f"{start} under another limit: {assessment.verdict_limit_path}."
    if assessment.verdict_limit:
        return f'{start} under "{assessment.verdict_limit}", which leads to no one table at hand.'
    return f"{start} without the name of a limit."
