"""The format "xml": sweeps in XML of any make, read by a dialect."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from sweepbook.dialect.assemble import Assembler
from sweepbook.dialect.model import Dialect
from sweepbook.dialect.raw import RawTest
from sweepbook.errors import ReadProblem, SweepbookError
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
    dialect = setting.dialect or _fitting(source, setting)
    plan = plan_of(dialect)
    assembler = Assembler(source, dialect, setting.limits, FORMAT)
    for item in tests(source, plan):
        if isinstance(item, RawTest):
            yield from assembler.assemble(item)
        else:
            yield ReadProblem(source.name, item.place, item.message, lost_record=False)


def check_dialect(dialect: Dialect) -> None:
    """Look at the reader's half of a dialect, its paths and templates included.

    Raises:
        BadDialect: it cannot be used.
    """
    plan_of(dialect)


def _fitting(source: Source, setting: ReadSetting) -> Dialect:
    """The only dialect with the strongest claim.

    Raises:
        SweepbookError: none or several fit.
    """
    found = list(claims(source, setting))
    strongest = max((claim.strength for claim in found), default=None)
    best = [claim.dialect for claim in found if claim.strength is strongest and claim.dialect]
    if len(best) == 1:
        return best[0]
    names = sorted(
        dialect.name for dialect in (best or setting.dialects.values()) if dialect.format == FORMAT
    )
    how = "several dialects fit" if best else "no dialect fits"
    listed = ", ".join(names) or "there is none; plugins/README.md says how to write one"
    raise SweepbookError(
        f"{source.name}: {how} this file.", f"Name a dialect with --dialect: {listed}."
    )
