"""Rows on their way into the database, of one test or of many."""

from collections import defaultdict
from dataclasses import dataclass, field

from sweepbook_plugins.asbuilt.values import Value

Cells = defaultdict[str, list[Value]]
"""Rows by table, one after the other, each in the order of the columns."""


def no_cells() -> Cells:
    """Rows of no table yet."""
    return defaultdict(list)


@dataclass(slots=True)
class Batch:
    """The rows of some tests, table by table: plain data, which processes may send to each other.

    Attributes:
        link_of: numbers of the tests, each with that of its link.
        rules: to which the rows refer.
        shared: rows that tests share; of what one process makes, those that it has not given yet.
        own: rows of one test each.
    """

    link_of: dict[int, int] = field(default_factory=dict)
    rules: set[str] = field(default_factory=set)
    shared: Cells = field(default_factory=no_cells)
    own: Cells = field(default_factory=no_cells)

    def take_in(self, other: "Batch") -> None:
        """Add all rows of another batch."""
        self.link_of |= other.link_of
        self.rules |= other.rules
        self.share(other.shared)
        for table, cells in other.own.items():
            self.own[table] += cells

    def take_in_sources(self, other: "Batch") -> None:
        """Add of another batch, whose tests are known, where they were found."""
        self.share(other.shared)
        self.own["test_source"] += other.own["test_source"]

    def share(self, shared: Cells) -> None:
        """Add rows that tests share."""
        for table, cells in shared.items():
            self.shared[table] += cells
