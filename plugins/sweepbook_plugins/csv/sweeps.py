"""The format "csv": sweeps in text tables of any make, read by a dialect."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from sweepbook.formats import Format
from sweepbook.hookspecs import hookimpl

if TYPE_CHECKING:
    from sweepbook.dialect.model import Dialect
    from sweepbook.dialect.raw import Fault, RawTest
    from sweepbook.draft.document import Table
    from sweepbook.errors import ReadProblem
    from sweepbook.formats import Claim, ReadSetting
    from sweepbook.limits.library import Library
    from sweepbook.record.model import Record
    from sweepbook.source import Source


@hookimpl
def describe_formats() -> Sequence[Format]:
    """Give the format "csv"."""
    return [
        Format(
            name="csv",
            title="sweeps as text tables of any make, read by a dialect",
            suffixes=(".csv", ".txt", ".csv.gz"),
            identify=claims,
            read=read,
            check_dialect=check_dialect,
            texts=texts,
            reads_parts=True,
            draft=draft,
            offer=offer,
        )
    ]


def claims(source: "Source", setting: "ReadSetting") -> "Iterator[Claim]":
    """Say which dialects fit; see `csv_identify.claims`."""
    from sweepbook_plugins.csv import identify as csv_identify

    return csv_identify.claims(source, setting)


def read(source: "Source", setting: "ReadSetting") -> "Iterator[Record | ReadProblem]":
    """Read a file by a dialect; see `reading.read`."""
    from sweepbook_plugins.csv import reading

    return reading.read(source, setting)


def texts(source: "Source", dialect: "Dialect") -> "Iterator[RawTest | Fault]":
    """The tests of a file as texts; see `reading.texts`."""
    from sweepbook_plugins.csv import reading

    return reading.texts(source, dialect)


def check_dialect(dialect: "Dialect") -> None:
    """Look at the reader's half of a dialect; see `reading.check_dialect`."""
    from sweepbook_plugins.csv import reading

    reading.check_dialect(dialect)


def draft(sources: "Sequence[Source]", limits: "Library") -> "Sequence[Table] | None":
    """Work out a dialect from examples; see `drafting.draft`."""
    from sweepbook_plugins.csv.draft import drafting

    return drafting.draft(sources, limits)


def offer(dialect: "Dialect", key: str, role: str, of_parameter: bool) -> tuple[str, str]:
    """Say what takes a figure from a key of `extra`; see `offers.offer`."""
    from sweepbook_plugins.csv import offers

    return offers.offer(dialect, key, role, of_parameter)
