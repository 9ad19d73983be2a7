"""What a judgement consists of, as plain values: the audit document is written from these."""

from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from typing import TYPE_CHECKING, Any, NamedTuple

if TYPE_CHECKING:
    from sweepbook.findings import Finding, RuleNotRun
    from sweepbook.record.model import Record


IN_NS = ("propagation_delay", "delay_skew")
"""Curves whose figures are in ns, the names of the members notwithstanding."""


class Recomputed(StrEnum):
    """What the sweeps say under the limit, without regard to what was stated."""

    PASS = "pass"
    FAIL = "fail"
    UNDECIDED = "undecided"


class Outcome(StrEnum):
    """What one curve or figure proves by itself.

    NOT_EVALUATED: there is a limit, and every point of the curve is for information only. It does
    not stand in the way of a pass of the record, since the requirement does not reach the curve.
    """

    PASS = "pass"
    FAIL = "fail"
    UNDECIDED = "undecided"
    NOT_EVALUATED = "not evaluated"


class Judgement(StrEnum):
    """What becomes of the stated verdict."""

    UPHELD = "upheld"
    OVERTURNED = "overturned"
    UNPROVEN = "unproven"
    UNSTATED = "unstated"


class Origin(StrEnum):
    """Where a judged curve or figure comes from."""

    RECOMPUTED = "recomputed"
    AS_EXPORTED = "as exported"


class PairOrder(StrEnum):
    """Which order of its pairs the ACR-F of a record goes with, by that of both ends.

    NOT_ASKED: nothing rests on exported ACR-F.
    NOT_SHOWN: the losses of the pairs are too much alike to tell, or one end is not there.
    """

    NOT_ASKED = "not asked"
    NOT_SHOWN = "not shown"
    AS_NAMED = "as named"
    OTHER = "other"


class Margin(NamedTuple):
    """One judged curve: worst margin and worst value, each with its own frequency and limit.

    Frequencies are in MHz. Values, limits and margins are in dB, except for a swept delay, where
    they are in ns. A margin is positive where the value is better than the limit. The six figures
    are None where no point could be evaluated.

    Attributes:
        parameter: word of the vocabulary, e.g. "next".
        obligation: required, informative, sampled or laboratory, from the limit table.
        end: "near" or "far", or None where the parameter has no end.
        pairs: one pair, or [disturbing, disturbed].
        outcome: what this curve alone proves.
        points_evaluated: points that were compared with the limit.
        points_for_information: points left out by an interpretation.
        origin: recomputed from raw sweeps, measured ones included, or a derived one as exported.
        grade: how well the limit is known, "A" best; None where no point was evaluated.
        reason: why the outcome is undecided, in words; "" otherwise.
        margin_low_db, margin_high_db: between these the true worst margin lies, given the digits of
            the source and how well the limit is known; infinite ends are None.
        value_low_db, value_high_db: the same of the worst value.
    """

    parameter: str
    obligation: str
    end: str | None
    pairs: tuple[str, ...]
    outcome: Outcome
    worst_margin_db: float | None
    worst_margin_mhz: float | None
    limit_at_worst_margin_db: float | None
    worst_value_db: float | None
    worst_value_mhz: float | None
    limit_at_worst_value_db: float | None
    points_evaluated: int
    points_for_information: int
    origin: Origin
    grade: str | None
    reason: str = ""
    margin_low_db: float | None = None
    margin_high_db: float | None = None
    value_low_db: float | None = None
    value_high_db: float | None = None

    @property
    def unit(self) -> str:
        """Unit of values, limits and margins: ns of a swept delay or skew, else dB."""
        return "ns" if self.parameter in IN_NS else "dB"


