"""What a run judges by."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from importlib.resources.abc import Traversable
from typing import TYPE_CHECKING

from sweepbook.judging.settings import JudgeSettings
from sweepbook.limits.interpretations import Interpretations
from sweepbook.limits.library import Library
from sweepbook.limits.practice import Practice
from sweepbook.project.job import NO_JOB, Job
from sweepbook.rules import catalogue
from sweepbook.rules.catalogue import Catalogue
from sweepbook.rules.model import Rule, SetRule

if TYPE_CHECKING:
    from sweepbook.project.model import Accepting, Project
    from sweepbook.record.model import Record

PLANNED = "PLN"
"""Letters of the rules about the schedule."""


@dataclass(frozen=True, slots=True)
class Context:
    """What a run judges by; the same for all its records.

    Attributes:
        library: the limit tables at hand.
        settings: readings of the standards in force and the like.
        practice: figures of common practice.
        catalogue: the rules.
        against: path of the table to judge every record under; None for the one each states.
        project: what the job decided for itself, or None.
        options: what was asked for, by name, for the audit document.
    """

    library: Library
    settings: JudgeSettings
    practice: Practice
    catalogue: Catalogue
    against: str | None = None
    project: "Project | None" = None
    options: Mapping[str, str] = field(default_factory=dict)

    @property
    def job(self) -> Job:
        """What the job is, as far as a project file says."""
        return self.project.job if self.project else NO_JOB

    def accepts(self) -> "Accepting | None":
        """Marks what somebody lets stand of what a reconciliation says; None where nobody does."""
        return self.project.accepting(PLANNED) if self.project else None

    def spelled(self, record: "Record") -> "Record":
        """A record by the names that the job brings its spellings to."""
        return self.project.spellings.of(record) if self.project else record


def installed(
    folders: Iterable[Traversable] = (),
    contributed: Iterable[Rule | SetRule] = (),
    tables: Iterable[Traversable] = (),
) -> Context:
    """Judge by the data that come with the program, and by what plugins bring.

    Args:
        folders: folders with limit tables besides the program's own.
        contributed: rules that plugins contribute.
        tables: files of one limit table each, such as a contract's own.

    Raises:
        SweepbookError: a table or a contributed rule cannot be used.
    """
    return Context(
        library=Library.load(folders, tables),
        settings=JudgeSettings(Interpretations.load()),
        practice=Practice.load(),
        catalogue=catalogue.load(contributed),
    )
