"""A whole delivery laid out in a database that nobody else sees, to take a part of it."""

import tempfile
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from datetime import datetime
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING

from sweepbook.errors import SweepbookError
from sweepbook_plugins.asbuilt import sqlite_file
from sweepbook_plugins.asbuilt.came import since_moment
from sweepbook_plugins.asbuilt.changes import Change, since_export
from sweepbook_plugins.asbuilt.load import Load
from sweepbook_plugins.asbuilt.opening import Opened, Place, opened, reading
from sweepbook_plugins.asbuilt.remarks import listed_jobs
from sweepbook_plugins.asbuilt.schema import Schema
from sweepbook_plugins.asbuilt.since import Since, shown
from sweepbook_plugins.asbuilt.withdrawn import recounts

if TYPE_CHECKING:
    import sqlalchemy as sa

    from sweepbook.delivery import Delivery

_JOBS = "SELECT name FROM job ORDER BY name"
_SINCE = "SELECT value FROM about WHERE name = 'since'"


@dataclass(frozen=True, slots=True)
class Aside:
    """A delivery laid out.

    Attributes:
        connection: to the database that holds it, until it is left.
        job_id: the job of the delivery.
        changes: what changed; None where that was not asked for.
    """

    connection: "sa.Connection"
    job_id: int
    changes: list[Change] | None


@contextmanager
def laid_out(delivery: "Delivery", schema: Schema, since: Since | None) -> Iterator[Aside]:
    """Lay a delivery out: since an earlier export as that would be after it, which it stays from.

    Raises:
        SweepbookError: the earlier export cannot be used, or there is no room.
    """
    with ExitStack() as held:
        folder = Path(held.enter_context(tempfile.TemporaryDirectory(prefix="sweepbook-")))
        if since is None or isinstance(since, datetime):
            database = held.enter_context(opened(folder / "whole.sqlite", schema))
        else:
            copy = _copied(since, folder)
            database = held.enter_context(opened(copy, schema, keep=False, called=shown(since)))
            _refuse(database, since)
        load = Load(database.writing, delivery, schema, database.fresh)
        if not database.fresh:
            _refuse_other_jobs(database, load, since)
        load.run()
        connection, changes = database.writing.connection, None
        if isinstance(since, datetime):
            recounted = chain.from_iterable(one.records() for one in recounts(delivery, since))
            changes = since_moment(connection, load.entities, since, recounted, load.let_stand)
        elif since is not None:
            with reading(since) as before:
                changes = since_export(before, connection, schema, load.job_id)
        yield Aside(connection, load.job_id, changes)


def _copied(earlier: Place, folder: Path) -> Place:
    """A copy of a file; a database on a server is used as it is, and nothing is kept."""
    if not isinstance(earlier, Path):
        return earlier
    copy = folder / "earlier.sqlite"
    sqlite_file.copy(earlier, copy)
    return copy


def _refuse(database: Opened, since: Since) -> None:
    """Refuse what tells no changes.

    Raises:
        SweepbookError: the earlier export is empty, a delta, or on a server and too old.
    """
    said = database.writing.connection.exec_driver_sql(_SINCE).scalar()
    if database.fresh:
        raise SweepbookError(
            f"{shown(since)} holds no export, so that nothing can have changed since.",
            "Name the database of an earlier export, or leave --since out.",
        )
    if said is not None:
        raise SweepbookError(
            f"{shown(since)} is itself a delta, since {said}: what it lacks would count as new.",
            "Name an earlier export of the whole.",
        )
    if database.brought_from is not None and not isinstance(since, Path):
        raise SweepbookError(
            f"{shown(since)} is of revision {database.brought_from} of its schema.",
            "Bring it to the newest first, by an export into it.",
        )


def _refuse_other_jobs(database: Opened, load: Load, since: "Since | None") -> None:
    """Refuse an export of other jobs alone: every link would be new, and none of them gone.

    Raises:
        SweepbookError: the job is not in it.
    """
    if load.job_id in database.jobs or since is None:
        return
    names = [row[0] for row in database.writing.connection.exec_driver_sql(_JOBS)]
    raise SweepbookError(
        f"{shown(since)} holds {listed_jobs(names)}, and this is the job "
        f'"{load.entities.job}": every link of it would count as new.',
        "Name an earlier export of this job, or a day; or leave --since out.",
    )
