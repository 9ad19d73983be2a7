"""Files of the format "csv" to records, by the dialect given or the one that fits best."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from sweepbook.dialect import reading
from sweepbook.dialect.load import BadDialect
from sweepbook.dialect.model import Dialect
from sweepbook.dialect.raw import Fault, RawTest
from sweepbook.dialect.words import Ambiguous
from sweepbook.errors import ReadProblem
from sweepbook.formats import ReadSetting
from sweepbook.source import Source
from sweepbook_plugins.csv import parts, turned
from sweepbook_plugins.csv.aligned import Cutter
from sweepbook_plugins.csv.bounds import Bounded
from sweepbook_plugins.csv.forms import CurvesForm, Section, Templates, is_template
from sweepbook_plugins.csv.identify import FORMAT, claims
from sweepbook_plugins.csv.layout import layout_of
from sweepbook_plugins.csv.line_marks import NUMBER
from sweepbook_plugins.csv.lines import blocks
from sweepbook_plugins.csv.names import names_of
from sweepbook_plugins.csv.several_cells import Splitter
from sweepbook_plugins.csv.walk import Walker

if TYPE_CHECKING:
    from sweepbook.record.model import Record


def read(source: Source, setting: ReadSetting) -> "Iterator[Record | ReadProblem]":
    """Read a file by a dialect: the one given, else the one that fits best.

    Raises:
        SweepbookError: no dialect was given, and none or several fit.
        BadDialect: the dialect cannot be used.
        UnreadableSource: the file cannot be opened, and no dialect was given.
    """
    dialect = reading.chosen(source, setting, FORMAT, claims(source, setting))
    yield from reading.read(source, setting, dialect, texts)


def check_dialect(dialect: Dialect) -> None:
    """Look at the reader's half of a dialect, its templates included.

    Raises:
        BadDialect: it cannot be used.
    """
    names, form = names_of(dialect), dialect.join.form if dialect.join else None
    file = (form.templates,) if form else ()
    for section in layout_of(dialect).sections:
        for key, columns in _named(section, file):
            try:
                names.namer(columns)
            except (Ambiguous, ValueError) as error:
                raise BadDialect(dialect.where or dialect.name, [f"{key}: {error}"]) from error


def _named(
    section: Section, file: tuple[Templates, ...]
) -> Iterator[tuple[str, tuple[Templates, ...]]]:
    """Key and templates of everything that a section names, with those of the file's name."""
    around = (*file, section.heading) if section.heading else file
    if section.heading:
        yield f"{section.where}.heading", around
    if isinstance(section.form, CurvesForm):
        yield f"{section.where}.curves.name", (*around, section.form.name)
        if axes := tuple(
            of for of in section.form.frequency if is_template(of) and NUMBER not in of
        ):
            yield f"{section.where}.curves.frequency", (*around, axes)
    elif section.form:
        point = section.form.point
        forms = [(point.name, [point.value])] if point else []
        forms += [(section.form.curve.name, [])] if section.form.curve else []
        forms += [(form.name, [*form.roles.values()]) for form in section.form.figures]
        for form, roles in forms:
            yield f"{section.where}.rows", (*around, *form.templates)
            for titles in roles:
                if any(map(is_template, titles)):
                    yield f"{section.where}.rows", (*around, *form.templates, titles)


def texts(source: Source, dialect: Dialect) -> Iterator[RawTest | Fault]:
    """The tests of the file as texts, and notes about the file as a whole."""
    layout = layout_of(dialect)
    bounded = Bounded(blocks(source, layout), layout.delimiter)
    lines = bounded.blocks()
    if dialect.part:
        lines = parts.blocks(lines, [dialect.part], layout.delimiter, dialect.part[0])
    elif dialect.join and dialect.join.parts:
        lines = parts.blocks(lines, dialect.join.parts, layout.delimiter)
    if layout.aligned:
        lines = Cutter(layout, names_of(dialect)).blocks(lines)
    if dialect.meaning.several and not layout.transposed:
        lines = Splitter(layout.sections, names_of(dialect)).blocks(lines)
    if layout.transposed:
        lines = turned.blocks(lines, layout)
    for test in Walker(dialect).walk(lines):
        yield turned.told(test) if layout.transposed else test
        bounded.ended()
