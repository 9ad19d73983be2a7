"""Curves that are not judged, held against their limit by themselves."""

import numpy as np

from sweepbook.judging.curves import Curves
from sweepbook.judging.evidence import Evidence
from sweepbook.judging.hold import Asked, Held, hold
from sweepbook.judging.settings import JudgeSettings
from sweepbook.judging.settle import Settled
from sweepbook.limits.model import LimitTable, ParameterLimit


def held_alone(
    evidence: Evidence,
    curves: Curves,
    rule: ParameterLimit,
    table: LimitTable,
    settings: JudgeSettings,
) -> Held:
    """Hold curves against a limit as they stand, beside the companions of the record.

    Args:
        evidence: of the record.
        curves: of the limit's parameter.
        rule: a limit over frequency.
        table: the limit table.
        settings: interpretations and grades.
    """
    stands = Settled(curves, np.ones(curves.value.shape, dtype=np.bool_))
    companions = evidence.companions(settings.interpretations.companions(table))
    (held,) = hold([Asked(rule, "required", stands)], companions, table, settings)
    return held


def as_exported(
    parameter: str, evidence: Evidence, table: LimitTable, settings: JudgeSettings
) -> Held | None:
    """The exported curves of a derived parameter in the place of the recomputed ones.

    Returns:
        None where the two are not both there, or the table has no limit over frequency for them.
    """
    rule, curves = table.parameters.get(parameter), evidence.measured.get(parameter)
    if rule is None or rule.f_min_mhz is None or curves is None:
        return None
    if parameter not in evidence.recomputed:
        return None
    return held_alone(evidence, curves, rule, table, settings)
