"""Rows on their way into the database, of one test or of many."""

from collections import defaultdict
from dataclasses import dataclass, field

from sweepbook_plugins.asbuilt.entities import Row
from sweepbook_plugins.asbuilt.values import Value


def _lists_of_rows() -> defaultdict[str, list[Row]]:
    return defaultdict(list)


def _lists_of_cells() -> defaultdict[str, list[Value]]:
    return defaultdict(list)


@dataclass(slots=True)
class Batch:
    """The rows of some tests, table by table: plain data, which processes may send to each other.

    Attributes:
        tests: their numbers.
        shared: rows that tests share; of what one process makes, those that it has not given yet.
        rows: rows of one test each, by column.
        cells: of the tables with the most rows, one row after the other, each in the order of the
            columns.
    """

    tests: list[int] = field(default_factory=list)
    shared: defaultdict[str, list[Row]] = field(default_factory=_lists_of_rows)
    rows: defaultdict[str, list[Row]] = field(default_factory=_lists_of_rows)
    cells: defaultdict[str, list[Value]] = field(default_factory=_lists_of_cells)

    def take_in(self, other: "Batch") -> None:
        """Add all rows of another batch."""
        self.tests += other.tests
        self.share(other.shared)
        for table, rows in other.rows.items():
            self.rows[table] += rows
        for table, cells in other.cells.items():
            self.cells[table] += cells

    def take_in_sources(self, other: "Batch") -> None:
        """Add of another batch, whose tests are known, where they were found."""
        self.share(other.shared)
        self.rows["test_source"] += other.rows["test_source"]

    def share(self, shared: defaultdict[str, list[Row]]) -> None:
        """Add rows that tests share."""
        for table, rows in shared.items():
            self.shared[table] += rows
