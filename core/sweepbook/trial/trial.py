"""A trial of a dialect on files: some tests shown whole, of the others what no one test tells."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from sweepbook.errors import ReadProblem
from sweepbook.source import Source
from sweepbook.text import text_at
from sweepbook.trial import idle, next_edits
from sweepbook.trial.choosing import Choice, Read
from sweepbook.trial.idle import Idle
from sweepbook.trial.labels_left import Labels
from sweepbook.trial.limits_left import limit, margins_by
from sweepbook.trial.looking import Look, look
from sweepbook.trial.together import Edit

if TYPE_CHECKING:
    from sweepbook.dialect.model import Dialect
    from sweepbook.formats import Format
    from sweepbook.judging.settings import JudgeSettings
    from sweepbook.limits.library import Library
    from sweepbook.record.model import Record


@dataclass
class Trial:
    """What a dialect makes of files that are handed over one after the other.

    Attributes:
        dialect: by which they are read.
        library: where the limits are.
        settings: how is judged.
        reader: the format that reads by it.
        count: how many tests of each file are shown.
        looks: what is shown of them.
        problems: all that the reader told.
        lost: those by which a test was lost.
        read: how many tests were read.
    """

    dialect: "Dialect"
    library: "Library"
    settings: "JudgeSettings"
    reader: "Format"
    count: int
    looks: list[Look] = field(default_factory=list)
    problems: list[ReadProblem] = field(default_factory=list)
    lost: list[ReadProblem] = field(default_factory=list)
    read: int = 0
    _of_none: list[ReadProblem] = field(default_factory=list)
    _others: list[Sequence[Edit]] = field(default_factory=list)
    _idle: list[Idle] | None = None
    _limits: set[str] = field(default_factory=set)
    _labels: Labels = field(default_factory=Labels)

    def of_file(
        self, items: "Iterable[ReadProblem | tuple[Source, Record]]", most: int, lost: int
    ) -> None:
        """Take what is read of a file, until so many tests were read, or so many lost in all."""
        choice = Choice(self.count)
        told: list[ReadProblem] = []
        for item in items:
            if isinstance(item, ReadProblem):
                self.problems.append(item)
                (self.lost if item.lost_record else told).append(item)
                if len(self.lost) >= lost:
                    break
                continue
            self._see(item[1])
            if passed := choice.take(Read(choice.seen, *item, told)):
                self._others.append(list(self._of_unshown(passed)))
            told = []
            if choice.seen >= most:
                break
        self._of_none += told
        self.looks += self._shown(choice)

    @property
    def idle(self) -> Sequence[Idle]:
        """The keys of the dialect that found nothing in any test."""
        return self._idle or ()

    def edits(self) -> list[Sequence[Edit]]:
        """The changes worth making, by the test that they are of."""
        unread = [[edit] for edit in next_edits.told([*self.lost, *self._of_none])]
        labels = list(next_edits.label(self._labels.doubted(), self.dialect))
        return [*unread, labels, *(one.edits for one in self.looks), *self._others]

    def _see(self, record: "Record") -> None:
        found = idle.idle(self.dialect, record.document)
        known = self._idle
        self._idle = [one for one in found if known is None or one in known]
        self._labels.see(record.document)
        self.read += 1

    def _of_unshown(self, one: Read) -> Iterator[Edit]:
        """What a test asks for that another one does not tell."""
        yield from next_edits.told(one.problems)
        named = text_at(one.record.document, "test", "limit", "as_stated")
        margins = None
        if named not in self._limits:  # of each name one test may prove a table
            margins = margins_by(one.record, self.library, self.settings)
        self._limits.add(named)
        yield from limit(one.record.document, self.dialect, self.library, margins)

    def _shown(self, choice: Choice) -> Iterator[Look]:
        for number, one in enumerate(choice.shown()):
            passed_over = one.number if number == 0 and one.has_curves else 0
            yield look(
                self.dialect,
                one.source,
                one.record,
                one.problems,
                self.library,
                self.settings,
                self.reader,
                passed_over,
            )
