"""The sheet of spellings that the job brings together: each with its one name and how often."""

from collections import Counter
from collections.abc import Iterator
from typing import NamedTuple

from sweepbook.judging.assessment import Assessment
from sweepbook.text import natural_key
from sweepbook_plugins.xlsx.layout import Column, Layout
from sweepbook_plugins.xlsx.look import Kind


class Spelling(NamedTuple):
    """A row."""

    of: str
    said: str
    name: str
    tests: int


class Spellings:
    """Spellings as the records go by; memory grows with the spellings, not with the tests."""

    def __init__(self) -> None:
        self._tests: Counter[tuple[str, str, str]] = Counter()

    def add(self, assessment: Assessment) -> None:
        """Take in what was brought together in a record."""
        spelled = assessment.record.spelled
        if spelled is not None:
            self._tests.update({(one.of, one.said, one.name) for one in spelled.names})

    def __bool__(self) -> bool:
        return bool(self._tests)

    def __iter__(self) -> Iterator[Spelling]:
        for key in sorted(self._tests, key=lambda key: [*map(natural_key, key)]):
            yield Spelling(*key, self._tests[key])


_COLUMNS: tuple[Column[Spelling], ...] = (
    Column("Spelling of a", 16, Kind.TEXT, lambda r: r.of),
    Column("The records say", 40, Kind.PROSE, lambda r: r.said),
    Column("Taken as", 40, Kind.PROSE, lambda r: r.name),
    Column("Tests", 8, Kind.COUNT, lambda r: r.tests),
)

SPELLINGS = Layout("Spellings", _COLUMNS)