class ScalarMargin(NamedTuple):
    """One judged single figure.

    Attributes:
        parameter: word of the vocabulary, e.g. "delay_skew".
        obligation: required, informative, sampled or laboratory, from the limit table.
        pair: "1-2", "1-2/3-6" for a figure between two pairs, or None for the whole link.
        outcome: what this figure alone proves.
        value, limit, margin: in `unit`; margin positive where the value is better.
        unit: ns, m, ohm or percent; "faults" for the wire map, whose value is the number of pins
            that are not connected as they should be, with an interrupted screen counted as one.
        origin: as exported, or recomputed (skew from the delays, say).
        grade: how well the limit is known.
        reason: why the outcome is undecided, or what was assumed; "" otherwise.
        margin_low, margin_high, value_low, value_high: between these the true ones lie; infinite
            ends are None.
    """

    parameter: str
    obligation: str
    pair: str | None
    outcome: Outcome
    value: float | None
    limit: float | None
    margin: float | None
    unit: str
    origin: Origin
    grade: str | None
    reason: str = ""
    margin_low: float | None = None
    margin_high: float | None = None
    value_low: float | None = None
    value_high: float | None = None


class CameTo(NamedTuple):
    """What a test is counted by; exports of one test that agree in this are counted once.

    Attributes:
        limit_path, stated, recomputed, judgement: as in its `Assessment`.
        under_another: whether its verdict is of another limit than it was held against.
        marginal: whether it is a marginal pass.
        again: whether the quality plan has it tested again.
        at_fault: whether a rule found an error in its record that nobody lets stand.
    """

    limit_path: str | None
    stated: str | None
    recomputed: Recomputed
    judgement: Judgement
    under_another: bool
    marginal: bool
    again: bool
    at_fault: bool


@lru_cache(maxsize=256)
def _came_to(*members: Any) -> CameTo:  # noqa: ANN401 - those of `CameTo`
    """One for many tests, since a run keeps it of each."""
    return CameTo(*members)


@dataclass(frozen=True, slots=True)
class Assessment:
    """A record with everything that was found out about it. The record itself is not changed.

    Attributes:
        record: the evidence.
        limit_path: the table judged under, or None where none was found.
        limit_how: how the path came from the spelling, in words.
        limit_sha256: digest of the limit table file.
        stated: the source's own verdict (pass, pass*, fail*, fail), or None.
        recomputed: what the sweeps say.
        judgement: what becomes of the stated verdict.
        reason: why, in one or two sentences.
        grade: of the judgement (worst required limit of a pass, best known failing one of a fail).
        margins: one a judged curve.
        scalars: one a judged figure.
        findings: what the rules found.
        rules_not_run: rules that gave no answer; they do not count as passed.
        verdict_limit: the limit that the stated verdict is about, as the source spells it; "" where
            it names none.
        verdict_limit_path: the table that this leads to, or None where there is none.
        fingerprint: of its return loss and NEXT, to find copies by; b"" where they give none.
        marks: of its curves, see `copies.marks`, to find single ones of another test by.
        marginal: why a proved pass is marginal, in words; "" where it is not.
        again: whether the quality plan of the job has such a link tested again.
        pair_order: which order of its pairs its ACR-F goes with.
        ends_in_doubt: the parameters whose curves may be those of the other end.
    """

    record: "Record"
    limit_path: str | None
    limit_how: str
    limit_sha256: str | None
    stated: str | None
    recomputed: Recomputed
    judgement: Judgement
    reason: str
    grade: str | None
    margins: tuple[Margin, ...] = ()
    scalars: tuple[ScalarMargin, ...] = ()
    findings: "tuple[Finding, ...]" = ()
    rules_not_run: "tuple[RuleNotRun, ...]" = ()
    verdict_limit: str = ""
    verdict_limit_path: str | None = None
    fingerprint: bytes = b""
    marks: bytes = b""
    marginal: str = ""
    again: bool = False
    pair_order: PairOrder = PairOrder.NOT_ASKED
    ends_in_doubt: frozenset[str] = frozenset()

    @property
    def is_stated_under_another(self) -> bool:
        """Whether the verdict is of another limit than it was held against, or of none known."""
        held = self.stated is not None and self.limit_path is not None
        return held and self.limit_path != self.verdict_limit_path

    @property
    def came_to(self) -> CameTo:
        """What it is counted by."""
        return _came_to(
            self.limit_path,
            self.stated,
            self.recomputed,
            self.judgement,
            self.is_stated_under_another,
            bool(self.marginal),
            self.again,
            any(one.severity == "error" and one.accepted is None for one in self.findings),
        )
