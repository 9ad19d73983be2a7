"""What a writer is handed: the assessed records as a stream, and what stands on the about page."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial
from typing import TYPE_CHECKING, Protocol, TypeVar

from sweepbook.errors import ReadProblem
from sweepbook.people.names import NOBODY, People
from sweepbook.project.job import NO_JOB, Job

if TYPE_CHECKING:
    from sweepbook.findings import Exported, Finding, RuleNotRun
    from sweepbook.judging.assessment import Assessment
    from sweepbook.judging.hold import Held
    from sweepbook.limits.interpretations import Interpretations
    from sweepbook.limits.library import Library
    from sweepbook.limits.practice import Practice
    from sweepbook.record.model import Record
    from sweepbook.rules.catalogue import Catalogue
    from sweepbook.schedule.label_scheme import LabelScheme
    from sweepbook.schedule.model import Schedule
    from sweepbook.schedule.told import Accepts


Result = TypeVar("Result")
Work = Callable[["Assessment", "Callable[[], Sequence[Held]]"], Result]
"""What a writer makes of one entry: it is given the entry, and a function that gives the curves of
the entry as they were held against their limits. Work and result must be fit to be pickled: a
function at the top of a module, or a `partial` of one, and plain data."""
View = Callable[["Assessment"], "Assessment"]
"""What a writer may see of an assessment."""


class Spread(Protocol):
    """Does a writer's work on every entry, wherever there is room for it."""

    def __call__(self, work: Work[Result], /) -> Iterator[Result]:
        """Give what becomes of each entry, in the order of the entries."""


@dataclass(frozen=True, slots=True)
class About:
    """How the delivery came to be, for the reader of it and for whoever repeats it.

    Attributes:
        title: name of the job or the book.
        program: name and version of the program.
        decision_rule: how a value near the limit was judged, in words.
        options: what was asked for, by name: {"against": "...", "interpretation": "..."}.
        digests: SHA-256 by name of what the judgements rest on: each limit table, rule catalogue,
            interpretations, practice figures, corrections. Complete only once the delivery's
            `entries` has been walked.
        limits: the library, for the tables' documents, grades and sources.
        catalogue: the rules, for what a finding means and what to do about it.
        interpretations: which disputed readings of the standards were on, where that is known.
        job: what the job is, as far as its project file says.
        practice: the figures of common practice, where they are known.
        accepts: marks what a reconciliation says of links and somebody lets stand; None where
            nobody lets any of it stand.
    """

    title: str
    program: str
    decision_rule: str
    options: dict[str, str]
    digests: dict[str, str]
    limits: "Library"
    catalogue: "Catalogue"
    interpretations: "Interpretations | None" = None
    job: Job = NO_JOB
    practice: "Practice | None" = None
    accepts: "Accepts | None" = None


@dataclass(frozen=True, slots=True)
class Recount:
    """Sources were withdrawn, or taken back in.

    Attributes:
        when: RFC 3339 in UTC.
        told: what that was, in words.
        records: gives the records of the sources as corrected, whether they count now or not.
    """

    when: str
    told: str
    records: "Callable[[], Iterator[Record]]"


@dataclass(frozen=True, slots=True)
class Delivery:
    """A stream of assessed records; it can be walked once: by its `entries`, or by `each`.

    Attributes:
        entries: one a record, in a stable order.
        about: how it came to be.
        problems: what could not be read; complete only once `entries` has been walked.
        findings: what the rules found about the set as a whole; complete only then too.
        rules_not_run: rules about the set that gave no answer; complete only then too.
        exported: records that are other exports of tests, by id, which are to be listed and not
            counted; complete only then too.
        schedule: the cable schedule to hold the tests against, where one was given.
        scheme: what labels say of the ends of their links, where that was declared.
        remarks: what the writer has to say to whoever asked for it, a sentence or two each.
        people: names by the ids that stand in records, corrections and acceptances; nobody where
            they are not known or not to be told.
        asked: options that the writer takes besides, by name: {"since": "2026-03-01"}.
        held: gives the curves of an entry as they were held against their limits: at once for the
            entry that came last, by judging it anew for others; None where nobody knows them.
        spread: walks over the entries for `each`, in several processes perhaps; None where the
            entries are all that there is.
        withdrawn: digests of sources that count no more, for writers that add to what they wrote
            before.
        recounts: each time that tests ceased to count, or began to count again; of no interest
            but to a writer of what changed.
    """

    entries: "Iterable[Assessment]"
    about: About
    problems: list[ReadProblem] = field(default_factory=list)
    findings: "list[Finding]" = field(default_factory=list)
    rules_not_run: "list[RuleNotRun]" = field(default_factory=list)
    schedule: "Schedule | None" = None
    scheme: "LabelScheme | None" = None
    remarks: list[str] = field(default_factory=list)
    people: People = NOBODY
    asked: Mapping[str, str] = field(default_factory=dict)
    held: "Callable[[Assessment], Sequence[Held]] | None" = None
    spread: Spread | None = None
    withdrawn: frozenset[str] = frozenset()
    recounts: Sequence[Recount] = ()
    exported: "dict[str, Exported]" = field(default_factory=dict)

    def each(self, work: Work[Result]) -> Iterator[Result]:
        """What a writer's work makes of each entry, in their order.

        Where several processes were asked for, the work is done by the one that judged the record,
        so that neither its curves nor their judgement are sent about, and the curves are at hand.

        Args:
            work: is run once an entry; it may not count on anything of the writer's own process.

        Raises:
            Exception: whatever the work raises.
        """
        if self.spread is not None:
            return self.spread(work)
        return (work(entry, partial(self._held_of, entry)) for entry in self.entries)

    def _held_of(self, entry: "Assessment") -> "Sequence[Held]":
        return self.held(entry) if self.held else ()
