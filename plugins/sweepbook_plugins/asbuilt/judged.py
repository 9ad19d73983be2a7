"""Columns of what was found out about a test."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from sweepbook.judging.overview import worst_margin
from sweepbook_plugins.asbuilt.entities import Row
from sweepbook_plugins.asbuilt.values import clean, finite

if TYPE_CHECKING:
    from sweepbook.findings import Finding, RuleNotRun
    from sweepbook.judging.assessment import Assessment
    from sweepbook.project.job import Job
    from sweepbook.record.model import Record


def of_job(job: "Job") -> Row:
    """The columns of what the project file says of a job."""
    said = job.to_json()
    return {name: clean(value) if isinstance(value, str) else value for name, value in said.items()}


def of_finding(finding: "Finding") -> Row:
    """The columns that every finding has."""
    return {
        "rule": finding.rule,
        "severity": str(finding.severity),
        "message": clean(finding.message),
        "accepted_by": clean(finding.accepted.who) if finding.accepted else None,
        "accepted_on": clean(finding.accepted.when) if finding.accepted else None,
        "accepted_why": clean(finding.accepted.why) if finding.accepted else None,
    }


def of_not_run(rule: "RuleNotRun") -> Row:
    """The columns that every rule without an answer has."""
    return {"rule": rule.rule, "how": str(rule.how), "reason": clean(rule.reason)}


def of_corrections(record: "Record") -> Iterator[Row]:
    """The columns of each correction of a test: those applied, then those that were not."""
    corrected = record.corrected
    if corrected is None:
        return
    unfit = [entry.correction for entry in corrected.unfit]
    for correction in (*corrected.applied, *unfit):
        yield {
            "field": clean(correction.field),
            "said_before": clean(correction.old),
            "said_now": clean(correction.new),
            "who": clean(correction.who),
            "entered": clean(correction.when),
            "why": clean(correction.why),
            "applied": int(correction not in unfit),
        }


def of_spellings(record: "Record") -> Iterator[Row]:
    """The columns of each spelling for which the project has one name."""
    for one in record.spelled.names if record.spelled else ():
        yield {"field": clean(one.field), "said": clean(one.said), "name": clean(one.name)}


def worst(assessment: "Assessment") -> Row:
    """The curve that a person asks for first; nothing where no curve was evaluated."""
    margin = worst_margin(assessment.margins)
    if margin is None:
        return {}
    return {
        "worst_parameter": clean(margin.parameter),
        "worst_end": margin.end,
        "worst_pairs": clean("/".join(margin.pairs)) or None,
        "worst_margin_db": finite(margin.worst_margin_db),
        "worst_margin_mhz": finite(margin.worst_margin_mhz),
    }
