"""A project file as immutable values, and which findings it accepts."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace

from sweepbook.findings import Accepted, Finding
from sweepbook.project.job import NO_JOB, Job
from sweepbook.project.spellings import NONE_TOGETHER, Spellings
from sweepbook.record.links import plain_label


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
        labels: of the links that one finding about several tests together is about.
    """

    rule: str
    label: str | None
    record: str | None
    everywhere: bool
    path: str | None
    accepted: Accepted
    labels: tuple[str, ...] = ()

    def reaches(self, finding: Finding, label: str, record_id: str) -> bool:
        """Whether it is about this finding of this record; labels go by `plain_label`."""
        if finding.rule != self.rule or self.path not in (None, finding.path):
            return False
        if not record_id and not self.everywhere:
            named = {plain_label(one) for one in (self.label, *self.labels) if one is not None}
            return bool(finding.labels) and named.issuperset(map(plain_label, finding.labels))
        if self.record is not None and not record_id.startswith(self.record):
            return False
        if self.label is not None and plain_label(label) != plain_label(self.label):
            return False
        return self.everywhere or (bool(record_id) and not self.labels)

    def in_words(self) -> str:
        """What it is about: "REC004 of 1A-P1-02"."""
        together = " and ".join(self.labels)
        whom = "every test" if self.everywhere else self.label or self.record or together
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
        found_by: the same by rule and label for comparison; those that name none under None.
        job: what the job is, as far as it is said.
        spellings: labels, places, cables and limits that are written in several ways.
    """

    name: str
    sha256: str
    practice: Mapping[str, float]
    left_out: tuple[str, ...]
    acceptances: tuple[Acceptance, ...]
    found_by: Mapping[tuple[str, str | None], tuple[Acceptance, ...]]
    job: Job = NO_JOB
    spellings: Spellings = NONE_TOGETHER

    @staticmethod
    def of(
        name: str,
        sha256: str,
        practice: Mapping[str, float],
        left_out: tuple[str, ...],
        acceptances: tuple[Acceptance, ...],
        job: Job = NO_JOB,
        spellings: Spellings = NONE_TOGETHER,
    ) -> "Project":
        """Put a project together; what is accepted of a label holds for it in every form."""
        acceptances = tuple(
            replace(
                one,
                label=None if one.label is None else spellings.label(one.label),
                labels=tuple(map(spellings.label, one.labels)),
            )
            for one in acceptances
        )
        by: dict[tuple[str, str | None], list[Acceptance]] = {}
        for one in acceptances:
            link = None if one.label is None else plain_label(one.label)
            by.setdefault((one.rule, link), []).append(one)
        found_by = {key: tuple(ones) for key, ones in by.items()}
        return Project(name, sha256, practice, left_out, acceptances, found_by, job, spellings)

    def accepting(self, letters: str) -> "Accepting | None":
        """Marks findings of a group of rules one by one; None where it accepts none of them."""
        own = tuple(one for one in self.acceptances if one.rule.startswith(letters))
        return Accepting(self, own) if own else None

    @property
    def figures(self) -> str:
        """Its practice figures with their values: "field_reference_days = 7"."""
        return ", ".join(f"{name} = {value:.10g}" for name, value in self.practice.items())

    def reaching(self, finding: Finding, label: str, record_id: str) -> Iterator[Acceptance]:
        """Each acceptance that is about a finding."""
        named = map(plain_label, finding.labels)
        for name in dict.fromkeys((plain_label(label), None, *named)):
            for one in self.found_by.get((finding.rule, name), ()):
                if one.reaches(finding, label, record_id):
                    yield one

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
        one = next(self.reaching(finding, label, record_id), None)
        return replace(finding, accepted=one.accepted) if one else finding


@dataclass(slots=True)
class Accepting:
    """Marks findings about tests together, and notes which acceptances met one.

    Attributes:
        project: whose acceptances these are.
        acceptances: of some rules.
    """

    project: Project
    acceptances: tuple[Acceptance, ...]
    _met: set[Acceptance] = field(default_factory=set)

    def __call__(self, finding: Finding) -> Finding:
        """The finding, marked where it is accepted."""
        reaching = [*self.project.reaching(finding, "", "")]
        self._met.update(reaching)
        return replace(finding, accepted=reaching[0].accepted) if reaching else finding

    @property
    def idle(self) -> tuple[Acceptance, ...]:
        """Those that met nothing so far."""
        return tuple(one for one in self.acceptances if one not in self._met)
