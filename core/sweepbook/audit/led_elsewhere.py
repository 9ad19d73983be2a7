"""A pass under another limit than the one that a source names: it proves nothing of that one."""

from dataclasses import replace
from typing import TYPE_CHECKING

from sweepbook.judging.assessment import Assessment, Recomputed
from sweepbook.judging.verdict import judgement
from sweepbook.limits.compare import asks_no_less
from sweepbook.rules.words import listed

if TYPE_CHECKING:
    from sweepbook.limits.library import Library
    from sweepbook.rules.stated_limit import StatedLimit


def led_elsewhere(assessment: Assessment, stated: "StatedLimit", library: "Library") -> Assessment:
    """The assessment, undecided where it passes a limit that the name of the stated one is not.

    A limit that asks no less than the one that is named proves a pass of that one, too.

    Args:
        assessment: judged under the table that the stated limit leads to.
        stated: that limit.
        library: the tables at hand.
    """
    table, meant = stated.table, stated.contradicted
    if table is None or not meant or assessment.recomputed is not Recomputed.PASS:
        return assessment
    if all(asks_no_less(table, library.table(path)) for path in meant):
        return assessment
    reason = (
        f'Neither pass nor fail is proved: "{stated.spelling}" by itself means {listed(meant)}, '
        f"and what passes is {table.path}, to which it was led ({stated.how})."
    )
    return replace(
        assessment,
        recomputed=Recomputed.UNDECIDED,
        judgement=judgement(assessment.stated, Recomputed.UNDECIDED),
        reason=reason,
        grade=None,
    )
