"""The asterisk: is the nearest point nearer to the limit than the accuracy the record declares?

Only an accuracy declared in the record counts. Without one, marginality is not evaluated: that is
another thing than "no asterisk". Nothing here changes a judgement.
"""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import numpy as np

from sweepbook.judging import phrases
from sweepbook.judging.assessment import Outcome
from sweepbook.judging.curves import F64
from sweepbook.judging.hold import Held
from sweepbook.judging.parts import Parts
from sweepbook.judging.working import Asterisk

NOT_EVALUATED = "marginality not evaluated"


def asterisk(document: Mapping[str, Any], parts: Parts, at: str) -> Asterisk:
    """Whether the whole record's verdict should carry an asterisk.

    A pass carries one where any required curve that passes has a margin within the accuracy; a
    fail where every failing curve has (a single clear fail is a clear fail).

    Args:
        document: of the record.
        parts: its evidence as judged.
        at: "worst-margin" or "any-frequency".
    """
    verdict = document.get("stated", {}).get("overall", {}).get("verdict")
    stated = None if verdict is None else verdict.endswith("*")
    declared = document.get("test", {}).get("accuracy", ())
    if not declared:
        return Asterisk(None, stated, f"{NOT_EVALUATED}: the record declares no accuracy")
    failing = any(m.outcome is Outcome.FAIL for m in parts.margins if m.obligation == "required")
    seen = list(_marginal(parts.held, declared, at, failing))
    unknown = sorted({phrases.name(parameter) for parameter, within, _ in seen if within is None})
    within = [text for _, marginal, text in seen if marginal]
    clear = [text for _, marginal, text in seen if marginal is False]
    if failing:
        if clear:
            return Asterisk(False, stated, clear[0])
        if within and not unknown:
            return Asterisk(True, stated, within[0])
    elif within:
        return Asterisk(True, stated, within[0])
    elif not unknown and clear:
        return Asterisk(False, stated, "every margin is greater than the declared accuracy")
    missing = ", ".join(unknown) or "any curve"
    return Asterisk(None, stated, f"{NOT_EVALUATED}: no accuracy is declared for {missing}")


def _marginal(
    held: Sequence[Held], declared: Sequence[Mapping[str, Any]], at: str, failing: bool
) -> Iterator[tuple[str, bool | None, str]]:
    """(parameter, within the accuracy or None where not declared, in words) of each curve."""
    for one in held:
        if one.obligation != "required":
            continue
        fails = one.evaluation.fails if failing else None
        for row, key in enumerate(one.curves.keys):
            if fails is not None and not fails[row].any():
                continue
            if not one.worst.points[row]:
                continue
            if at == "worst-margin":
                points = one.worst.margin_at[row : row + 1]
            else:
                points = np.flatnonzero(one.evaluation.evaluated[row])
            accuracy = declared_accuracy(
                declared, key.parameter, key.end, one.curves.frequency_mhz[points]
            )
            if np.isnan(accuracy).all():
                yield key.parameter, None, ""
                continue
            margin = np.abs(one.evaluation.margin[row, points])
            near = margin <= accuracy
            place = int(np.argmin(margin - accuracy)) if near.any() else int(np.nanargmin(margin))
            what = phrases.subject(key.parameter, key.end, key.pairs)
            text = (
                f"{what}: margin {phrases.figure(float(margin[place]))} {one.rule.unit}, "
                f"declared accuracy {phrases.figure(float(accuracy[place]))} {one.rule.unit}"
            )
            yield key.parameter, bool(near.any()), text


def declared_accuracy(
    declared: Sequence[Mapping[str, Any]], parameter: str, end: str | None, axis: F64
) -> F64:
    """Declared accuracy at each frequency, the greatest where several are; NaN where none is."""
    mine = [
        item
        for item in declared
        if item["parameter"] == parameter and item.get("end") in (None, end)
    ]
    constants = [one for item in mine if (one := _constant(item)) is not None]
    found = np.full(axis.shape, max(constants, default=np.nan))
    for item in mine:
        if "curve" in item:
            found = np.fmax(found, _between(item["curve"], axis))
    return found


def _constant(item: Mapping[str, Any]) -> float | None:
    """The one figure that is declared for every frequency; None where a curve is, or nothing."""
    names = () if "curve" in item else ("constant_db", "constant_ns")
    return next((float(item[name]) for name in names if name in item), None)


def _between(curve: Mapping[str, Any], axis: F64) -> F64:
    """Between two points of a declared curve the greater of the two holds; outside, nothing."""
    points, values = np.asarray(curve["frequency_mhz"]), np.asarray(curve["value_db"])
    upper = np.clip(np.searchsorted(points, axis, side="left"), 0, points.size - 1)
    exact = points[upper] == axis
    lower = np.where(exact, upper, np.maximum(upper - 1, 0))
    found = np.maximum(values[lower], values[upper])
    return np.where((axis >= points[0]) & (axis <= points[-1]), found, np.nan)
