"""The asterisk: is the nearest point nearer to the limit than the accuracy of the measurement?

An accuracy declared in the record counts, or that of a model where one was asked for. Without
either, marginality is not evaluated: that is another thing than "no asterisk". Nothing here
changes a judgement.
"""

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

import numpy as np

from sweepbook.judging import phrases
from sweepbook.judging.accuracy import Accuracy
from sweepbook.judging.assessment import Outcome
from sweepbook.judging.curves import F64
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
    look = _at_worst if at == "worst-margin" else _anywhere
    seen = [look(one, _rows(one, failing), accuracy) for one in parts.held if _is_required(one)]
    unknown = sorted({phrases.name(one.held.rule.parameter) for one in seen if None in one.within})
    within, clear = _first(seen, True), _first(seen, False)
    if failing:
        if clear:
            return Asterisk(False, stated, _told(*clear, accuracy.words))
        if within and not unknown:
            return Asterisk(True, stated, _told(*within, accuracy.words))
    elif within:
        return Asterisk(True, stated, _told(*within, accuracy.words))
    elif not unknown and clear:
        return Asterisk(False, stated, f"every margin is greater than the {accuracy.words}")
    missing = ", ".join(unknown) or "any curve"
    return Asterisk(None, stated, f"{NOT_EVALUATED}: no {accuracy.words} for {missing}")


class _Seen(NamedTuple):
    """Curves of one parameter beside the accuracy.

    Attributes:
        held: the parameter.
        rows: k curves of it.
        within: whether each is within the accuracy; None where that is not known.
        margins, known: sizes of margins and accuracies of each, float64[n].
    """

    held: Held
    rows: Sequence[int]
    within: Sequence[bool | None]
    margins: Sequence[F64] | F64
    known: Sequence[F64] | F64


def _is_required(one: Held) -> bool:
    return one.obligation == "required"


def _rows(one: Held, failing: bool) -> list[int]:
    """The curves that count: of a fail those that fail."""
    points = enumerate(one.worst.points.tolist())
    return [row for row, count in points if count and (one.failing[row] or not failing)]


def _first(seen: Sequence[_Seen], marginal: bool) -> tuple[_Seen, int] | None:
    """The first curve that is within the accuracy, or clear of it; None for none."""
    return next(
        (
            (one, place)
            for one in seen
            for place, within in enumerate(one.within)
            if within is marginal
        ),
        None,
    )


def _at_worst(one: Held, rows: Sequence[int], accuracy: Accuracy) -> _Seen:
    """At the worst margin of each curve: float64[1] each."""
    worst = [one.worst.figures[row] for row in rows]
    margins = np.abs(np.array([seen.margin for seen in worst]))
    axis = np.array([seen.margin_mhz for seen in worst])
    known = accuracy.each([one.curves.keys[row] for row in rows], axis)
    within: list[bool | None] = (margins <= known).tolist()
    for place in np.flatnonzero(np.isnan(known)).tolist():
        within[place] = None
    return _Seen(one, rows, within, margins[:, None], known[:, None])


def _anywhere(one: Held, rows: Sequence[int], accuracy: Accuracy) -> _Seen:
    """At all evaluated points of each curve: float64[n] each."""
    within: list[bool | None] = []
    margins: list[F64] = []
    accuracies: list[F64] = []
    for row in rows:
        points = np.flatnonzero(one.evaluation.evaluated[row])
        known = accuracy.at(one.curves.keys[row], one.curves.frequency_mhz[points])
        margin = np.abs(one.evaluation.margin[row, points])
        within.append(None if np.isnan(known).all() else bool((margin <= known).any()))
        margins.append(margin)
        accuracies.append(known)
    return _Seen(one, rows, within, margins, accuracies)


def _told(seen: _Seen, curve: int, words: str) -> str:
    """The margin of a curve that is most within the accuracy, else the smallest, in words."""
    margin, known = seen.margins[curve], seen.known[curve]
    near = (margin <= known).any()
    place = int(np.nanargmin(margin - known)) if near else int(np.nanargmin(margin))
    key, unit = seen.held.curves.keys[seen.rows[curve]], seen.held.rule.unit
    return (
        f"{phrases.subject(key.parameter, key.end, key.pairs)}: "
        f"margin {phrases.figure(float(margin[place]))} {unit}, "
        f"{words} {phrases.figure(float(known[place]))} {unit}"
    )
