"""A delivery without people: views of assessments that name nobody; the evidence stays as it is."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from sweepbook.corrections.model import Correction
from sweepbook.record.model import Corrected, Record

if TYPE_CHECKING:
    from sweepbook.findings import Finding
    from sweepbook.judging.assessment import Assessment

LEFT_OUT = "(left out)"
_OPERATOR = "test.operator"
_ANYTHING = ("extra", "extensions")
"""Members that hold whatever a source holds, names among it."""


def without_people(assessment: "Assessment") -> "Assessment":
    """An assessment without the operator, and without who corrected and accepted.

    Also gone is what the record keeps word for word, since nobody knows what that says. What
    people wrote as a reason stays.
    """
    return replace(
        assessment,
        record=_nameless(assessment.record),
        findings=tuple(map(unsigned, assessment.findings)),
    )


def unsigned(finding: "Finding") -> "Finding":
    """A finding without who accepts it."""
    if finding.accepted is None:
        return finding
    return replace(finding, accepted=replace(finding.accepted, who=LEFT_OUT))


def by_nobody(accepts: "Callable[[Finding], Finding]") -> "Callable[[Finding], Finding]":
    """What marks findings as accepted, without who accepts them."""

    def unnamed(finding: "Finding") -> "Finding":
        return unsigned(accepts(finding))

    return unnamed


def _nameless(record: Record) -> Record:
    corrected = record.corrected
    if corrected is not None:
        corrected = Corrected(
            _nameless(corrected.evidence),
            tuple(map(_anonymous, corrected.applied)),
            tuple(
                replace(
                    unfit,
                    correction=_anonymous(unfit.correction),
                    found=LEFT_OUT if unfit.correction.field == _OPERATOR else unfit.found,
                )
                for unfit in corrected.unfit
            ),
        )
    spelled = record.spelled
    if spelled is not None:
        spelled = replace(spelled, record=_nameless(spelled.record))
    return replace(record, document=_bare(record.document), corrected=corrected, spelled=spelled)


def _anonymous(correction: Correction) -> Correction:
    if correction.field != _OPERATOR:
        return replace(correction, who=LEFT_OUT)
    return replace(correction, who=LEFT_OUT, old=LEFT_OUT, new=LEFT_OUT)


def _bare(document: Mapping[str, Any]) -> dict[str, Any]:
    """The document without the operator and without what may hold anything."""
    left = {name: part for name, part in document.items() if name not in _ANYTHING}
    test = left.get("test")
    if isinstance(test, Mapping):
        left["test"] = {name: part for name, part in test.items() if name != "operator"}
    return left
