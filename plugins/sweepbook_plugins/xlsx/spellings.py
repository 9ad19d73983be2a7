"""The sheet of spellings that the job brings together: each with its one name and how often."""

from collections import Counter
from collections.abc import Iterable, Iterator

from sweepbook.judging.assessment import Assessment
from sweepbook.text import natural_key
from sweepbook_plugins.xlsx.layout import Column, Layout, Row
from sweepbook_plugins.xlsx.look import Kind

Spelling = tuple[str, str, str]
"""Of what, as the records have it, and the one name for it."""


def spelled(assessment: Assessment) -> frozenset[Spelling]:
    """What was brought together in a record."""
    names = assessment.record.spelled
    return frozenset((one.of, one.said, one.name) for one in names.names) if names else frozenset()


class Spellings:
    """Spellings as the records go by; memory grows with the spellings, not with the tests."""

    def __init__(self) -> None:
        self._tests: Counter[Spelling] = Counter()

    def add(self, spelled: Iterable[Spelling]) -> None:
        """Take in what was brought together in a record."""
        self._tests.update(spelled)

    def __bool__(self) -> bool:
        return bool(self._tests)

    def __iter__(self) -> Iterator[Row]:
        for key in sorted(self._tests, key=lambda key: [*map(natural_key, key)]):
            yield (*key, self._tests[key])


_COLUMNS = (
    Column("Spelling of a", 16, Kind.TEXT),
    Column("The records say", 40, Kind.PROSE),
    Column("Taken as", 40, Kind.PROSE),
    Column("Tests", 8, Kind.COUNT),
)

SPELLINGS = Layout("Spellings", _COLUMNS)
