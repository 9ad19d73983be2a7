"""Figures that no link can have: by themselves, or beside another figure of the same record.

Everything is held against intervals: a figure is impossible only where the whole interval that its
digits leave is.
"""

from collections.abc import Iterator, Mapping, Sequence
from typing import TypeVar

import numpy as np

from sweepbook.judging import phrases
from sweepbook.judging.assessment import Margin, Outcome, ScalarMargin
from sweepbook.judging.beyond import too_good
from sweepbook.judging.contradictions import loss, resistance, too_short, velocity
from sweepbook.judging.curves import Curves, Flags
from sweepbook.judging.doubt_words import curve_of, path_of, shown, taken_along
from sweepbook.judging.figures import Figure
from sweepbook.judging.lengths import lengths
from sweepbook.judging.limit_line import where_held
from sweepbook.judging.physics import Bounds
from sweepbook.judging.scaled import scaled_loop, scaled_loss
from sweepbook.judging.signs import silent, turned
from sweepbook.judging.twins import twins
from sweepbook.judging.working import Doubt, DoubtKind
from sweepbook.limits.model import LimitTable

POSITIVE = ("length", "propagation_delay", "dc_loop_resistance")
MAGNITUDES = (
    "delay_skew",
    "dc_resistance_unbalance_within_pair",
    "dc_resistance_unbalance_between_pairs",
)


def doubts(
    measured: Mapping[str, Curves],
    figures: Mapping[str, Sequence[Figure]],
    bounds: Bounds,
    table: LimitTable | None,
) -> tuple[Doubt, ...]:
    """Everything in a record that is impossible, contradictory or implausible.

    Args:
        measured: its curves as exported, by parameter.
        figures: its single figures, by parameter.
        bounds: what a cable may be made of.
        table: points of a loss outside the range of its limit are passed over; None for none.
    """
    measured = {
        name: curves if name == "propagation_delay" else curves.between(where_held(curves, table))
        for name, curves in measured.items()
    }
    found: list[Doubt] = []
    found.extend(_not_positive(measured, figures))
    found.extend(_gain(measured))
    found.extend(turned(measured, table))
    found.extend(silent(measured))
    found.extend(too_good(measured, bounds))
    found.extend(twins(measured, bounds))
    known = lengths(measured, figures, bounds)
    for one in known:
        found.extend(velocity(one, bounds))
        found.extend(too_short(one, bounds))
    found.extend(resistance(figures, known, bounds))
    found.extend(loss(measured.get("insertion_loss"), known, bounds))
    found.extend(scaled_loop(figures, known, bounds))
    found.extend(scaled_loss(measured, known, bounds))
    return tuple(found)


Part = TypeVar("Part", Margin, ScalarMargin)


def without_proof(part: Part, barred: Sequence[Doubt]) -> Part:
    """The part, undecided where it passes or fails by a figure that proves nothing."""
    if part.outcome not in (Outcome.PASS, Outcome.FAIL):
        return part
    pairs = part.pairs if isinstance(part, Margin) else tuple((part.pair or "").split("/"))
    for doubt in barred:
        for parameter, named in doubt.discredits:
            if parameter == part.parameter and (not named or named == pairs):
                return part._replace(outcome=Outcome.UNDECIDED, reason=doubt.text)
    return part


def _not_positive(
    measured: Mapping[str, Curves], figures: Mapping[str, Sequence[Figure]]
) -> Iterator[Doubt]:
    """Lengths, delays and resistances of 0 or below; a skew or an unbalance below."""
    for parameter in POSITIVE:
        for figure in figures.get(parameter, ()):
            if figure.value <= 0.0 and np.isfinite(figure.high):
                yield _no_link_has(figure)
    for parameter in MAGNITUDES:
        for figure in figures.get(parameter, ()):
            if figure.high < 0.0:
                yield _no_link_has(figure)
    delays = measured.get("propagation_delay")
    if delays is None or (delays.whole and min(delays.least, default=np.inf) > 0.0):
        return
    for row, at in _first((delays.value <= 0.0) & np.isfinite(delays.high)):
        text = (
            f"{curve_of(delays.keys[row])} is {shown(delays.value[row, at])} ns at "
            f"{phrases.frequency(float(delays.frequency_mhz[at]))}, and no link has that"
        )
        yield Doubt(
            DoubtKind.IMPOSSIBLE, path_of(delays, row), text, taken_along("propagation_delay")
        )


def _no_link_has(figure: Figure) -> Doubt:
    what = phrases.subject(figure.parameter, None, figure.pairs)
    unit = "%" if figure.unit == "percent" else figure.unit
    text = f"{what} is {shown(figure.value)} {unit}, and no link has that"
    return Doubt(DoubtKind.IMPOSSIBLE, figure.path, text, taken_along(figure.parameter))


def _gain(measured: Mapping[str, Curves]) -> Iterator[Doubt]:
    """Insertion loss below 0 anywhere, or above it nowhere."""
    lost = measured.get("insertion_loss")
    if lost is None or (lost.whole and min(lost.least, default=np.inf) > 0.0):
        return
    there = ~np.isnan(lost.value)
    below = dict(_first(there & (lost.high < 0.0)))
    above: list[bool] = np.any(there & (lost.value > 0.0), axis=1, keepdims=True)[:, 0].tolist()
    for row, key in enumerate(lost.keys):
        if row in below:
            at = below[row]
            text = (
                f"{curve_of(key)} is {shown(lost.value[row, at])} dB at "
                f"{phrases.frequency(float(lost.frequency_mhz[at]))}, and no link amplifies"
            )
        elif there[row].any() and not above[row]:
            text = f"{curve_of(key)} is above 0 dB nowhere, and no link is without loss"
        else:
            continue
        yield Doubt(DoubtKind.IMPOSSIBLE, path_of(lost, row), text)


def _first(flags: Flags) -> list[tuple[int, int]]:
    """(row, first column) of every row with a flag."""
    rows = np.flatnonzero(flags.any(axis=1))
    return [(int(row), int(np.argmax(flags[row]))) for row in rows]
