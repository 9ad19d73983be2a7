"""All parts of a record held against a table: curves, figures, wire map, and what is missing."""

from collections.abc import Container, Iterator, Sequence
from dataclasses import dataclass

from sweepbook.judging.assessment import Margin, Outcome, ScalarMargin
from sweepbook.judging.contested import contested
from sweepbook.judging.coverage import absent
from sweepbook.judging.doubts import without_proof
from sweepbook.judging.evidence import Evidence
from sweepbook.judging.hold import WITHOUT_COVERAGE, Asked, Held, hold, obligation_of
from sweepbook.judging.margins import margins
from sweepbook.judging.scalars import SCALARS, judge_figures
from sweepbook.judging.settings import JudgeSettings
from sweepbook.judging.verdict import Whole, whole
from sweepbook.judging.wiremap import judge_wire_map
from sweepbook.judging.working import Disagreement, Doubt, Lack
from sweepbook.limits.model import LimitTable


@dataclass(frozen=True, slots=True, eq=False)
class Parts:
    """What a record's evidence proves part by part.

    Attributes:
        held: curves with their margins as matrices.
        margins, scalars: one a curve, one a figure; in the order of the table.
        lacks: what the required parameters need and the record has not.
        barred: doubts that keep a pass from being proved.
        disagreements: exported figures that the raw ones do not yield.
        whole: all required parts together.
    """

    held: tuple[Held, ...]
    margins: tuple[Margin, ...]
    scalars: tuple[ScalarMargin, ...]
    lacks: tuple[Lack, ...]
    barred: tuple[Doubt, ...]
    disagreements: tuple[Disagreement, ...]
    whole: Whole


def judge_parts(
    evidence: Evidence,
    table: LimitTable,
    settings: JudgeSettings,
    others: Sequence[Held] = (),
    touched: Container[str] = (),
) -> Parts:
    """Hold everything against the table.

    Args:
        evidence: of the record.
        table: the limit table.
        settings: interpretations and grades.
        others: parameters as they were held under other interpretations.
        touched: those of them for which that makes a difference, and that are held anew.
    """
    asked = dict(_asked(evidence, table))
    wanted = settings.interpretations.companions(table)
    companions, doubted = evidence.companions(wanted), evidence.doubted_companions(wanted)
    kept = {one.rule.parameter: one for one in others}
    again = {name: one for name, one in asked.items() if name in touched or name not in kept}
    anew = zip(again, hold(list(again.values()), companions, table, settings), strict=True)
    held = {**kept, **dict(anew)}
    found: list[Margin] = []
    lacks: list[Lack] = []
    swept: dict[str, frozenset[str]] = {}
    for parameter, rule in table.parameters.items():
        one = held.get(parameter)
        if one is None:
            if parameter not in SCALARS and obligation_of(rule, evidence.screened) == "required":
                lacks.extend(absent(parameter, None))
            continue
        curves = margins(one)
        if doubted and settings.interpretations.exclusions(table, parameter):
            (otherwise,) = hold([asked[parameter]], doubted, table, settings)
            curves = _as_doubted(curves, margins(otherwise))
        if parameter in WITHOUT_COVERAGE:
            curves = tuple(margin for margin in curves if margin.points_evaluated)
            swept[parameter] = frozenset(margin.pairs[0] for margin in curves)
        found.extend(curves)
        if one.obligation == "required":
            lacks.extend(one.absent)
            lacks.extend(lack for row in one.lacks.values() for lack in row)
    judged = judge_figures(evidence.figures, swept, evidence.screened, table, settings)
    lacks.extend(
        lack
        for lack in judged.lacks
        if obligation_of(table.parameters[lack.parameter], evidence.screened) == "required"
    )
    pins, no_pins = judge_wire_map(evidence.document, table.wire_map, evidence.screened)
    if table.wire_map.obligation == "required":
        lacks.extend(no_pins)
    differing = (*evidence.disagreements, *judged.disagreements)
    barred = (
        *(doubt for doubt in evidence.doubts if doubt.bars),
        *contested(evidence, differing, table, settings),
    )
    nothing = [doubt for doubt in barred if doubt.discredits]
    scalars = (*pins, *judged.margins)
    if nothing:
        found = [without_proof(margin, nothing) for margin in found]
        scalars = (*pins, *(without_proof(margin, nothing) for margin in judged.margins))
    return Parts(
        tuple(held.values()),
        tuple(found),
        scalars,
        tuple(lacks),
        barred,
        differing,
        whole((*found, *scalars), bool(lacks or barred)),
    )


def _asked(evidence: Evidence, table: LimitTable) -> Iterator[tuple[str, Asked]]:
    """What curves there are to be held against the limits, by parameter."""
    for parameter, rule in table.parameters.items():
        settled = evidence.settled.get(parameter)
        if settled is not None and rule.f_min_mhz is not None:
            yield parameter, Asked(rule, obligation_of(rule, evidence.screened), settled)


def _as_doubted(curves: Sequence[Margin], otherwise: Sequence[Margin]) -> tuple[Margin, ...]:
    """The margins, undecided where they would be if a doubted insertion loss left nothing out."""
    return tuple(
        margin._replace(outcome=Outcome.UNDECIDED, reason=other.reason)
        if other.outcome is Outcome.UNDECIDED
        else margin
        for margin, other in zip(curves, otherwise, strict=True)
    )
