"""The format "as-built": a database of links, tests and results that an owner asks questions of."""

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from sweepbook.formats import Format
from sweepbook.hookspecs import hookimpl
from sweepbook_plugins.asbuilt import DICTIONARY, TAKE_IN

if TYPE_CHECKING:
    from sweepbook.database_url import DatabaseUrl
    from sweepbook.delivery import Delivery
    from sweepbook_plugins.asbuilt.opening import Place
    from sweepbook_plugins.asbuilt.schema import Schema


@hookimpl
def describe_formats() -> Sequence[Format]:
    """Give the format "as-built"."""
    title = "database (SQLite, PostgreSQL) of places, links, tests and results, with their history"
    return [
        Format(
            name="as-built",
            title=title,
            suffixes=(".sqlite",),
            write=write,
            write_url=write_url,
            url_schemes=("postgresql",),
            takes=("since", "mapping", "margins"),
            beside=(DICTIONARY, TAKE_IN),
        )
    ]


def write(delivery: "Delivery", target: Path) -> None:
    """Write a delivery into a SQLite file, one walk over the entries.

    A database that is there is added to: what it has of the same job is brought up to date, and
    tests that it has stay. Beside it the dictionary of its columns is written, as CSV. Asked for
    what changed, a new database of that is written; with a mapping, an owner's own tables.

    Raises:
        SweepbookError: the target is no database of this kind that can be used, or cannot be
            written.
    """
    from sweepbook import files
    from sweepbook_plugins.asbuilt.tables import dictionary_csv

    fitted = _put(delivery, target)
    if "mapping" not in delivery.asked:
        beside = target.with_name(target.name + DICTIONARY)
        files.write_bytes(beside, dictionary_csv(fitted))


def write_url(delivery: "Delivery", url: "DatabaseUrl") -> None:
    """Write a delivery into a PostgreSQL database, in the same way; it has its own dictionary.

    Raises:
        SweepbookError: it cannot be reached or written, or is no database of this kind.
    """
    _put(delivery, url)


def _put(delivery: "Delivery", place: "Place") -> "Schema":
    """Write what was asked for; the schema, with questions that name what is in the database."""
    from sweepbook_plugins.asbuilt import delta, mapping, owners
    from sweepbook_plugins.asbuilt import schema as asbuilt_schema
    from sweepbook_plugins.asbuilt.since import since_of

    schema, asked = asbuilt_schema.load(), delivery.asked
    since = since_of(asked["since"]) if "since" in asked else None
    if "mapping" in asked:
        wanted = mapping.load(Path(asked["mapping"]), schema)
        owners.write(delivery, place, schema, wanted, since)
        return schema
    if since is not None:
        return delta.write(delivery, place, schema, since)
    return _put_whole(delivery, place, schema)


def _put_whole(delivery: "Delivery", place: "Place", schema: "Schema") -> "Schema":
    from sweepbook_plugins.asbuilt.examples import fitted
    from sweepbook_plugins.asbuilt.load import Load
    from sweepbook_plugins.asbuilt.opening import opened
    from sweepbook_plugins.asbuilt.remarks import of_jobs, of_revision

    with opened(place, schema) as database:
        load = Load(database.writing, delivery, schema, database.fresh)
        load.run()
        said = [*of_revision(database, schema), *of_jobs(database, load.job_id)]
        asked = fitted(database.writing.connection, schema)
    delivery.remarks.extend(said)
    return asked
