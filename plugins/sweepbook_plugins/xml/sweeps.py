"""The format "xml": sweeps in XML of any make, read by a dialect."""

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
    """Give the format "xml"."""
    return [
        Format(
            name="xml",
            title="sweeps as XML of any make, read by a dialect",
            suffixes=(".xml", ".xml.gz"),
            identify=claims,
            read=read,
            check_dialect=check_dialect,
            texts=texts,
            draft=_draft,
            offer=offer,
        )
    ]


def claims(source: "Source", setting: "ReadSetting") -> "Iterator[Claim]":
    """Say which dialects fit; see `xml_identify.claims`."""
    from sweepbook_plugins.xml import identify as xml_identify

    return xml_identify.claims(source, setting)


def read(source: "Source", setting: "ReadSetting") -> "Iterator[Record | ReadProblem]":
    """Read a file by a dialect: the one given, else the one that fits best.

    Raises:
        SweepbookError: no dialect was given, and none or several fit.
        BadDialect: the dialect cannot be used.
        UnreadableSource: the file cannot be opened, and no dialect was given.
    """
    from sweepbook.dialect import reading
    from sweepbook_plugins.xml.identify import FORMAT

    dialect = reading.chosen(source, setting, FORMAT, claims(source, setting))
    yield from reading.read(source, setting, dialect, texts)


def texts(source: "Source", dialect: "Dialect") -> "Iterator[RawTest | Fault]":
    """The tests of a file as texts, and notes about the file as a whole."""
    from sweepbook_plugins.xml.plan import plan_of
    from sweepbook_plugins.xml.tests import tests

    return tests(source, plan_of(dialect))


def check_dialect(dialect: "Dialect") -> None:
    """Look at the reader's half of a dialect, its paths and templates included.

    Raises:
        BadDialect: it cannot be used.
    """
    from sweepbook_plugins.xml.plan import plan_of

    plan_of(dialect)


def _draft(sources: "Sequence[Source]", limits: "Library") -> "Sequence[Table] | None":
    from sweepbook_plugins.xml.draft.drafting import draft

    return draft(sources, limits)


def offer(dialect: "Dialect", key: str, role: str, of_parameter: bool) -> tuple[str, str]:
    """Say what takes a figure from a key of `extra`; see `offers.offer`."""
    from sweepbook_plugins.xml import offers

    return offers.offer(dialect, key, role, of_parameter)
