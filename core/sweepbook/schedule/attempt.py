"""What reconciliation needs of each test, and which of a link's tests speaks for it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, Any

from sweepbook.rules.times import moment
from sweepbook.schedule.model import LEVELS
from sweepbook.text import text_at

if TYPE_CHECKING:
    from sweepbook.judging.assessment import Assessment

_ORDER_OF_PURPOSE = ("initial", "retest")


@dataclass(frozen=True, slots=True)
class Attempt:
    """One attempt to prove a link: one test of it.

    Attributes:
        record_id: identity of the record.
        label: of the link.
        purpose: of the test as stated, "" where it is not.
        started: as the clock showed; None if not known.
        stated: verdict of the source, "" without one.
        recomputed: what the sweeps prove: pass, fail or undecided.
        judgement: of the stated verdict.
        reason: of the judgement.
        limit_path: what it was judged under, "" for none.
        place: levels of the near end, or of the far one where the near one has none.
        utc: when it was started, in UTC; None where the offset of the clock is not known.
    """

    record_id: str
    label: str
    purpose: str
    started: datetime | None
    stated: str
    recomputed: str
    judgement: str
    reason: str
    limit_path: str
    place: tuple[tuple[str, str], ...]
    utc: datetime | None = None

    @property
    def passed(self) -> bool:
        """Whether it is proof of a pass: by the sweeps, and nobody stated otherwise."""
        return self.recomputed == "pass" and self.judgement in ("upheld", "unstated")


def attempt_of(assessment: "Assessment") -> Attempt:
    """Keep of an assessment what reconciliation needs; its record may break its schema."""
    record = assessment.record
    started, utc = _started(record.document)
    return Attempt(
        record_id=record.record_id,
        label=record.label.strip(),
        purpose=text_at(record.document, "test", "purpose"),
        started=started,
        stated=assessment.stated or "",
        recomputed=assessment.recomputed.value,
        judgement=assessment.judgement.value,
        reason=assessment.reason,
        limit_path=assessment.limit_path or "",
        place=_place(record.document),
        utc=utc,
    )


def _started(document: Mapping[str, Any]) -> tuple[datetime | None, datetime | None]:
    """When the test was started by its clock, and in UTC."""
    text = text_at(document, "test", "started", "rfc3339")
    try:
        begun = moment({"rfc3339": text}) if text else None
        if begun is None:
            return None, None
        return begun.clock, None if begun.offset is None else begun.clock - begun.offset
    except (ValueError, OverflowError):
        return None, None


def _place(document: Mapping[str, Any]) -> tuple[tuple[str, str], ...]:
    """Levels of the near end, or of the far one where the near one names none."""
    for end in ("near", "far"):
        told = ((level, text_at(document, "link", end, "place", level)) for level in LEVELS)
        if found := tuple((level, text) for level, text in told if text):
            return found
    return ()


def in_order(tests: Sequence[Attempt]) -> tuple[list[Attempt], bool]:
    """The tests of one link from the first to the last, and whether that order is known.

    It is by time where all have one and one is the last, else by what they say they are for: an
    initial test comes before a retest. Otherwise it is not known. Times are compared in UTC where
    all can be, else as the clocks showed.
    """
    if len(tests) == 1:
        return list(tests), True
    utc = [test.utc for test in tests if test.utc is not None]
    clock = [test.started for test in tests if test.started is not None]
    moments = utc if len(utc) == len(tests) else clock
    if len(moments) == len(tests) and moments.count(max(moments)) == 1:
        dated = sorted(zip(moments, tests, strict=True), key=lambda at: (at[0], at[1].record_id))
        return [test for _, test in dated], True
    if sorted(test.purpose for test in tests) == sorted(_ORDER_OF_PURPOSE):
        return sorted(tests, key=lambda test: _ORDER_OF_PURPOSE.index(test.purpose)), True
    return sorted(tests, key=lambda test: test.record_id), False
