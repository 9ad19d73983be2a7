"""What somebody else put into a SQLite database of ours that would run along with what we do."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from sweepbook.errors import SweepbookError
from sweepbook_plugins.asbuilt.schema import Schema
from sweepbook_plugins.asbuilt.tables import view_statement

if TYPE_CHECKING:
    import sqlalchemy as sa

_THERE = "SELECT type, lower(name), lower(tbl_name), sql FROM sqlite_master ORDER BY name"
_GENERATED = "SELECT name FROM pragma_table_xinfo(:name) WHERE hidden <> 0"
_TODO = "Export to a new database, or take it out of this one if it is yours; nothing was written."


class NotAsMade(SweepbookError):
    """A database has our tables, and something on them that is not ours."""


def refuse(connection: "sa.Connection", schema: Schema, revision: int, shown: str) -> None:
    """Refuse triggers on our tables, and what goes by the name of one of them and is another thing.

    Tables, views and indexes of the owner's own are left alone. On a server, whose owner says what
    runs there, nothing is refused.

    Args:
        connection: to the database.
        schema: the newest.
        revision: that of the database. One that is older has its views made anew, and those of
            tables that were parted are read before, by which it is brought to the newest and told
            what changed since.
        shown: what a message calls it.

    Raises:
        NotAsMade: it has such a thing.
    """
    if connection.dialect.name != "sqlite":
        return
    newest = revision == schema.revision
    if found := next(_foreign(connection, schema, newest), None):
        raise NotAsMade(f"{shown} {found}.", _TODO)


def _foreign(connection: "sa.Connection", schema: Schema, newest: bool) -> Iterator[str]:
    """What is not ours, in words that follow the name of the database."""
    import sqlalchemy as sa

    views = {view.view: view_statement(view) for view in schema.views}
    parted = {name for step in schema.steps for name in step.parted}
    for kind, name, of, sql in connection.exec_driver_sql(_THERE).fetchall():
        if kind == "trigger" and (of in schema.tables or of in views):
            yield f"has the trigger {name!r}, which would change what is written to {of}"
        if kind not in ("table", "view"):
            continue
        if name in schema.tables or (name in parted and kind == "table" and not newest):
            if kind == "view" or sql.split(None, 2)[1].lower() == "virtual":
                yield f"has a {'view' if kind == 'view' else 'virtual table'} in place of {name}"
            for (column,) in connection.execute(sa.text(_GENERATED), {"name": name}).fetchall():
                yield f"works {name}.{column} out by itself, which is to be written"
        if name in views and sql != views[name] and (newest or (name in parted and kind == "view")):
            yield f"has another {name} than the view that this program makes"
