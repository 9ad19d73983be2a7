"""The asterisk: is the nearest point nearer to the limit than the accuracy of the measurement?

An accuracy declared in the record counts, or that of a model where one was asked for. Without
either, marginality is not evaluated: that is another thing than "no asterisk". Nothing here
changes a judgement.
"""

from collections.abc import Mapping, Sequence
from itertools import accumulate
from typing import Any, NamedTuple

import numpy as np

from sweepbook.judging import phrases
from sweepbook.judging.accuracy import Accuracy
from sweepbook.judging.assessment import Outcome, Recomputed
from sweepbook.judging.curves import F64, Flags
from sweepbook.judging.hold import Held
from sweepbook.judging.parts import Parts
from sweepbook.judging.working import Asterisk

NOT_EVALUATED = "marginality not evaluated"
AT_WORST = "worst-margin"

Accuracies = Mapping[str, F64]
"""By parameter, the accuracy of each curve at its worst margin, float64[m]; NaN for none known."""


def accuracies(held: Sequence[Held], accuracy: Accuracy | None) -> Accuracies:
    """What is known of the accuracy of curves at their worst margins; None for nothing."""
    if accuracy is None:
        return {}
    return {
        one.rule.parameter: accuracy.each(one.curves.keys, one.worst.margin_mhz)
        for one in held
        if one.curves.frequency_mhz.size
    }


def asterisk(
    document: Mapping[str, Any],
    parts: Parts,
    accuracy: Accuracy | None,
    known: Accuracies,
    at: str,
) -> Asterisk:
    """Whether the whole record's verdict should carry an asterisk.

    A pass carries one where any required curve that passes has a margin within the accuracy; a
    fail where every failing curve has (a single clear fail is a clear fail).

    Args:
        document: of the record.
        parts: its evidence as judged.
        accuracy: what is known of the accuracy of its curves; None for nothing.
        known: that at the worst margins.
        at: "worst-margin" or "any-frequency".
    """
    verdict = document.get("stated", {}).get("overall", {}).get("verdict")
    stated = None if verdict is None else verdict.endswith("*")
    if accuracy is None:
        return Asterisk(None, stated, f"{NOT_EVALUATED}: the record declares no accuracy")
    failing = parts.whole.recomputed is Recomputed.FAIL and any(
        one.outcome is Outcome.FAIL and one.obligation == "required" for one in parts.margins
    )
    required = [one for one in parts.held if one.obligation == "required"]
    curves = _Curves([one for one in required if one.rule.parameter in known], accuracy, known, at)
    counts, (near, unknown) = curves.counts(failing), curves.seen()
    within, clear = _first(counts & near), _first(counts & ~near & ~unknown)
    unknown &= counts
    if failing:
        if clear is not None:
            return Asterisk(False, stated, curves.told(clear))
        if within is not None and not unknown.any():
            return Asterisk(True, stated, curves.told(within))
    elif within is not None:
        return Asterisk(True, stated, curves.told(within))
    elif clear is not None and not unknown.any():
        text = f"every margin is greater than the {accuracy.words}"
        nearest = (
            f"; the nearest is that of {curves.told(curves.nearest(counts))}" if stated else ""
        )
        return Asterisk(False, stated, text + nearest)
    missing = ", ".join(curves.names(unknown)) or "any curve"
    return Asterisk(None, stated, f"{NOT_EVALUATED}: no {accuracy.words} for {missing}")


def _first(flags: Flags) -> int | None:
    """The first that is set; None for none."""
    return int(flags.argmax()) if flags.any() else None


class _Curves(NamedTuple):
    """The curves of some parameters, one after another, beside the accuracy.

    Attributes:
        held: the parameters.
        accuracy: what is known.
        known: that at the worst margins.
        at: "worst-margin" or "any-frequency".
    """

    held: Sequence[Held]
    accuracy: Accuracy
    known: Accuracies
    at: str

    def counts(self, failing: bool) -> Flags:
        """bool[r]: the curves that count: of a fail those that fail."""
        flags = [one.worst.points > 0 for one in self.held]
        if failing:
            flags = [some & one.failing for some, one in zip(flags, self.held, strict=True)]
        return np.concatenate((*flags, np.empty(0, dtype=np.bool_)))

    def seen(self) -> tuple[Flags, Flags]:
        """bool[r] each: a margin is within the accuracy; nothing is known of that."""
        if self.at == AT_WORST:
            margin = np.concatenate((*(one.worst.margin for one in self.held), np.empty(0)))
            each = (self.known[one.rule.parameter] for one in self.held)
            known = np.concatenate((*each, np.empty(0)))
            return np.abs(margin) <= known, np.isnan(known)
        rows = [(one, row) for one in self.held for row in range(len(one.curves.keys))]
        beside = [self._beside(*row) for row in rows]
        near = np.array([(margin <= known).any() for margin, known in beside], dtype=np.bool_)
        none = np.array([np.isnan(known).all() for _, known in beside], dtype=np.bool_)
        return near, none

    def _beside(self, one: Held, row: int) -> tuple[F64, F64]:
        """Sizes of the margins of a curve that are looked at, and the accuracy there."""
        if self.at == AT_WORST:
            here = slice(row, row + 1)
            return np.abs(one.worst.margin[here]), self.known[one.rule.parameter][here]
        points = np.flatnonzero(one.evaluation.evaluated[row])
        known = self.accuracy.at(one.curves.keys[row], one.curves.frequency_mhz[points])
        return np.abs(one.evaluation.margin[row, points]), known

    def nearest(self, flags: Flags) -> int:
        """That of some curves, none within the accuracy, whose margin is least above it."""

        def above(place: int) -> float:
            margin, known = self._beside(*self._curve(place))
            return float(np.nanmin(margin - known))

        return min(np.flatnonzero(flags).tolist(), key=above)

    def _curve(self, place: int) -> tuple[Held, int]:
        """A parameter and the row of it, by its place among all."""
        number = 0
        while place >= len(self.held[number].curves.keys):
            place -= len(self.held[number].curves.keys)
            number += 1
        return self.held[number], place

    def names(self, flags: Flags) -> list[str]:
        """The parameters of some curves, in words."""
        ends = accumulate(len(one.curves.keys) for one in self.held)
        parts = np.split(flags, [*ends])
        found = (
            one.rule.parameter for one, part in zip(self.held, parts, strict=False) if part.any()
        )
        return sorted(map(phrases.name, found))

    def told(self, place: int) -> str:
        """The margin of a curve that is most within the accuracy, else the smallest, in words."""
        one, row = self._curve(place)
        margin, known = self._beside(one, row)
        near = (margin <= known).any()
        at = int(np.nanargmin(margin - known)) if near else int(np.nanargmin(margin))
        key, unit = one.curves.keys[row], one.rule.unit
        return (
            f"{phrases.subject(key.parameter, key.end, key.pairs)}: "
            f"margin {phrases.figure(float(margin[at]))} {unit}, "
            f"{self.accuracy.words} {phrases.figure(float(known[at]))} {unit}"
        )
