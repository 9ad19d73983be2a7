"""A project file as immutable values, and which findings it accepts."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from sweepbook.findings import Accepted, Finding


@dataclass(frozen=True, slots=True)
class Acceptance:
    """A finding that somebody has looked at and lets stand.

    Attributes:
        rule: id of the rule.
        label: of the link whose tests it is about; None where `record` or `everywhere` tells.
        record: id of the record, or its beginning; None where the label or `everywhere` tells.
        everywhere: whether it is about every test and the set.
        path: place in the record, as the finding has it; None for any.
        accepted: who, when and why.
    """

    rule: str
    label: str | None
    record: str | None
    everywhere: bool
    path: str | None
    accepted: Accepted

    def reaches(self, finding: Finding, label: str, record_id: str) -> bool:
        """Whether it is about this finding of this record."""
        if finding.rule != self.rule or self.path not in (None, finding.path):
            return False
        if self.record is not None and not record_id.startswith(self.record):
            return False
        if self.label is not None and label != self.label:
            return False
        return self.everywhere or bool(record_id)

    def in_words(self) -> str:
        """What it is about: "REC004 of 1A-P1-02"."""
        whom = "every test" if self.everywhere else self.label or self.record
        return " ".join(filter(None, (f"{self.rule} of {whom}", self.path)))


@dataclass(frozen=True, slots=True)
class Project:
    """What a job decided for itself.

    Attributes:
        name: of the file.
        sha256: digest of the file.
        practice: its own practice figures by name.
        left_out: words of rules that are not asked: ids, letters of a group, severities.
        acceptances: findings that are accepted.
    """

    name: str
    sha256: str
    practice: Mapping[str, float] = field(default_factory=dict)
    left_out: tuple[str, ...] = ()
    acceptances: tuple[Acceptance, ...] = ()

    def marked(
        self, findings: Iterable[Finding], label: str, record_id: str
    ) -> tuple[Finding, ...]:
        """The findings, those accepted marked with who accepted them, when and why.

        Args:
            findings: of a record, or of the set.
            label: of the record; "" for the set.
            record_id: of the record; "" for the set.
        """
        return tuple(self._marked(finding, label, record_id) for finding in findings)

    def _marked(self, finding: Finding, label: str, record_id: str) -> Finding:
        for acceptance in self.acceptances:
            if acceptance.reaches(finding, label, record_id):
                return replace(finding, accepted=acceptance.accepted)
        return finding
