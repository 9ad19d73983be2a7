"""The reader's half of a dialect for XML: which elements hold what."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

from sweepbook_plugins.xml.paths import Names, Path


@dataclass(frozen=True)
class NameForm:
    """Texts that together name an element: path from the element, and templates of its text."""

    sources: tuple[tuple[str, Path, tuple[str, ...]], ...]


@dataclass(frozen=True)
class RunForm:
    """Runs of an axis: elements that hold start, step and count, or start, step and stop."""

    path: Path
    start: Path
    step: Path
    count: Path | None
    stop: Path | None


@dataclass(frozen=True)
class ListForm:
    """A list of numbers: in one text, or one element each, or as runs."""

    text: Path | None = None
    point: Path | None = None
    run: RunForm | None = None
    separator: str | None = None


@dataclass(frozen=True)
class SampleForm:
    """How a frequency and its value stand in one piece of a list.

    Attributes:
        text: as the dialect has it: "{frequency}:{value}", or the other way round.
        between: what stands between the two.
        turned: whether the value comes first.
    """

    text: str
    between: str
    turned: bool


@dataclass(frozen=True)
class AxisForm:
    """Elements that hold frequencies which curves share.

    Attributes:
        path: of the elements.
        name: path of the text that curves call an axis by; None where they call it by none.
        frequencies: how they are written.
        of: what tells of which curves an axis is; None where it is of all that name no other.
    """

    path: Path
    name: Path | None
    frequencies: ListForm
    of: NameForm | None = None


@dataclass(frozen=True)
class PointForm:
    """Elements with one point of a curve; without `frequency` the axis has it.

    `ignored` are the attributes of points that mean nothing.
    """

    path: Path
    frequency: Path | None
    value: Path
    ignored: frozenset[Path] = frozenset()


@dataclass(frozen=True, eq=False)
class Held:
    """What the rows of a table may hold.

    Attributes:
        columns: what names each column, by its path from a row.
        ignored: paths from a row of what means nothing.
    """

    columns: Mapping[Path, str] = field(default_factory=dict)
    ignored: frozenset[Path] = frozenset()


class Called(NamedTuple):
    """How the cells of a row are found by what their columns are called.

    Attributes:
        name: path, from the element of a title, of the name of its cells.
        cells: path, from a row, of a cell, {} standing for that name.
    """

    name: Path
    cells: str


@dataclass(frozen=True)
class TitlesForm:
    """How rows are written whose columns are titled elsewhere in the element of the table.

    Attributes:
        path: from the table, of elements with a title each, or of a text with all of them.
        texts: paths, from such an element, of texts that make up its title; () for its own text.
        cells: path, from a row, of elements with a cell each, or of its own attribute with all of
            them; None where its text has.
        separator: what parts such texts; None for blanks.
        frequency: title of the axis, or "".
        axis: path of an attribute of a row with its frequency; None where a column has it.
        others: titles of columns that are neither curves nor figures.
        where: table of the dialect that says so, for messages.
        called: how cells are found by name; None where they stand in the order of the titles.
        names: the namespaces of the paths of such cells.
    """

    path: Path
    texts: tuple[Path, ...]
    cells: Path | None
    separator: str | None
    frequency: str
    axis: Path | None
    others: frozenset[str]
    where: str
    called: Called | None = None
    names: Names = field(default_factory=Names, compare=False)


@dataclass(frozen=True)
class TableForm:
    """Elements with one point each of several curves, as the rows of a table.

    `values` are templates of the paths of the values, each path that of one curve; without
    `frequency` the axis has it. `ignored` are what means nothing in a row; the last steps and the
    attributes of these may be templates. With `titles` the templates are of titles of columns.
    """

    path: Path
    frequency: Path | None
    values: tuple[str, ...]
    ignored: tuple[Path, ...] = ()
    titles: TitlesForm | None = None


@dataclass(frozen=True)
class CurveForm:
    """Elements that hold one curve, or the rows of several."""

    path: Path
    name: NameForm
    point: PointForm | None
    table: TableForm | None
    values: ListForm | None
    axis: Path | None
    frequencies: ListForm | None
    sample: SampleForm | None = None


@dataclass(frozen=True)
class RowForm:
    """Rows of cells below titles that hold single figures.

    Attributes:
        path: of the rows, from the element that holds their titles.
        titles: how their columns are titled.
        name: title of each column whose cells name a row, and templates of these.
        roles: titles of the column with each figure, or templates of such, by role.
        ignored: paths from a row of what means nothing.
    """

    path: Path
    titles: TitlesForm
    name: tuple[tuple[str, tuple[str, ...]], ...]
    roles: Mapping[str, tuple[str, ...]]
    ignored: tuple[Path, ...] = ()


@dataclass(frozen=True)
class FigureForm:
    """Elements that hold single figures: path by role, or rows of them."""

    path: Path
    name: NameForm
    roles: Mapping[str, Path]
    row: RowForm | None = None


@dataclass(frozen=True)
class Layout:
    """Which elements of an export hold what; attributes as in the schema of the layout."""

    names: Names
    test: Path
    number: Path | None
    skip: tuple[Path, ...]
    axes: tuple[AxisForm, ...]
    curves: tuple[CurveForm, ...]
    figures: tuple[FigureForm, ...]
