"""Assessments, findings and problems as the plain values of the audit document."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import asdict, fields
from enum import Enum
from typing import TYPE_CHECKING, Any

from sweepbook.corrections.table import texts
from sweepbook.errors import ReadProblem
from sweepbook.findings import Accepted, Finding, RuleNotRun
from sweepbook.judging.assessment import Assessment, Margin, ScalarMargin

if TYPE_CHECKING:
    from sweepbook.record.model import Record

_MARGIN = (
    "parameter",
    "end",
    "pairs",
    "obligation",
    "outcome",
    "unit",
    "worst_margin_db",
    "worst_margin_mhz",
    "limit_at_worst_margin_db",
    "margin_low_db",
    "margin_high_db",
    "worst_value_db",
    "worst_value_mhz",
    "limit_at_worst_value_db",
    "points_evaluated",
    "points_for_information",
    "origin",
    "grade",
    "reason",
)
_FINDING = ("rule", "severity", "path", "message", "arguments", "accepted")
"""Members of a finding in the audit document, which is settled."""
_SCALAR = (
    "parameter",
    "pair",
    "value",
    "limit",
    "margin",
    "unit",
    "obligation",
    "outcome",
    "origin",
    "grade",
    "reason",
)


_AS_THEY_ARE = (str, int, bool, type(None))
"""Most fields are one of these: to ask for them first saves half of the time."""


def record_entry(assessment: Assessment) -> dict[str, Any]:
    """One record as the audit document has it: JSON values only, names of the schema audit-1."""
    record = assessment.record
    return {
        "record_id": record.record_id,
        "label": _label(record.document),
        "source": [_origin(origin) for origin in record.document.get("origin", [])],
        "limit": {
            "path": assessment.limit_path,
            "how": assessment.limit_how,
            "sha256": assessment.limit_sha256,
            "verdict_as_stated": assessment.verdict_limit,
            "verdict_path": assessment.verdict_limit_path,
        },
        "stated": assessment.stated,
        "recomputed": assessment.recomputed.value,
        "judgement": assessment.judgement.value,
        "reason": assessment.reason,
        "grade": assessment.grade,
        "marginal": assessment.marginal,
        "again": assessment.again,
        "margins": [_plain(margin, _MARGIN) for margin in assessment.margins],
        "scalars": [_plain(scalar, _SCALAR) for scalar in assessment.scalars],
        "corrections": list(_corrections(record)),
        "names": [asdict(name) for name in record.spelled.names] if record.spelled else [],
        "findings": [finding_entry(finding) for finding in assessment.findings],
        "rules_not_run": [not_run_entry(rule) for rule in assessment.rules_not_run],
    }


def finding_entry(finding: Finding) -> dict[str, Any]:
    """One finding as the audit document has it."""
    return _plain(finding, _FINDING)


def not_run_entry(rule: RuleNotRun) -> dict[str, Any]:
    """One rule that gave no answer, as the audit document has it."""
    return _plain(rule, [part.name for part in fields(rule)])


def problem_entry(problem: ReadProblem) -> dict[str, Any]:
    """One problem in reading as the audit document has it."""
    return _plain(problem, [part.name for part in fields(problem)])


def _corrections(record: "Record") -> Iterator[dict[str, Any]]:
    """Each correction, applied or not; what was judged is the record with those applied."""
    corrected = record.corrected
    if corrected:
        for correction in corrected.applied:
            yield {**texts(correction), "applied": True}
        for unfit in corrected.unfit:
            yield {**texts(unfit.correction), "applied": False}


def _plain(
    value: Margin | ScalarMargin | Finding | RuleNotRun | ReadProblem, names: Sequence[str]
) -> dict[str, Any]:
    return {name: _json(getattr(value, name)) for name in names}


def _json(value: Any) -> Any:  # noqa: ANN401 - a field of any of the above
    if type(value) in _AS_THEY_ARE:
        return value
    if isinstance(value, Enum):
        return value.value
    if isinstance(value, tuple):
        return list(value)
    if isinstance(value, Accepted):
        return asdict(value)
    if isinstance(value, float):
        return float(value) + 0.0 if math.isfinite(value) else None  # no minus zero
    return dict(value) if hasattr(value, "keys") else value


def _origin(origin: dict[str, Any]) -> dict[str, Any]:
    """A file in which a record was found, and those that hold other parts of the same test."""
    found: dict[str, Any] = _part(origin)
    if "joined" in origin:
        found["joined"] = [_part(part) for part in origin["joined"]]
    return found


def _part(origin: dict[str, Any]) -> dict[str, Any]:
    return {name: str(origin.get(name, "")) for name in ("name", "sha256", "locator")}


def _label(document: dict[str, Any]) -> str:
    """The label, also of a record that does not follow its schema."""
    link = document.get("link")
    label = link.get("label") if isinstance(link, dict) else None
    return label if isinstance(label, str) else ""
