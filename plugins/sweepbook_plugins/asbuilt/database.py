"""The format "as-built": a database of links, tests and results that an owner asks questions of."""

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from sweepbook.formats import Format
from sweepbook.hookspecs import hookimpl

if TYPE_CHECKING:
    from sweepbook.delivery import Delivery

_DICTIONARY = ".columns.csv"
"""What the name of the dictionary of columns adds to that of the database."""


@hookimpl
def describe_formats() -> Sequence[Format]:
    """Give the format "as-built"."""
    title = "database (SQLite) of places, links, tests and results, with their history"
    return [
        Format(
            name="as-built", title=title, suffixes=(".sqlite",), write=write, beside=(_DICTIONARY,)
        )
    ]


def write(delivery: "Delivery", target: Path) -> None:
    """Write a delivery into a database, one walk over the entries.

    A database that is there is added to: what it has of the same job is brought up to date, and
    tests that it has stay. Beside it the dictionary of its columns is written, as CSV.

    Raises:
        SweepbookError: the target is no database of this kind and revision, or cannot be written.
    """
    from sweepbook import files
    from sweepbook_plugins.asbuilt import schema as asbuilt_schema
    from sweepbook_plugins.asbuilt.load import Load
    from sweepbook_plugins.asbuilt.opening import opened
    from sweepbook_plugins.asbuilt.tables import dictionary_csv

    schema = asbuilt_schema.load()
    with opened(target, schema) as (writing, fresh):
        Load(writing, delivery, schema, fresh).run()
    files.write_bytes(target.with_name(target.name + _DICTIONARY), dictionary_csv(schema))
