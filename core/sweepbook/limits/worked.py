"""A limit at one frequency worked out as by hand: the formula, then with the number put in."""

from typing import NamedTuple

import numpy as np

from sweepbook.limits import wording
from sweepbook.limits.formulas import evaluate
from sweepbook.limits.interpretations import Interpretations
from sweepbook.limits.lines import formula_line, parameter_limit, segment_at
from sweepbook.limits.model import LimitTable, ParameterLimit
from sweepbook.limits.shape_model import Constant, DifferenceOf, GreaterOf, Unknown
from sweepbook.limits.shapes import line

DIGITS = 4
"""Decimals of a figure on the way, so that the second decimal of the result can be followed."""


class Worked(NamedTuple):
    """The way to a limit: a sentence a step, and where it leads, in the parameter's unit."""

    steps: tuple[str, ...]
    value: float


def worked(
    table: LimitTable, parameter: str, at_mhz: float, interpretations: Interpretations
) -> Worked:
    """The way from the formula to the limit; what depends on the link itself is not in it.

    Args:
        table: the limit table.
        parameter: word of the vocabulary, with a limit over frequency.
        at_mhz: the frequency.
        interpretations: whether limits are rounded.

    Returns:
        The steps, and the limit; NaN where there is none at the frequency.

    Raises:
        SweepbookError: the table sets no limit for the parameter.
    """
    limit = parameter_limit(table, parameter)
    made = _by_formula(table, limit, at_mhz)
    steps = list(made.steps)
    digits = interpretations.limit_decimals(table) if limit.unit == "dB" else None
    if limit.rounding is not None:
        steps.append(f"the document rounds it to {limit.rounding.decimals} decimals")
    elif digits is not None:
        steps.append(f"a reading that is on rounds it to {digits} decimals")
    if limit.tightened is not None:
        by, source = limit.tightened.by, limit.tightened.source
        steps.append(f"it is {by:g} {limit.unit} tighter (source: {source})")
    value = float(line(table, parameter, np.array([at_mhz]), interpretations).value[0])
    if len(steps) > len(made.steps):
        steps.append(f"so the limit is {value:.{DIGITS}f} {limit.unit}")
    return Worked(tuple(steps), value)


def _by_formula(table: LimitTable, limit: ParameterLimit, at_mhz: float) -> Worked:
    """Formula, number, cap and floor."""
    segment = segment_at(limit, at_mhz)
    if segment is None:
        return Worked((f"there is none at {at_mhz:.10g} MHz",), float("nan"))
    unit, shape = limit.unit, segment.shape
    over = wording.frequencies(segment)
    known = f"{wording.known(segment, unit)}; {', '.join((segment.source, *segment.support))}"
    steps = [f"{limit.parameter}, {over}: {wording.formula(shape, unit)} ({known})"]
    if isinstance(shape, Unknown | GreaterOf):
        return Worked(tuple(steps), float("nan"))
    if isinstance(shape, Constant):
        return Worked(tuple(steps), shape.value)
    if isinstance(shape, DifferenceOf):
        names = (shape.minuend, shape.subtrahend)
        whole, less = (_by_formula(table, parameter_limit(table, one), at_mhz) for one in names)
        steps += [*whole.steps, *less.steps]
        raw = whole.value - less.value
        put_in = f"{whole.value:.{DIGITS}f} - {less.value:.{DIGITS}f}"
    else:
        raw = float(evaluate(shape, np.array([at_mhz]))[0])
        put_in = wording.formula(shape, unit, f"{at_mhz:.10g}")
    steps.append(f"at {at_mhz:.10g} MHz: {put_in} = {raw:.{DIGITS}f} {unit}")
    value = float(formula_line(table, limit.parameter, np.array([at_mhz])).value[0])
    if value != raw:
        side, bound = ("above", limit.cap) if limit.sense == "min" else ("below", limit.floor)
        steps.append(f"a limit {side} {bound:g} {unit} becomes {bound:g} {unit}")
    return Worked(tuple(steps), value)
