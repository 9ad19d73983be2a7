"""The reader's half of a dialect for CSV: how the lines of an export are laid out."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from sweepbook.dialect import names, schema_check
from sweepbook.dialect.compile import flatten
from sweepbook.dialect.load import BadDialect
from sweepbook.dialect.model import Dialect
from sweepbook.dialect.names import Namer
from sweepbook.dialect.words import as_list

SCHEMA = "csv-layout-0.schema.json"

Templates = tuple[str, ...]


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
    frequency: str
    value: str


@dataclass(frozen=True)
class FigureForm:
    """Rows with single figures: column by role."""

    kinds: frozenset[str]
    name: NameColumns
    roles: Mapping[str, str]


@dataclass(frozen=True)
class PropertyForm:
    """Rows with a key and a text about the test."""

    kinds: frozenset[str]
    key: str
    values: tuple[str, ...]


@dataclass(frozen=True)
class RowsForm:
    """Roles of rows in a file with one row a point."""

    test: tuple[str, ...]
    kind: str | None
    point: PointForm
    figures: tuple[FigureForm, ...]
    properties: PropertyForm | None

    @property
    def titles(self) -> frozenset[str]:
        """Every column that has a role."""
        found = [*self.test, self.point.frequency, self.point.value, *self.point.name.titles]
        found += [self.kind] if self.kind is not None else []
        for form in self.figures:
            found += [*form.name.titles, *form.roles.values()]
        if self.properties:
            found += [self.properties.key, *self.properties.values]
        return frozenset(found)


@dataclass(frozen=True)
class CurvesForm:
    """Columns of a file with one column a curve."""

    frequency: str
    name: Templates


@dataclass(frozen=True)
class Layout:
    """How the lines of an export are laid out; attributes as in the schema of the layout."""

    encoding: str
    delimiter: str
    quote: str
    comment: str | None
    skip: frozenset[str]
    signature: tuple[str, ...]
    columns: tuple[str, ...]
    separator: str | None
    headings: frozenset[str]
    rows: RowsForm | None
    curves: CurvesForm | None

    def is_titles(self, cells: Iterable[str]) -> bool:
        """Whether these stripped cells are the line of titles."""
        if self.rows:
            return self.rows.titles.issubset(cells)
        return self.curves is not None and self.curves.frequency in set(cells)


@lru_cache(maxsize=64)
def layout_of(dialect: Dialect) -> Layout:
    """The layout that a dialect declares.

    Raises:
        BadDialect: the table [csv] breaks its schema, or a template cannot be read.
    """
    table = dialect.layout
    found = schema_check.problems(table, SCHEMA, "csv")
    if not found:
        layout = _build(table)
        found = _contradictions(layout)
    if found:
        raise BadDialect(dialect.where or dialect.name, found)
    return layout


@lru_cache(maxsize=64)
def curve_namer(dialect: Dialect) -> Namer | None:
    """What looks up the titles of curves; None for a layout without such titles.

    Raises:
        BadDialect: the dialect cannot be used.
    """
    layout = layout_of(dialect)
    return Namer([layout.curves.name], dialect.meaning.grammar) if layout.curves else None


def _build(table: Mapping[str, Any]) -> Layout:
    preamble = table.get("preamble", {})
    curves = table.get("curves")
    return Layout(
        encoding=table.get("encoding", "utf-8"),
        delimiter=table.get("delimiter", ","),
        quote=table.get("quote", '"'),
        comment=table.get("comment"),
        skip=frozenset(table.get("skip", ())),
        signature=tuple(as_list(table.get("signature", []))),
        columns=tuple(table.get("columns", ())),
        separator=preamble.get("separator"),
        headings=frozenset(preamble.get("headings", ())),
        rows=_rows(table["rows"]) if "rows" in table else None,
        curves=CurvesForm(curves["frequency"], tuple(as_list(curves["name"]))) if curves else None,
    )


def _rows(table: Mapping[str, Any]) -> RowsForm:
    point = table["point"]
    own = table.get("property")
    return RowsForm(
        test=tuple(as_list(table.get("test", []))),
        kind=table.get("kind"),
        point=PointForm(_kinds(point), _names(point), point["frequency"], point["value"]),
        figures=tuple(_figures(form) for form in table.get("figures", ())),
        properties=PropertyForm(_kinds(own), own["key"], tuple(as_list(own["value"])))
        if own
        else None,
    )


def _figures(table: Mapping[str, Any]) -> FigureForm:
    roles = dict(flatten({name: of for name, of in table.items() if name not in ("kind", "name")}))
    return FigureForm(_kinds(table), _names(table), roles)


def _kinds(table: Mapping[str, Any]) -> frozenset[str]:
    return frozenset(as_list(table.get("kind", [])))


def _names(table: Mapping[str, Any]) -> NameColumns:
    return NameColumns(
        tuple((title, tuple(as_list(templates))) for title, templates in table["name"].items())
    )


def _contradictions(layout: Layout) -> list[str]:
    """What the schema cannot say: bad templates, kinds without a column, marks that clash."""
    found = []
    if layout.quote == layout.delimiter:
        found.append("csv.quote: is the delimiter as well")
    rows = layout.rows
    named = [("csv.curves.name", layout.curves.name)] if layout.curves else []
    if rows:
        forms = [("point", rows.point.name), *(("figures", form.name) for form in rows.figures)]
        for where, form in forms:
            named += [(f"csv.rows.{where}.name.{title}", of) for title, of in form.columns]
            held = {
                name for of in form.templates for text in of for name in names.placeholders(text)
            }
            if "parameter" not in held:
                found.append(f"csv.rows.{where}.name: no column holds {{parameter}}")
        found += _kind_faults(rows)
        unknown = sorted(rows.titles - set(layout.columns)) if layout.columns else []
        if unknown:
            found.append(f"csv.columns: lacks {', '.join(map(repr, unknown))}, named in csv.rows")
    for key, templates in named:
        found += [f"{key}: {fault}" for of in templates if (fault := names.check(of))]
    if layout.curves and not any("{parameter}" in of for of in layout.curves.name):
        found.append("csv.curves.name: no template holds {parameter}")
    return found


def _kind_faults(rows: RowsForm) -> list[str]:
    forms = [("point", rows.point.kinds), *(("figures", form.kinds) for form in rows.figures)]
    forms += [("property", rows.properties.kinds)] if rows.properties else []
    if rows.kind is None:
        return [
            f"csv.rows.{name}.kind: names a kind of row, but csv.rows.kind names no column"
            for name, kinds in forms
            if kinds
        ]
    return [
        f"csv.rows.{name}.kind: is missing, since csv.rows.kind names a column"
        for name, kinds in forms
        if not kinds
    ]
