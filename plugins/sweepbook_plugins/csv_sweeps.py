"""The format "csv": sweeps in text tables of any make, read by a dialect."""

from collections.abc import Iterator, Sequence
from itertools import chain
from typing import TYPE_CHECKING

from sweepbook.dialect import reading
from sweepbook.dialect.load import BadDialect
from sweepbook.dialect.model import Dialect
from sweepbook.dialect.names import Namer
from sweepbook.dialect.raw import Fault, RawTest
from sweepbook.dialect.words import Ambiguous
from sweepbook.errors import ReadProblem
from sweepbook.formats import Format, ReadSetting
from sweepbook.hookspecs import hookimpl
from sweepbook.source import Source, UnreadableSource
from sweepbook_plugins import csv_curves, csv_preamble
from sweepbook_plugins.csv_identify import FORMAT, claims
from sweepbook_plugins.csv_layout import Layout, curve_namer, layout_of
from sweepbook_plugins.csv_lines import Block, EncodingFault, blocks
from sweepbook_plugins.csv_points import Columns
from sweepbook_plugins.csv_preamble import Preamble
from sweepbook_plugins.csv_tests import Tests, broken_off

if TYPE_CHECKING:
    from sweepbook.record.model import Record


@hookimpl
def describe_formats() -> Sequence[Format]:
    """Give the format "csv"."""
    return [
        Format(
            name=FORMAT,
            title="sweeps as text tables of any make, read by a dialect",
            suffixes=(".csv", ".txt", ".csv.gz"),
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
    yield from reading.read(source, setting, dialect, _tests)


def check_dialect(dialect: Dialect) -> None:
    """Look at the reader's half of a dialect, its templates included.

    Raises:
        BadDialect: it cannot be used.
    """
    layout = layout_of(dialect)
    named = [("csv.curves.name", [layout.curves.name])] if layout.curves else []
    if layout.rows:
        forms = [layout.rows.point.name, *(form.name for form in layout.rows.figures)]
        named += [("csv.rows", list(form.templates)) for form in forms]
    for key, columns in named:
        try:
            Namer(columns, dialect.meaning.grammar)
        except (Ambiguous, ValueError) as error:
            raise BadDialect(dialect.where or dialect.name, [f"{key}: {error}"]) from error


def _tests(source: Source, dialect: Dialect) -> Iterator[RawTest | Fault]:
    """The tests of the file as texts, and notes about the file as a whole."""
    layout = layout_of(dialect)
    lines = blocks(source, layout)
    preamble = Preamble()
    try:
        preamble, rest = csv_preamble.read(lines, layout, dialect.meaning)
    except (EncodingFault, UnreadableSource) as error:
        yield RawTest("", faults=[broken_off(error)])
        return
    if not preamble.found or rest is None:
        reason = Fault("", csv_preamble.not_found(layout))
        yield RawTest("", faults=[reason, *preamble.faults])
        return
    yield from preamble.notes
    yield from _rows(preamble, chain([rest], lines), layout, dialect)


def _rows(
    preamble: Preamble, lines: Iterator[Block], layout: Layout, dialect: Dialect
) -> Iterator[RawTest]:
    """The tests below the titles."""
    namer = curve_namer(dialect)
    if layout.curves is not None and namer is not None:
        try:
            decimal = dialect.meaning.numbers.notation.decimal
            yield csv_curves.read(preamble, lines, layout.curves.frequency, namer, decimal)
        except (EncodingFault, UnreadableSource) as error:
            yield RawTest("", faults=[broken_off(error)])
        return
    if layout.rows is None:
        return
    shared = RawTest("", dict(preamble.properties), faults=list(preamble.faults))
    columns = Columns(layout.rows, preamble.titles, dialect.meaning)
    any_test = False
    for test in Tests(columns, layout, shared).walk(lines):
        any_test = True
        yield test
    if not any_test:
        yield RawTest("", faults=[Fault("", "there are titles but no rows below them")])
