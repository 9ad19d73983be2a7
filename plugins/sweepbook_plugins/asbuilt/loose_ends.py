"""References to rows that are not there, in a SQLite file that is made without a look at them.

Looked at row by row, as `foreign_keys` does, they take six times as long as all the rest.
"""

from collections import defaultdict
from collections.abc import Sequence
from itertools import islice
from typing import TYPE_CHECKING

from sweepbook.errors import SweepbookError

if TYPE_CHECKING:
    import sqlalchemy as sa

    from sweepbook_plugins.asbuilt.schema import Table
    from sweepbook_plugins.asbuilt.values import Value

_AT_ONCE = 1_000
_MOST_KNOWN = 20_000
"""Rows that are known to be there, and are kept at hand."""
_TODO = "Nothing of this delivery was kept; tell the authors what the message says."
_LOOKED_AT_LATER = """
    SELECT name FROM sqlite_master AS one
    WHERE type = 'table' AND EXISTS (SELECT 1 FROM pragma_table_info(one.name) WHERE pk > 0)
"""


class References:
    """References of rows that go into heaps, looked at while they do."""

    def __init__(self, connection: "sa.Connection") -> None:
        """Begin with none.

        Args:
            connection: within the transaction that writes the rows, and those that they refer to.
        """
        self._connection = connection
        self._there: defaultdict[str, set[Value]] = defaultdict(lambda: {None})

    def refuse_loose(self, table: "Table", cells: "Sequence[Value]") -> None:
        """Refuse rows that refer to none; of a few tests there are many, and of few kinds.

        Args:
            table: into which they go.
            cells: of all rows, one after the other.

        Raises:
            SweepbookError: one refers to none.
        """
        for at, column in enumerate(table.columns):
            if column.refers:
                self._look(table, column.refers, {*cells[at :: len(table.columns)]})

    def _look(self, table: "Table", refers: str, numbers: "set[Value]") -> None:
        there, (other, _, its) = self._there[refers], refers.partition(".")
        numbers -= there
        left = iter(numbers)
        while part := [*islice(left, _AT_ONCE)]:
            listed = ", ".join(map(str, part))
            known = f"SELECT COUNT(*) FROM {other} WHERE {its} IN ({listed})"
            if self._connection.exec_driver_sql(known).scalar() != len(part):
                raise _loose(table.table, other)
        if len(there) > _MOST_KNOWN:
            there.clear()
            there.add(None)
        there |= numbers


def refuse_in_tables(connection: "sa.Connection") -> None:
    """Refuse a file in which a row of any other table refers to none.

    Raises:
        SweepbookError: one does.
    """
    for (name,) in connection.exec_driver_sql(_LOOKED_AT_LATER).fetchall():
        loose = connection.exec_driver_sql(f'PRAGMA foreign_key_check("{name}")').first()
        if loose is not None:
            raise _loose(loose[0], loose[2])


def _loose(table: str, other: str) -> SweepbookError:
    return SweepbookError(f"A row of {table} refers to none of {other}.", _TODO)
