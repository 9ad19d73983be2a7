"""All parts of a record held against a table: curves, figures, wire map, and what is missing."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sweepbook.judging.assessment import Margin, ScalarMargin
from sweepbook.judging.compose import recompute
from sweepbook.judging.coverage import absent
from sweepbook.judging.curves import Curves
from sweepbook.judging.doubts import doubts, without_fail
from sweepbook.judging.figures import Figure, figures
from sweepbook.judging.hold import WITHOUT_COVERAGE, Held, hold, obligation_of
from sweepbook.judging.margins import margins
from sweepbook.judging.measured import measured
from sweepbook.judging.physics import Bounds
from sweepbook.judging.scalars import SCALARS, judge_figures
from sweepbook.judging.settings import JudgeSettings
from sweepbook.judging.settle import Settled, disagreements, settle
from sweepbook.judging.verdict import Whole, whole
from sweepbook.judging.wiremap import is_screened, judge_wire_map
from sweepbook.judging.working import Disagreement, Doubt, Lack
from sweepbook.limits.model import LimitTable


@dataclass(frozen=True, slots=True, eq=False)
class Evidence:
    """What a record brings, before any limit is looked at.

    Attributes:
        document: of the record.
        measured: curves by parameter as the record has them.
        recomputed: derived curves made from raw ones.
        settled: the curves that are judged.
        disagreements: exported derived curves that the raw ones do not yield.
        doubts: figures that no link can have, or hardly.
        figures: single figures by parameter.
        screened: whether the cabling is screened, None where not known.
        unread: sweeps that cannot be used, by JSON path.
    """

    document: Mapping[str, Any]
    measured: Mapping[str, Curves]
    recomputed: Mapping[str, Curves]
    settled: Mapping[str, Settled]
    disagreements: tuple[Disagreement, ...]
    doubts: tuple[Doubt, ...]
    figures: Mapping[str, Sequence[Figure]]
    screened: bool | None
    unread: Mapping[str, str]


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


def gather(document: Mapping[str, Any], bounds: Bounds, table: LimitTable | None) -> Evidence:
    """Read the curves and figures of a record, recompute what can be, and doubt what cannot be."""
    curves, unread = measured(document)
    made = recompute(curves)
    single = figures(document)
    return Evidence(
        document,
        curves,
        made,
        settle(curves, made),
        disagreements(curves, made),
        doubts(curves, single, bounds, table),
        single,
        is_screened(document),
        unread,
    )


def judge_parts(evidence: Evidence, table: LimitTable, settings: JudgeSettings) -> Parts:
    """Hold everything against the table."""
    held: list[Held] = []
    found: list[Margin] = []
    lacks: list[Lack] = []
    swept: dict[str, frozenset[str]] = {}
    companions = {name: settled.curves for name, settled in evidence.settled.items()}
    for parameter, rule in table.parameters.items():
        obligation = obligation_of(rule, evidence.screened)
        settled = evidence.settled.get(parameter)
        if settled is None or rule.f_min_mhz is None:
            if parameter not in SCALARS and obligation == "required":
                lacks.extend(absent(parameter, None))
            continue
        one = hold(rule, obligation, settled, companions, table, settings)
        held.append(one)
        curves = margins(one)
        if parameter in WITHOUT_COVERAGE:
            curves = tuple(margin for margin in curves if margin.points_evaluated)
            swept[parameter] = frozenset(margin.pairs[0] for margin in curves)
        found.extend(curves)
        if obligation == "required":
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
    barred = tuple(doubt for doubt in evidence.doubts if doubt.bars)
    found = [without_fail(margin, barred) for margin in found]
    scalars = (*pins, *(without_fail(margin, barred) for margin in judged.margins))
    return Parts(
        tuple(held),
        tuple(found),
        scalars,
        tuple(lacks),
        barred,
        (*evidence.disagreements, *judged.disagreements),
        whole((*found, *scalars), bool(lacks or barred)),
    )
