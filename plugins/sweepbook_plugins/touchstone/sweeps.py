"""The format "touchstone": S-parameters of a link as Touchstone files, read by a dialect.

The format is the open specification of the IBIS Open Forum: Touchstone 1.0, 1.1 and 2.0. Its text
was not at hand; what is said of it here is recalled, and held against scikit-rf in the tests.
"""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from sweepbook.formats import Format
from sweepbook.hookspecs import hookimpl

if TYPE_CHECKING:
    from sweepbook.dialect.model import Dialect
    from sweepbook.dialect.raw import RawTest
    from sweepbook.draft.document import Table
    from sweepbook.errors import ReadProblem
    from sweepbook.formats import Claim, ReadSetting
    from sweepbook.limits.library import Library
    from sweepbook.record.model import Record
    from sweepbook.source import Source

SUFFIXES = (".ts", *(f".s{ports}p" for ports in (2, 4, 8, 16)))


@hookimpl
def describe_formats() -> Sequence[Format]:
    """Give the format "touchstone"."""
    return [
        Format(
            name="touchstone",
            title="S-parameters of a link as Touchstone 1.0, 1.1 or 2.0, read by a dialect",
            suffixes=SUFFIXES,
            identify=claims,
            read=read,
            check_dialect=check_dialect,
            texts=texts,
            draft=draft,
        )
    ]


def claims(source: "Source", setting: "ReadSetting") -> "Iterator[Claim]":
    """Say whether it is such a file, and which dialects fit; see `identify.claims`."""
    from sweepbook_plugins.touchstone import identify

    return identify.claims(source, setting)


def read(source: "Source", setting: "ReadSetting") -> "Iterator[Record | ReadProblem]":
    """Read a file by a dialect: the one given, else the one that fits best.

    Raises:
        SweepbookError: no dialect was given, and none or several fit.
        BadDialect: the dialect cannot be used.
        UnreadableSource: the file cannot be opened, and no dialect was given.
    """
    from sweepbook.dialect import reading
    from sweepbook_plugins.touchstone.identify import FORMAT
    from sweepbook_plugins.touchstone.reading import tests

    dialect = reading.chosen(source, setting, FORMAT, claims(source, setting))
    yield from reading.read(source, setting, dialect, tests)


def check_dialect(dialect: "Dialect") -> None:
    """Look at the reader's half of a dialect, its port map included.

    Raises:
        BadDialect: it cannot be used.
    """
    from sweepbook_plugins.touchstone.layout import layout_of

    layout_of(dialect)


def texts(source: "Source", dialect: "Dialect") -> "Iterator[RawTest]":
    """The test of a file as a reader's own half; see `reading.tests`."""
    from sweepbook_plugins.touchstone.reading import tests

    return tests(source, dialect)


def draft(sources: "Sequence[Source]", limits: "Library") -> "Sequence[Table] | None":
    """Work out a dialect from examples; see `drafting.draft`.

    Raises:
        SweepbookError: the files are Touchstone, and cannot be read or are not of one kind.
    """
    from sweepbook.dialect.raw import Fault
    from sweepbook.errors import SweepbookError
    from sweepbook_plugins.touchstone import drafting

    try:
        return drafting.draft(sources, limits)
    except Fault as fault:
        names = ", ".join(source.name for source in sources)
        raise SweepbookError(f"{names}: {fault}.", "Mend the file, or leave it out.") from fault
