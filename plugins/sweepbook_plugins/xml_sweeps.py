"""The format "xml": sweeps in XML of any make, read by a dialect."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from sweepbook.dialect import reading
from sweepbook.dialect.model import Dialect
from sweepbook.errors import ReadProblem
from sweepbook.formats import Format, ReadSetting
from sweepbook.hookspecs import hookimpl
from sweepbook.source import Source
from sweepbook_plugins.xml_identify import FORMAT, claims
from sweepbook_plugins.xml_plan import plan_of
from sweepbook_plugins.xml_tests import tests

if TYPE_CHECKING:
    from sweepbook.record.model import Record


@hookimpl
def describe_formats() -> Sequence[Format]:
    """Give the format "xml"."""
    return [
        Format(
            name=FORMAT,
            title="sweeps as XML of any make, read by a dialect",
            suffixes=(".xml", ".xml.gz"),
            identify=claims,
            read=read,
            check_dialect=check_dialect,
        )
    ]


def read(source: Source, setting: ReadSetting) -> "Iterator[Record | ReadProblem]":
    """Read a file by a dialect: the one given, else the one that fits best.

    Raises:
        SweepbookError: no dialect was given, and none or several fit.
        BadDialect: the dialect cannot be used.
        UnreadableSource: the file cannot be opened, and no dialect was given.
    """
    dialect = reading.chosen(source, setting, FORMAT, claims(source, setting))
    yield from reading.read(source, setting, dialect, lambda of, by: tests(of, plan_of(by)))


def check_dialect(dialect: Dialect) -> None:
    """Look at the reader's half of a dialect, its paths and templates included.

    Raises:
        BadDialect: it cannot be used.
    """
    plan_of(dialect)
