"""That the verdict alone is upheld, where something that a source gives beside it is wrong."""

from collections.abc import Iterable

from sweepbook.findings import Finding, Severity
from sweepbook.judging.assessment import Assessment, Judgement
from sweepbook.rules.catalogue import Catalogue

_SAID = {
    ("verdict",): "not all that is stated with it follows",
    ("sweep",): "not all curves beside it follow from each other",
    ("sweep", "verdict"): "not all curves and figures beside it follow",
}
"""What is wrong, by the subjects of the rules that found it."""


def verdict_alone(assessment: Assessment, findings: Iterable[Finding], catalogue: Catalogue) -> str:
    """The sentence, with a blank before it, to follow the reason of the judgement.

    Args:
        assessment: of the record.
        findings: on it.
        catalogue: the rules that were asked.

    Returns:
        "" where the verdict is not upheld, or no error in what is given with it stands.
    """
    if assessment.judgement is not Judgement.UPHELD:
        return ""
    wrong = {one.rule for one in findings if one.severity is Severity.ERROR and not one.accepted}
    subjects = {rule: catalogue.entry(rule).subject for rule in sorted(wrong)}
    said = _SAID.get(tuple(sorted({*subjects.values()} & {"sweep", "verdict"})))
    if said is None:
        return ""
    named = ", ".join(rule for rule, subject in subjects.items() if subject in ("sweep", "verdict"))
    return f" Upheld is the verdict alone: {said} ({named})."
