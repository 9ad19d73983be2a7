"""The sheet of findings: what rules found, and which rules gave no answer."""

from collections.abc import Iterable, Iterator

from sweepbook.findings import Accepted, Finding, RuleNotRun
from sweepbook.people.names import NOBODY, People
from sweepbook.rules.model import Entry
from sweepbook_plugins.xlsx.layout import Cell, Column, Layout, Row
from sweepbook_plugins.xlsx.look import Kind

WHOLE_SET = "(the whole set)"
NO_ANSWER = "The rule gave no answer, so it does not count as passed: {}"
_COLUMNS = (
    Column("Link", 15, Kind.TEXT),
    Column("Weight", 10, Kind.WORD),
    Column("Rule", 9, Kind.TEXT),
    Column("What was found", 50, Kind.PROSE),
    Column("Accepted by", 24, Kind.PROSE),
    Column("Why it matters", 38, Kind.PROSE),
    Column("What to do", 38, Kind.PROSE),
    Column("By", 40, Kind.PROSE),
    Column("Place in the record", 34, Kind.TEXT),
    Column("Record", 64, Kind.TEXT),
)

FINDINGS = Layout("Findings", _COLUMNS, printed=7, lines=3)
_UNKNOWN: tuple[Cell, Cell, Cell] = (None, None, None)


class Finder:
    """Makes rows of what rules say, with the catalogue's words beside."""

    def __init__(self, entries: Iterable[Entry], people: People = NOBODY) -> None:
        self._people = people
        self._said: dict[str, tuple[Cell, Cell, Cell]] = {
            entry.id: (entry.why, entry.fix, _reference(entry)) for entry in entries
        }

    def rows(
        self,
        label: str,
        record_id: str | None,
        findings: Iterable[Finding],
        not_run: Iterable[RuleNotRun],
    ) -> Iterator[Row]:
        """The rows of a record, or of the set; the weight of a rule without an answer is how."""
        for one in findings:
            said, by = self._said.get(one.rule, _UNKNOWN), self._by(one.accepted)
            weight = one.severity.value
            path = one.path or None
            yield label, weight, one.rule, one.message, by, *said, path, record_id
        for rule in not_run:
            said, message = self._said.get(rule.rule, _UNKNOWN), NO_ANSWER.format(rule.reason)
            yield label, rule.how.value, rule.rule, message, None, *said, None, record_id

    def _by(self, accepted: Accepted | None) -> str | None:
        if accepted is None:
            return None
        return f"{self._people.shown(accepted.who)}, {accepted.when}: {accepted.why}"


def _reference(entry: Entry) -> str:
    """Document, clause and force of the rule's reference."""
    parts = (entry.reference.get(key) for key in ("document", "clause", "force"))
    return ", ".join(part for part in parts if part)
