"""That of what a source states the verdict alone is upheld, where something beside it is wrong."""

from collections.abc import Iterable

from sweepbook.findings import Finding, Severity
from sweepbook.judging.assessment import Assessment, Judgement
from sweepbook.rules.catalogue import Catalogue

_STATED = "verdict"
"""Subject of the rules about what is stated."""


def verdict_alone(assessment: Assessment, findings: Iterable[Finding], catalogue: Catalogue) -> str:
    """The sentence, with a blank before it, to follow the reason of the judgement.

    Args:
        assessment: of the record.
        findings: on it.
        catalogue: the rules that were asked.

    Returns:
        "" where the verdict is not upheld, or no error in what is stated with it stands.
    """
    if assessment.judgement is not Judgement.UPHELD:
        return ""
    wrong = {one.rule for one in findings if one.severity is Severity.ERROR and not one.accepted}
    named = ", ".join(rule for rule in sorted(wrong) if catalogue.entry(rule).subject == _STATED)
    if not named:
        return ""
    return f" Upheld is the verdict alone: not all that is stated with it follows ({named})."
