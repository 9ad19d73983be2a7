"""Which tests of a file a trial shows: the first ones, or the first with curves."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.errors import ReadProblem
from sweepbook.source import Source

if TYPE_CHECKING:
    from sweepbook.record.model import Record


class Read(NamedTuple):
    """A test that was read.

    Attributes:
        number: its place among the tests of its file.
        source: in which it stands.
        record: of it.
        problems: what was told of it.
    """

    number: int
    source: Source
    record: "Record"
    problems: Sequence[ReadProblem]

    @property
    def has_curves(self) -> bool:
        """Whether there is any curve in it."""
        return bool(self.record.document.get("results", {}).get("sweeps"))


@dataclass
class Choice:
    """Takes the tests of a file one after the other and keeps no more than are shown.

    A link that failed before any sweep has no curves, and shows little of what a dialect does.

    Attributes:
        count: how many are shown.
        seen: how many were taken.
    """

    count: int
    seen: int = 0
    _with_curves: list[Read] = field(default_factory=list)
    _without: list[Read] = field(default_factory=list)

    def take(self, one: Read) -> Read | None:
        """Take a test, and give back one that is not shown whatever comes."""
        self.seen += 1
        kept = self._with_curves if one.has_curves else self._without
        if len(kept) >= self.count:
            return one
        kept.append(one)
        whole = len(self._with_curves) + len(self._without) > self.count
        return self._without.pop() if whole and self._without else None

    def shown(self) -> Iterator[Read]:
        """Those that are shown, in the order of the file."""
        yield from sorted([*self._with_curves, *self._without], key=lambda one: one.number)
