"""Judge a record under a limit table: recompute, compare, and say what becomes of its verdict."""

from typing import TYPE_CHECKING

import numpy as np

from sweepbook.judging.accuracy import Accuracy, Declared
from sweepbook.judging.accuracy_model import Modelled, Terms
from sweepbook.judging.against_itself import against_itself
from sweepbook.judging.assessment import Assessment, Judgement, PairOrder, Recomputed
from sweepbook.judging.evidence import Evidence, gather
from sweepbook.judging.marginal import accuracies, asterisk
from sweepbook.judging.parts import Parts, judge_parts
from sweepbook.judging.physics import Bounds
from sweepbook.judging.reasons import Said, contradicted, reason, sentence
from sweepbook.judging.settings import JudgeSettings
from sweepbook.judging.stated import stated_figures
from sweepbook.judging.trials import trials
from sweepbook.judging.verdict import judgement
from sweepbook.judging.working import StatedFigure, Trial, Working
from sweepbook.limits.model import LimitTable

if TYPE_CHECKING:
    from sweepbook.record.model import Record

JUDGED_KINDS = ("balanced-link",)


def judge(record: "Record", table: LimitTable | None, settings: JudgeSettings) -> Assessment:
    """Judge a record; see `judge_with_working`."""
    return judge_with_working(record, table, settings)[0]


def judge_with_working(
    record: "Record", table: LimitTable | None, settings: JudgeSettings
) -> tuple[Assessment, Working]:
    """Judge a record and keep what the judgement rests on.

    Args:
        record: follows its schema.
        table: the limit table, or None where none was found.
        settings: interpretations, grades, and how the table was found.

    Returns:
        The assessment, without findings, and its working.
    """
    # Values beyond any measurement overflow to infinities, which prove nothing; no need to warn.
    with np.errstate(over="ignore", invalid="ignore", divide="ignore"):
        return _judge(record, table, settings)


def _judge(
    record: "Record", table: LimitTable | None, settings: JudgeSettings
) -> tuple[Assessment, Working]:
    if record.kind not in JUDGED_KINDS:
        why = f"Records of kind {record.kind!r} are kept, not judged."
        return _not_judged(record, table, settings, why), Working()
    evidence = gather(record.document, Bounds.of(settings.practice), table)
    if table is None:
        why = sentence(settings.limit_how or "the record names no limit")
        unjudged = _not_judged(record, None, settings, why, evidence.pair_order)
        return unjudged, _working(evidence, None, ())
    parts = judge_parts(evidence, table, settings)
    turning = trials(evidence, table, settings, parts)
    figures = stated_figures(evidence, parts, table, settings)
    said = _said(record)
    why = reason(said, parts, turning, table, settings.interpretations)
    recomputed, grade = parts.whole
    if turning:
        recomputed, grade = Recomputed.UNDECIDED, None
    elif recomputed is Recomputed.PASS and (said.verdict or "").startswith("pass"):
        own = against_itself(evidence.document, figures, parts)
        if own:
            recomputed, grade, why = Recomputed.UNDECIDED, None, contradicted(said, own)
    assessment = Assessment(
        record=record,
        limit_path=table.path,
        limit_how=settings.limit_how,
        limit_sha256=table.sha256,
        stated=said.verdict,
        recomputed=recomputed,
        judgement=judgement(said.verdict, recomputed),
        reason=why,
        grade=grade,
        margins=parts.margins,
        scalars=parts.scalars,
        pair_order=evidence.pair_order,
    )
    accuracy = _accuracy(evidence, table, settings)
    working = _working(evidence, parts, turning, figures, accuracy, settings.asterisk)
    return assessment, working


def _accuracy(evidence: Evidence, table: LimitTable, settings: JudgeSettings) -> Accuracy | None:
    """What is known of the accuracy: what the record declares goes before the model."""
    declared = evidence.document.get("test", {}).get("accuracy", ())
    if declared:
        return Declared(declared)
    if settings.accuracy is None:
        return None
    curves = {name: settled.curves for name, settled in evidence.settled.items()}
    terms = settings.terms or Terms.shipped()
    return Modelled(curves, table.configuration, settings.accuracy, terms)


def _stated(record: "Record") -> str | None:
    return _said(record).verdict


def _said(record: "Record") -> Said:
    overall = record.document.get("stated", {}).get("overall", {})
    return Said(overall.get("verdict"), overall.get("as_stated", ""))


def _not_judged(
    record: "Record",
    table: LimitTable | None,
    settings: JudgeSettings,
    why: str,
    order: PairOrder = PairOrder.NOT_ASKED,
) -> Assessment:
    stated = _stated(record)
    return Assessment(
        record=record,
        limit_path=table.path if table else None,
        limit_how=settings.limit_how,
        limit_sha256=table.sha256 if table else None,
        stated=stated,
        recomputed=Recomputed.UNDECIDED,
        judgement=Judgement.UNSTATED if stated is None else Judgement.UNPROVEN,
        reason=why,
        grade=None,
        pair_order=order,
    )


def _working(
    evidence: Evidence,
    parts: Parts | None,
    turning: tuple[Trial, ...],
    figures: tuple[StatedFigure, ...] = (),
    accuracy: Accuracy | None = None,
    asterisk_at: str = "worst-margin",
) -> Working:
    known = accuracies(parts.held, accuracy) if parts else {}
    return Working(
        measured_curves=evidence.measured,
        recomputed_curves=evidence.recomputed,
        judged_curves={name: settled.curves for name, settled in evidence.settled.items()},
        lacks=parts.lacks if parts else (),
        doubts=evidence.doubts,
        disagreements=parts.disagreements if parts else evidence.disagreements,
        stated_figures=figures,
        accuracy=accuracy,
        accuracies=known,
        asterisk=asterisk(evidence.document, parts, accuracy, known, asterisk_at)
        if parts
        else None,
        trials=turning,
        unread=evidence.unread,
        held=parts.held if parts else (),
        evidence=evidence,
    )
