"""Marginal passes: proved, and nearer to the limit than the accuracy of the measurement.

They are passes, and stay so in every judgement. Whether such a link has to be tested again is for
the quality plan of the job to say; the project file repeats it.
"""

from typing import TYPE_CHECKING

from sweepbook.judging.assessment import Recomputed

if TYPE_CHECKING:
    from sweepbook.judging.assessment import Assessment
    from sweepbook.judging.working import Working

STATED = "stated as pass*"
_PROVED = ("upheld", "unstated")


def marginal_pass(assessment: "Assessment", working: "Working | None") -> str:
    """Why a proved pass is marginal, in words; "" where it is not, or is no proved pass.

    It is where its source says so, and where the accuracy that is known of it says so. A source
    that sets no asterisk is not taken to say that there should be none.
    """
    if assessment.recomputed is not Recomputed.PASS or assessment.judgement not in _PROVED:
        return ""
    found = working.asterisk if working else None
    within = found is not None and found.expected
    if assessment.stated != "pass*":
        return found.reason if found is not None and within else ""
    if found is None or found.expected is None:
        return STATED
    return f"{STATED}{';' if within else ', though'} {found.reason}"
