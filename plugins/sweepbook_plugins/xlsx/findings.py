"""The sheet of findings: what rules found, and which rules gave no answer."""

from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from sweepbook.findings import Finding, RuleNotRun
from sweepbook.judging.assessment import Assessment
from sweepbook.people.names import NOBODY, People
from sweepbook.rules.model import Entry
from sweepbook_plugins.xlsx.layout import Column, Layout
from sweepbook_plugins.xlsx.links import NO_LABEL
from sweepbook_plugins.xlsx.look import Kind

WHOLE_SET = "(the whole set)"
NO_ANSWER = "The rule gave no answer, so it does not count as passed: {}"


class Found(NamedTuple):
    """A row; `weight` is a severity, or how a rule was not run."""

    label: str
    weight: str
    rule: str
    message: str
    entry: Entry | None
    by: str | None
    path: str
    record_id: str
    accepted: str = ""


class Finder:
    """Makes rows of what rules say, with the catalogue's words beside."""

    def __init__(self, entries: Iterable[Entry], people: People = NOBODY) -> None:
        self._people = people
        self._entries: Mapping[str, Entry] = {entry.id: entry for entry in entries}
        self._by = {name: _reference(entry) for name, entry in self._entries.items()}

    def of_record(self, assessment: Assessment) -> Iterator[Found]:
        """The rows of a record."""
        record = assessment.record
        label = record.label or NO_LABEL
        yield from self._rows(
            label, record.record_id, assessment.findings, assessment.rules_not_run
        )

    def of_set(self, findings: Iterable[Finding], not_run: Iterable[RuleNotRun]) -> Iterator[Found]:
        """The rows about the set of all records."""
        yield from self._rows(WHOLE_SET, "", findings, not_run)

    def _rows(
        self,
        label: str,
        record_id: str,
        findings: Iterable[Finding],
        not_run: Iterable[RuleNotRun],
    ) -> Iterator[Found]:
        for one in findings:
            entry = self._entries.get(one.rule)
            weight = one.severity.value
            said = one.accepted
            let_stand = f"{self._people.shown(said.who)}, {said.when}: {said.why}" if said else ""
            by = self._by.get(one.rule)
            message, path = one.message, one.path
            yield Found(label, weight, one.rule, message, entry, by, path, record_id, let_stand)
        for rule in not_run:
            message = NO_ANSWER.format(rule.reason)
            entry = self._entries.get(rule.rule)
            by = self._by.get(rule.rule)
            yield Found(label, rule.how.value, rule.rule, message, entry, by, "", record_id)


def _reference(entry: Entry) -> str:
    """Document, clause and force of the rule's reference."""
    parts = (entry.reference.get(key) for key in ("document", "clause", "force"))
    return ", ".join(part for part in parts if part)


_COLUMNS: tuple[Column[Found], ...] = (
    Column("Link", 15, Kind.TEXT, lambda r: r.label),
    Column("Weight", 10, Kind.WORD, lambda r: r.weight),
    Column("Rule", 9, Kind.TEXT, lambda r: r.rule),
    Column("What was found", 58, Kind.PROSE, lambda r: r.message),
    Column("Accepted by", 34, Kind.PROSE, lambda r: r.accepted or None),
    Column("Why it matters", 44, Kind.PROSE, lambda r: r.entry.why if r.entry else None),
    Column("What to do", 44, Kind.PROSE, lambda r: r.entry.fix if r.entry else None),
    Column("By", 40, Kind.PROSE, lambda r: r.by),
    Column("Place in the record", 34, Kind.TEXT, lambda r: r.path or None),
    Column("Record", 64, Kind.TEXT, lambda r: r.record_id or None),
)

FINDINGS = Layout("Findings", _COLUMNS, printed=7, lines=2)
