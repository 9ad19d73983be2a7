"""What the library tells of a limit table, in the database beside its path and digest."""

from typing import TYPE_CHECKING

from sweepbook.errors import SweepbookError
from sweepbook_plugins.asbuilt.entities import Row

if TYPE_CHECKING:
    from sweepbook.limits.library import Library

_TOLD = ("document", "edition", "class_or_category", "configuration", "title")


def described(row: Row, limits: "Library") -> Row:
    """The row of a limit table with what the library tells of the table of that digest."""
    try:
        table = limits.table(str(row["path"]))
    except SweepbookError:
        return row
    if table.sha256 != row["sha256"]:
        return row
    return {**row, **{name: getattr(table, name) for name in _TOLD}}
