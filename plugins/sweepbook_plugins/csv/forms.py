"""What a dialect says of the lines of an export, in memory; attributes as in the schema."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from sweepbook.dialect import names
from sweepbook_plugins.csv.line_marks import TestMarks

Templates = tuple[str, ...]


Titles = tuple[str, ...]
"""Titles that a column may have, or templates of them: one of these must be there."""


FREQUENCY = "{frequency}"
"""Stands for the frequency in titles of columns of which each holds a point of every curve."""

NO_DELIMITER = "\x1f"
"""Stands for the delimiter of files whose cells are aligned by blanks, which have none."""


def is_template(title: str) -> bool:
    """Whether a title of a column stands for several titles."""
    return bool(names.placeholders(title))


def present(wanted: Titles, titles: Sequence[str]) -> int:
    """Position of the first of the wanted titles that is there.

    Raises:
        ValueError: none is.
    """
    for title in wanted:
        if title in titles:
            return titles.index(title)
    raise ValueError(wanted)


@dataclass(frozen=True)
class NameColumns:
    """Columns that together name a row: title and templates of each."""

    columns: tuple[tuple[str, Templates], ...]

    @property
    def titles(self) -> tuple[str, ...]:
        """The titles, in the order of the dialect."""
        return tuple(title for title, _ in self.columns)

    @property
    def templates(self) -> tuple[Templates, ...]:
        """The templates, in the same order."""
        return tuple(templates for _, templates in self.columns)


@dataclass(frozen=True)
class PointForm:
    """Rows with one point of a curve."""

    kinds: frozenset[str]
    name: NameColumns
    frequency: Titles
    value: Titles


@dataclass(frozen=True)
class Run:
    """Titles of columns, or keys, of frequencies in even steps; count and stop may be ""."""

    start: str
    step: str
    count: str = ""
    stop: str = ""


@dataclass(frozen=True)
class CurveForm:
    """Rows with a whole curve.

    Attributes:
        kinds: texts of the column that tells rows apart.
        name: columns that name the curve.
        values: titles with {frequency}, or those of which one is where the values begin; () where
            they begin behind the last title.
        separator: between values in one cell; "" where each has a cell of its own.
        frequency: title, text or key of the frequencies; "" where titles or a run say them.
        run: frequencies in even steps.
        ends_early: whether a row may lack cells at its end.
    """

    kinds: frozenset[str]
    name: NameColumns
    values: Titles = ()
    separator: str = ""
    frequency: str = ""
    run: Run | None = None
    ends_early: bool = False

    @cached_property
    def frequency_titles(self) -> tuple[tuple[str, str], ...]:
        """What stands before and after the frequency in the titles of values."""
        parts = (of.partition(FREQUENCY) for of in self.values if FREQUENCY in of)
        return tuple((before, after) for before, _, after in parts)

    @property
    def begins_at(self) -> Titles:
        """Titles of which one is where the values begin; () where titles are frequencies."""
        return () if self.frequency_titles else self.values


@dataclass(frozen=True)
class FigureForm:
    """Rows with single figures: columns, or templates of columns, by role."""

    kinds: frozenset[str]
    name: NameColumns
    roles: Mapping[str, Titles]


@dataclass(frozen=True)
class PropertyForm:
    """Rows with a key and a text about the test."""

    kinds: frozenset[str]
    key: str
    values: tuple[str, ...]


@dataclass(frozen=True)
class RowsForm:
    """Roles of the rows of a table whose rows say what they hold."""

    test: tuple[str, ...]
    kind: str | None
    point: PointForm | None
    curve: CurveForm | None
    figures: tuple[FigureForm, ...]
    properties: PropertyForm | None
    other_kinds: frozenset[str] = frozenset()
    other_columns: frozenset[str] = frozenset()
    other_names: Templates = ()

    @property
    def named(self) -> list[Titles]:
        """Titles, or templates of them, of every column that has a role."""
        found = [*self.test]
        found += [self.kind] if self.kind is not None else []
        found += self.point.name.titles if self.point else []
        roles = [self.point.frequency, self.point.value] if self.point else []
        if self.curve:
            found += self.curve.name.titles
            roles += [self.curve.begins_at] if self.curve.begins_at else []
        for form in self.figures:
            found += form.name.titles
            roles += form.roles.values()
        if self.properties:
            found += [self.properties.key, *self.properties.values]
        return [*((title,) for title in found), *roles]

    @cached_property
    def titles(self) -> frozenset[str]:
        """The titles that the line of titles must hold."""
        return frozenset(of[0] for of in self.named if len(of) == 1 and not is_template(of[0]))

    @cached_property
    def choices(self) -> frozenset[Titles]:
        """Titles, or templates of them, of each of which one title must be there."""
        return frozenset(of for of in self.named if len(of) > 1 or is_template(of[0]))


@dataclass(frozen=True)
class CurvesForm:
    """Columns of a table with one column a curve, and columns and rows that are none.

    Attributes:
        test: columns that tell tests apart.
        frequency: titles of columns of frequencies, or templates of them.
        name: templates of the titles of curves.
        other_columns: templates of titles of columns that are no curves.
        other_rows: texts in the first column of frequencies on rows that are no points.
        figures: the same of rows that state something of each curve, by role.
    """

    test: tuple[str, ...]
    frequency: Titles
    name: Templates
    other_columns: Templates = ()
    other_rows: frozenset[str] = frozenset()
    figures: Mapping[str, Titles] = field(default_factory=dict)

    @cached_property
    def titles(self) -> frozenset[str]:
        """The titles that the line of titles must hold."""
        alone = len(self.frequency) == 1 and not is_template(self.frequency[0])
        return frozenset([*self.frequency, *self.test] if alone else self.test)

    @cached_property
    def choices(self) -> frozenset[Titles]:
        """Titles of which one must be there; of the curves none, since one may be unknown."""
        return frozenset([self.frequency] if not self.titles.issuperset(self.frequency) else ())

    @cached_property
    def role_of(self) -> Mapping[str, str]:
        """Role of a row by its text in the column of frequencies."""
        return {text: role for role, texts in self.figures.items() for text in texts}

    @cached_property
    def no_points(self) -> frozenset[str]:
        """All texts in the column of frequencies on rows that are no points."""
        return self.other_rows.union(self.role_of)


@dataclass(frozen=True)
class Section:
    """A kind of table, and the heading it stands under.

    Attributes:
        where: its key in the dialect, for messages.
        heading: templates of the heading line; empty for a table that may stand anywhere.
        within: template of the heading around it; "" for none.
        columns: titles where the file has none.
        marks: first cells of its rows, which may stand between those of other such tables; none
            where the rows are told by where they stand.
        frequencies: the last of the columns, from which on rows hold the frequencies of curves in
            rows behind them; "" where they hold none.
        form: how its table is read; None where only key,value lines stand below the heading, or
            where each column of marked rows is a key.
    """

    where: str
    heading: Templates = ()
    within: str = ""
    columns: tuple[str, ...] = ()
    marks: frozenset[str] = frozenset()
    frequencies: str = ""
    form: RowsForm | CurvesForm | None = None

    @cached_property
    def titles(self) -> frozenset[str]:
        """The titles that the line of titles must hold."""
        return self.form.titles.union(self.columns) if self.form else frozenset(self.columns)


@dataclass(frozen=True)
class Layout:
    """How the lines of an export are laid out; attributes as in the schema of the layout."""

    encoding: str = "utf-8"
    delimiter: str = ","
    aligned: str = ""
    quote: str = '"'
    comments: tuple[str, ...] = ()
    skip: frozenset[str] = frozenset()
    signature: tuple[str, ...] = ()
    separators: tuple[str, ...] = ()
    headings: frozenset[str] = frozenset()
    titles: frozenset[str] = frozenset()
    names: frozenset[str] = frozenset()
    upper_titles: frozenset[str] = frozenset()
    transposed: tuple[str, ...] = ()
    titles_again: bool = False
    marks: TestMarks = field(default_factory=TestMarks)
    sections: tuple[Section, ...] = ()

    def parted(self, line: str) -> tuple[str, str] | None:
        """Key and value of a line by the first separator that stands in it, the delimiter aside."""
        apart = (
            line.partition(of) for of in self.separators if of != self.delimiter and of in line
        )
        return next(((key.strip(), value.strip()) for key, _, value in apart), None)

    @property
    def has_tables(self) -> bool:
        """Whether there is any table, rather than headings and key,value lines alone."""
        return any(of.form or of.marks for of in self.sections)
