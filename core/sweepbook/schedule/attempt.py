"""What reconciliation needs of each test."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, fields, replace
from datetime import datetime, timedelta
from functools import lru_cache
from operator import attrgetter
from typing import TYPE_CHECKING, Any

from sweepbook import clock
from sweepbook.findings import OfTests
from sweepbook.record.links import Key, link_key
from sweepbook.rules.times import Moment, before, days_between, moment
from sweepbook.schedule.cable import Cable
from sweepbook.schedule.model import LEVELS, End
from sweepbook.schedule.trace import Trace, closes, trace_of, why
from sweepbook.text import text_at

if TYPE_CHECKING:
    from sweepbook.judging.assessment import Assessment

OFFSETS_DIFFER = timedelta(hours=26)
"""Civil time lies between 12 hours behind UTC and 14 before it."""

_DAYS_AHEAD = 1.0
"""A clock that is set to another zone may be so much ahead."""


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
        near, far: its ends as it names them.
        cable: as it names it.
        utc: when it was started, in UTC; None where the offset of the clock is not known.
        configuration: that the tester was set up for, "" where it is not stated.
        ahead: it is dated later than it was read, so that its time tells nothing.
        again: why the quality plan has the link tested again though the test is a proved pass, in
            words; "" where it has not.
        noted, doubt, export_of: see `Trace`.
        own_label: the label as its record has it, where the job brings that to another one; else
            "".
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
    near: End = field(default_factory=End)
    far: End = field(default_factory=End)
    cable: Cable = field(default_factory=Cable)
    utc: datetime | None = None
    configuration: str = ""
    ahead: bool = False
    again: str = ""
    own_label: str = ""
    noted: str = ""
    doubt: str = ""
    export_of: str = ""

    def __reduce__(self) -> tuple[type["Attempt"], tuple[Any, ...]]:
        """Be pickled as its members, which is some times as fast as field by field."""
        return Attempt, _members(self)

    @property
    def offset(self) -> timedelta | None:
        """Of its clock to UTC; None where it is not known."""
        return None if self.started is None or self.utc is None else self.started - self.utc

    @property
    def named_ends(self) -> tuple[End, ...]:
        """The ends of which it names a place."""
        return tuple(end for end in (self.near, self.far) if end.place)

    @property
    def place(self) -> tuple[tuple[str, str], ...]:
        """Levels of the near end, or of the far one where the near one has none."""
        return next((tuple(end.place.items()) for end in self.named_ends), ())

    @property
    def passed(self) -> bool:
        """Whether it closes its link; see `closes`."""
        return closes(self.recomputed, self.judgement, self.again) and not self.doubt

    @property
    def link(self) -> Key:
        """What it says of its link; see `link_key`."""
        return link_key(self.record_id, self.label, self.named("site"), self.named("building"))

    def named(self, level: str) -> str:
        """The text of a level of place at the near end, or else at the far one; "" for none."""
        return self.near.place.get(level) or self.far.place.get(level, "")

    @property
    def why(self) -> str:
        """Why it does not close its link, or else the reason of its judgement."""
        return why(self)


_members = attrgetter(*(one.name for one in fields(Attempt)))


def attempt_of(assessment: "Assessment") -> Attempt:
    """Keep of an assessment what reconciliation needs; its record may break its schema."""
    return attempt(trace_of(assessment))


def attempt(trace: Trace) -> Attempt:
    """Say what the texts of a test mean."""
    purpose, configuration, began, read_at = trace.test
    begun = _moment(began)
    started, utc = _started(begun)
    return Attempt(
        record_id=trace.record_id,
        label=trace.label,
        purpose=purpose,
        started=started,
        stated=trace.stated,
        recomputed=trace.recomputed,
        judgement=trace.judgement,
        reason=trace.reason,
        limit_path=trace.limit_path,
        near=_kept_end(*trace.near),
        far=_kept_end(*trace.far),
        cable=_kept_cable(*trace.cable),
        utc=utc,
        configuration=configuration,
        ahead=_is_ahead(begun, read_at),
        again=trace.again,
        own_label=trace.own_label,
        noted=trace.noted,
        doubt=trace.doubt,
        export_of=trace.export_of,
    )


def with_the_rest(tests: Iterable[Attempt], known: OfTests) -> list[Attempt]:
    """The tests, with what is known of them only now that all are in."""
    return [
        replace(test, doubt=known.doubt(test.record_id), export_of=known.export_of(test.record_id))
        if known.tells_of(test.record_id)
        else test
        for test in tests
    ]


def _started(begun: Moment | None) -> tuple[datetime | None, datetime | None]:
    """When the test was started by its clock, and in UTC."""
    if begun is None:
        return None, None
    return begun.clock, None if begun.offset is None else before(begun.clock, begun.offset)


def is_ahead(document: Mapping[str, Any]) -> bool:
    """Whether the test is dated later than its export was read, or than now, by more than a day."""
    begun = _moment(text_at(document, "test", "started", "rfc3339"))
    return _is_ahead(begun, text_at(document, "provenance", "read_at"))


def _is_ahead(begun: Moment | None, read_at: str) -> bool:
    if begun is None:
        return False
    read = _moment(read_at)
    now = Moment("", clock.moment().replace(tzinfo=None), timedelta(0))
    return _is_later(begun, now) or (read is not None and _is_later(begun, read))


def _is_later(begun: Moment, known: Moment) -> bool:
    """Whether a test was begun more than a day after another moment, whatever the offsets are."""
    if known.clock - begun.clock > OFFSETS_DIFFER:
        return False
    return days_between(known, begun)[0] > _DAYS_AHEAD


@lru_cache(maxsize=64)
def _moment(text: str) -> Moment | None:
    """A moment of a record that may break its schema."""
    try:
        return moment({"rfc3339": text}) if text else None
    except ValueError:
        return None


@lru_cache(maxsize=256)
def _kept_end(termination: str, *levels: str) -> End:
    """An end; that of many tests is kept once."""
    place = {level: text for level, text in zip(LEVELS, levels, strict=True) if text}
    return End(place, termination)


@lru_cache(maxsize=256)
def _kept_cable(*texts: str) -> Cable:
    """A cable; that of many tests is kept once."""
    return Cable(*texts)
