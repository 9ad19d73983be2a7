"""The asterisk: is the nearest point nearer to the limit than the accuracy of the measurement?

An accuracy declared in the record counts, or that of a model where one was asked for. Without
either, marginality is not evaluated: that is another thing than "no asterisk". Nothing here
changes a judgement.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import partial
from typing import Any

import numpy as np

from sweepbook.judging import phrases
from sweepbook.judging.accuracy import Accuracy
from sweepbook.judging.assessment import Outcome
from sweepbook.judging.curves import F64, Key
from sweepbook.judging.derive import Places
from sweepbook.judging.hold import Held
from sweepbook.judging.parts import Parts
from sweepbook.judging.working import Asterisk

NOT_EVALUATED = "marginality not evaluated"


def asterisk(
    document: Mapping[str, Any], parts: Parts, accuracy: Accuracy | None, at: str
) -> Asterisk:
    """Whether the whole record's verdict should carry an asterisk.

    A pass carries one where any required curve that passes has a margin within the accuracy; a
    fail where every failing curve has (a single clear fail is a clear fail).

    Args:
        document: of the record.
        parts: its evidence as judged.
        accuracy: what is known of the accuracy of its curves; None for nothing.
        at: "worst-margin" or "any-frequency".
    """
    verdict = document.get("stated", {}).get("overall", {}).get("verdict")
    stated = None if verdict is None else verdict.endswith("*")
    if accuracy is None:
        return Asterisk(None, stated, f"{NOT_EVALUATED}: the record declares no accuracy")
    failing = any(m.outcome is Outcome.FAIL for m in parts.margins if m.obligation == "required")
    seen = list(_marginal(parts.held, accuracy, at, failing))
    unknown = sorted({phrases.name(parameter) for parameter, within, _ in seen if within is None})
    within = [told for _, marginal, told in seen if marginal]
    clear = [told for _, marginal, told in seen if marginal is False]
    if failing:
        if clear:
            return Asterisk(False, stated, clear[0]())
        if within and not unknown:
            return Asterisk(True, stated, within[0]())
    elif within:
        return Asterisk(True, stated, within[0]())
    elif not unknown and clear:
        return Asterisk(False, stated, f"every margin is greater than the {accuracy.words}")
    missing = ", ".join(unknown) or "any curve"
    return Asterisk(None, stated, f"{NOT_EVALUATED}: no {accuracy.words} for {missing}")


def _marginal(
    held: Sequence[Held], accuracy: Accuracy, at: str, failing: bool
) -> Iterator[tuple[str, bool | None, Callable[[], str]]]:
    """(parameter, within the accuracy or None where not known, in words) of each curve."""
    for one in held:
        if one.obligation != "required":
            continue
        counts = (one.worst.points > 0) & one.failing if failing else one.worst.points > 0
        rows = np.flatnonzero(counts)
        look = _at_worst if at == "worst-margin" else _anywhere
        for row, within, margin, known in look(one, rows, accuracy):
            key = one.curves.keys[row]
            told = partial(_told, key, one.rule.unit, margin, known, accuracy.words)
            yield key.parameter, within, told


_Seen = Iterator[tuple[int, bool | None, F64, F64]]
"""Row, within the accuracy or None where not known, sizes of margins and accuracies."""


def _at_worst(one: Held, rows: Places, accuracy: Accuracy) -> _Seen:
    """At the worst margin of each curve: float64[1] each."""
    columns = one.worst.margin_at[rows]
    keys = [one.curves.keys[row] for row in rows.tolist()]
    known = accuracy.each(keys, one.curves.frequency_mhz[columns])
    margins = np.abs(one.evaluation.margin[rows, columns])
    told = zip(rows.tolist(), (margins <= known).tolist(), np.isnan(known).tolist(), strict=True)
    for place, (row, within, nothing) in enumerate(told):
        at = slice(place, place + 1)
        yield row, None if nothing else within, margins[at], known[at]


def _anywhere(one: Held, rows: Places, accuracy: Accuracy) -> _Seen:
    """At all evaluated points of each curve: float64[n] each."""
    for row in rows.tolist():
        points = np.flatnonzero(one.evaluation.evaluated[row])
        known = accuracy.at(one.curves.keys[row], one.curves.frequency_mhz[points])
        margin = np.abs(one.evaluation.margin[row, points])
        yield row, None if np.isnan(known).all() else bool((margin <= known).any()), margin, known


def _told(key: Key, unit: str, margin: F64, known: F64, words: str) -> str:
    """The margin that is most within the accuracy, else the smallest, in words."""
    near = (margin <= known).any()
    place = int(np.nanargmin(margin - known)) if near else int(np.nanargmin(margin))
    return (
        f"{phrases.subject(key.parameter, key.end, key.pairs)}: "
        f"margin {phrases.figure(float(margin[place]))} {unit}, "
        f"{words} {phrases.figure(float(known[place]))} {unit}"
    )
