"""All tests of a job by tester, and which tester reads apart from the others."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import date, datetime

from sweepbook.limits.practice import Practice
from sweepbook.testers.reading import Alike, Reading, Unit, UnitTest
from sweepbook.testers.shift import Shift, shift


@dataclass(slots=True)
class Record:
    """What is known of one tester.

    Attributes:
        unit: which one.
        tests, failed: how many it took part in, and how many of these fail.
        first, last: its first and last test by its clock.
        calibrated_on, calibration_due: every day stated, in order.
        expired: tests after the calibration that they state was due.
        longest_reference_days: the oldest field reference that it was used with.
        without_reference: tests whose field reference has no known time.
        firmware: every version stated, in order of appearance.
    """

    unit: Unit
    tests: int = 0
    failed: int = 0
    first: datetime | None = None
    last: datetime | None = None
    calibrated_on: set[date] = field(default_factory=set)
    calibration_due: set[date] = field(default_factory=set)
    expired: int = 0
    longest_reference_days: float | None = None
    without_reference: int = 0
    firmware: dict[str, None] = field(default_factory=dict)

    def add(self, one: UnitTest) -> None:
        """Take one test."""
        self.tests += 1
        self.failed += one.failed
        if one.started is not None:
            self.first = min(self.first or one.started, one.started)
            self.last = max(self.last or one.started, one.started)
        if one.calibrated_on is not None:
            self.calibrated_on.add(one.calibrated_on)
        if one.calibration_due is not None:
            self.calibration_due.add(one.calibration_due)
            late = one.started is not None and one.started.date() > one.calibration_due
            self.expired += late
        if one.reference_days is None:
            self.without_reference += 1
        else:
            longest = self.longest_reference_days
            days = one.reference_days
            self.longest_reference_days = days if longest is None else max(longest, days)
        if one.firmware:
            self.firmware[one.firmware] = None


@dataclass(frozen=True, slots=True)
class Compared:
    """One kind of figure of one tester beside those of the others on like links.

    Attributes:
        unit: the tester.
        parameter: see `Reading`.
        found: how they lie to each other.
        chance: of `found`, times the number of comparisons made, at most 1.
        apart: whether that is too unlikely and too far to be passed over, by the practice figures.
    """

    unit: Unit
    parameter: str
    found: Shift
    chance: float
    apart: bool


class Fleet:
    """The testers of a job; memory grows by a few figures a test."""

    def __init__(self, practice: Practice) -> None:
        self._practice = practice
        self._figures: dict[tuple[str, Alike], dict[Unit, list[float]]] = defaultdict(dict)
        self.records: dict[Unit, Record] = {}

    def add(self, tests: Iterable[UnitTest]) -> None:
        """Take what one test says of its testers."""
        for one in tests:
            self.records.setdefault(one.unit, Record(one.unit)).add(one)
            for reading in one.readings:
                self._keep(one.unit, reading)

    def _keep(self, unit: Unit, reading: Reading) -> None:
        kept = self._figures[reading.parameter, reading.alike]
        kept.setdefault(unit, []).append(reading.value)

    def compared(self) -> tuple[Compared, ...]:
        """Each tester against all others, by kind of figure; those with too few figures not."""
        fewest = self._practice.value("tester_fewest_tests")
        found = [
            (unit, parameter, made)
            for unit in self.records
            for parameter in sorted({name for name, _ in self._figures})
            if (made := shift(self._groups(unit, parameter)))
            and min(made.own, made.others) >= fewest
        ]
        return tuple(
            self._judged(unit, parameter, made, len(found)) for unit, parameter, made in found
        )

    def _judged(self, unit: Unit, parameter: str, made: Shift, times: int) -> Compared:
        chance = min(1.0, made.chance * times)
        unlikely = chance < self._practice.value("tester_shift_chance")
        far = abs(made.shift) >= self._practice.value("tester_shift_db")
        return Compared(unit, parameter, made, chance, unlikely and far)

    def _groups(self, unit: Unit, parameter: str) -> Iterator[tuple[list[float], list[float]]]:
        for (name, _), by_unit in self._figures.items():
            if name == parameter and unit in by_unit:
                others = [v for other, vs in by_unit.items() if other != unit for v in vs]
                yield by_unit[unit], others
