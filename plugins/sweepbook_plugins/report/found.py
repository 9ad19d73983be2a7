"""Findings by rule: how many, on which tests, and what the catalogue says of the rule."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from sweepbook.findings import Finding, NotRun, RuleNotRun, Severity
from sweepbook.people.names import People

if TYPE_CHECKING:
    from sweepbook.rules.model import Entry

MOST = 40
"""Places of one rule that are listed; the sheets of the tests have all of them."""
_GRAVITY = (Severity.ERROR, Severity.WARNING, Severity.NOTE)


@dataclass(frozen=True, slots=True)
class Place:
    """One finding: the number of its test, 0 for the whole set, and what was found."""

    number: int
    label: str
    message: str
    accepted: str


@dataclass(slots=True)
class ByRule:
    """All findings of one rule, of one weight.

    Attributes:
        rule: its id.
        severity: error, warning or note.
        entry: what the catalogue says of it; None where it says nothing.
        count: how many.
        accepted: how many of them somebody lets stand.
        places: the first of them.
        tests: how many tests have one.
        said: the message of the first.
        alike_all: whether all others read the same.
    """

    rule: str
    severity: Severity
    entry: "Entry | None"
    count: int = 0
    accepted: int = 0
    places: list[Place] = field(default_factory=list)
    tests: int = 0
    said: str = ""
    alike_all: bool = True
    _last: int = 0

    def add(self, finding: Finding, number: int) -> None:
        """Count a finding of a test, or of the whole set; those of one test come together."""
        if not self.count:
            self.said = finding.message
        self.alike_all &= finding.message == self.said
        self.tests += number != self._last
        self._last = number
        self.count += 1
        self.accepted += finding.accepted is not None

    def of_all(self, tests: int) -> bool:
        """Whether each of several tests has this, and the same of it."""
        return self.alike_all and self.tests == tests > 1 and not self.accepted

    @property
    def more(self) -> int:
        """How many are not listed."""
        return self.count - len(self.places)

    def alike(self) -> list[tuple[str, str, list[Place]]]:
        """The places listed, those of which the same is said together: what, accepted by, where."""
        found: dict[tuple[str, str], list[Place]] = {}
        for place in self.places:
            found.setdefault((place.message, place.accepted), []).append(place)
        return [(*said, places) for said, places in found.items()]

    @property
    def reference(self) -> str:
        """Document, clause and force of the rule."""
        told = self.entry.reference if self.entry else {}
        return ", ".join(filter(None, (told.get(key) for key in ("document", "clause", "force"))))


class Findings:
    """What the rules say; memory grows with the rules, not with the tests."""

    def __init__(self, entries: "Iterable[Entry]", people: People) -> None:
        self._people = people
        self._entries: Mapping[str, Entry] = {entry.id: entry for entry in entries}
        self._by_rule: dict[tuple[str, Severity], ByRule] = {}
        self.not_run: Counter[tuple[str, NotRun, str]] = Counter()

    def of_record(
        self, number: int, label: str, findings: Iterable[Finding], not_run: Iterable[RuleNotRun]
    ) -> None:
        """Take what was found in a record, by the number of its test and the label of its link."""
        for finding in findings:
            self._add(finding, number, label)
        self._count(not_run)

    def of_set(self, findings: Iterable[Finding], not_run: Iterable[RuleNotRun]) -> None:
        """Take what was found about the set of all records."""
        for finding in findings:
            self._add(finding, 0, "")
        self._count(not_run)

    def __iter__(self) -> Iterator[ByRule]:
        """The gravest first, then by rule."""
        key = lambda one: (_GRAVITY.index(one.severity), one.rule)  # noqa: E731
        yield from sorted(self._by_rule.values(), key=key)

    def counted(self) -> dict[str, int]:
        """How many findings of each weight stand, those that were accepted not among them."""
        counts: Counter[str] = Counter()
        for one in self:
            counts[one.severity.value] += one.count - one.accepted
        return counts

    def _add(self, finding: Finding, number: int, label: str) -> None:
        key = finding.rule, finding.severity
        if key not in self._by_rule:
            entry = self._entries.get(finding.rule)
            self._by_rule[key] = ByRule(finding.rule, finding.severity, entry)
        mine, said = self._by_rule[key], finding.accepted
        mine.add(finding, number)
        if len(mine.places) < MOST:
            let_stand = f"{self._people.shown(said.who)}, {said.when}: {said.why}" if said else ""
            mine.places.append(Place(number, label, finding.message, let_stand))

    def _count(self, not_run: Iterable[RuleNotRun]) -> None:
        for rule in not_run:
            self.not_run[rule.rule, rule.how, rule.reason] += 1
