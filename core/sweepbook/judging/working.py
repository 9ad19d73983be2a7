"""What a judgement rests on, kept for the rules and for whoever asks why.

Plain values about one record; nothing here decides anything.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import TYPE_CHECKING

from sweepbook.judging.curves import F64, Curve, Curves, Key

if TYPE_CHECKING:
    from sweepbook.judging.accuracy import Accuracy
    from sweepbook.judging.evidence import Evidence
    from sweepbook.judging.hold import Held


class LackKind(StrEnum):
    """What is not there."""

    PARAMETER = "parameter"
    END = "end"
    PAIRS = "pairs"
    START = "start"
    STOP = "stop"
    STEP = "step"
    LOST = "lost"
    POINTS = "points"


@dataclass(frozen=True, slots=True)
class Lack:
    """Something a full proof needs and the record has not.

    Attributes:
        parameter, end, pairs: what it is of; None and () where it is of all of them.
        kind: nothing of the parameter, of an end, of some pairs; a sweep that starts too high or
            stops too low; a step too wide; readings lost where one may have failed; no point where
            the limit holds.
        at_mhz: where: the measured start or stop, or the point before the wide step.
        asked_mhz: the start or stop the limit asks for, or the largest step allowed; for kind
            "lost" the step beside it.
        step_mhz: the step found, for kinds "step" and "lost".
    """

    parameter: str
    end: str | None
    pairs: tuple[str, ...]
    kind: LackKind
    at_mhz: float | None = None
    asked_mhz: float | None = None
    step_mhz: float | None = None


class DoubtKind(StrEnum):
    """How a figure is doubtful.

    IMPOSSIBLE: against physics, by itself or beside another.
    CONTRADICTION: two figures of which no cable of the trade can have both, or one that no tester
        reads.
    COPY: curves that are the same, so that one of them was measured at most.
    FLAT: a curve of one value, which no measurement is.
    DISORDER: frequencies that rise and fall, so that values are not known to stand at theirs.
    ORDER: curves of two pairs that go with the other order of these.
    IMPLAUSIBLE: outside what is usual; it changes no judgement.
    """

    IMPOSSIBLE = "impossible"
    CONTRADICTION = "contradiction"
    COPY = "copy"
    FLAT = "flat"
    DISORDER = "disorder"
    ORDER = "order of pairs"
    IMPLAUSIBLE = "implausible"


Discredited = tuple[tuple[str, tuple[str, ...]], ...]
"""(parameter, pairs) of what proves nothing; no pairs for all of the parameter."""


@dataclass(frozen=True, slots=True)
class Doubt:
    """A figure that no link can have, or hardly, by itself or beside another.

    Attributes:
        kind: how doubtful. One that is not merely implausible keeps a pass from being proved.
        path: JSON path of the figure or sweep.
        text: both figures, and why they cannot be, in words.
        discredits: what proves neither a pass nor a fail of a part by it.
    """

    kind: DoubtKind
    path: str
    text: str
    discredits: Discredited = ()

    @property
    def bars(self) -> bool:
        """Whether it keeps a pass from being proved."""
        return self.kind is not DoubtKind.IMPLAUSIBLE


@dataclass(frozen=True, slots=True)
class Disagreement:
    """A derived curve or figure as exported that the raw ones do not yield.

    Attributes:
        key: which one.
        path: JSON path of the exported one.
        at_mhz: where they differ most; None for a single figure.
        exported, recomputed: both values there, in `unit`.
        points: number of points where their intervals do not meet.
        cause: "disturbing pair's insertion loss" where that reproduces the export; "" otherwise.
        unit: dB or ns.
        of_both: the recomputed one is the worse of both orders of the pairs, which the exported one
            is nearer to.
    """

    key: Key
    path: str
    at_mhz: float | None
    exported: float
    recomputed: float
    points: int
    cause: str
    unit: str
    of_both: bool = False


@dataclass(frozen=True, slots=True)
class StatedFigure:
    """A figure the source states, beside what the sweeps yield.

    Attributes:
        path: JSON path of the stated figure.
        parameter, end, pairs: as stated; None and () for the whole parameter.
        figure: worst_margin or worst_value.
        stated, half_digit: the stated number and half its last digit.
        low, high: the interval of the recomputed one.
        recomputed: its nominal value.
        agrees: the two intervals meet.
        stated_mhz, recomputed_mhz: where; None for a single figure or where not stated.
        frequency_agrees: the stated frequency may be the worst one within the resolution;
            None where none is stated.
        unit: dB, ns, m, ohm or percent.
        others: the interval of every other reading; empty where it agrees.
    """

    path: str
    parameter: str
    end: str | None
    pairs: tuple[str, ...]
    figure: str
    stated: float
    half_digit: float
    low: float
    high: float
    recomputed: float
    agrees: bool
    stated_mhz: float | None
    recomputed_mhz: float | None
    frequency_agrees: bool | None
    unit: str
    others: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Asterisk:
    """Whether the record's nearest point lies within the accuracy that the record declares.

    Attributes:
        expected: True, False, or None where marginality was not evaluated.
        stated: the stated verdict has one; None where none is stated.
        reason: in words: by which figure, or why it was not evaluated.
    """

    expected: bool | None
    stated: bool | None
    reason: str


@dataclass(frozen=True, slots=True)
class Trial:
    """An interpretation that is off and would change the judgement.

    Attributes:
        interpretation: its id.
        turns: what the record is under the interpretations in force.
        into: what it would be.
    """

    interpretation: str
    turns: str
    into: str


@dataclass(frozen=True, slots=True, eq=False)
class Working:
    """Curves and facts behind one assessment.

    Attributes:
        measured_curves: by parameter, all that the record holds, exported derived ones included.
        recomputed_curves: by parameter, derived ones recomputed from raw ones.
        judged_curves: by parameter, what the margins rest on.
        lacks: what a full proof of the required parameters needs and is not there.
        doubts: figures that no link can have, or hardly.
        disagreements: exported derived curves or figures that the raw ones do not yield.
        stated_figures: every stated figure that could be compared.
        accuracy: what is known of the accuracy of the curves; None for nothing.
        accuracies: by parameter, that of each held curve at its worst margin, float64[m]; NaN where
            none is known.
        asterisk: about the asterisk of the stated verdict; None where nothing was judged.
        trials: interpretations that made the record unproven.
        unread: sweeps that could not be used, by JSON path, with the reason.
        held: each parameter with a limit over frequency, as it was held against it.
        evidence: what was held against the limits; None where nothing was.
    """

    measured_curves: Mapping[str, Curves] = field(default_factory=dict)
    recomputed_curves: Mapping[str, Curves] = field(default_factory=dict)
    judged_curves: Mapping[str, Curves] = field(default_factory=dict)
    lacks: tuple[Lack, ...] = ()
    doubts: tuple[Doubt, ...] = ()
    disagreements: tuple[Disagreement, ...] = ()
    stated_figures: tuple[StatedFigure, ...] = ()
    accuracy: "Accuracy | None" = None
    accuracies: Mapping[str, F64] = field(default_factory=dict)
    asterisk: Asterisk | None = None
    trials: tuple[Trial, ...] = ()
    unread: Mapping[str, str] = field(default_factory=dict)
    held: "tuple[Held, ...]" = ()
    evidence: "Evidence | None" = None

    @property
    def measured(self) -> dict[Key, Curve]:
        """Every curve the record holds, by key."""
        return _by_key(self.measured_curves)

    @property
    def recomputed(self) -> dict[Key, Curve]:
        """Every curve recomputed from raw ones, by key."""
        return _by_key(self.recomputed_curves)

    @property
    def judged(self) -> dict[Key, Curve]:
        """Every curve that a margin rests on, by key."""
        return _by_key(self.judged_curves)


def _by_key(groups: Mapping[str, Curves]) -> dict[Key, Curve]:
    return {
        key: curves.curve(row) for curves in groups.values() for row, key in enumerate(curves.keys)
    }
