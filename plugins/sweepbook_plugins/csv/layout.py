"""The reader's half of a dialect for CSV: how the lines of an export are laid out."""

from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from sweepbook.dialect import schema_check
from sweepbook.dialect.compile import flatten
from sweepbook.dialect.load import BadDialect
from sweepbook.dialect.model import Dialect
from sweepbook.dialect.words import as_list
from sweepbook_plugins.csv.contradictions import contradictions
from sweepbook_plugins.csv.forms import (
    NO_DELIMITER,
    CurveForm,
    CurvesForm,
    FigureForm,
    Layout,
    NameColumns,
    PointForm,
    PropertyForm,
    RowsForm,
    Run,
    Section,
)
from sweepbook_plugins.csv.line_marks import TestMarks, mark_of

SCHEMA = "csv-layout-0.schema.json"


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
        join = dialect.join
        found = contradictions(layout, join.form.forms if join and join.form else ())
    if found:
        raise BadDialect(dialect.where or dialect.name, found)
    return layout


def _build(table: Mapping[str, Any]) -> Layout:
    preamble = table.get("preamble", {})
    aligned = table.get("aligned", "")
    return Layout(
        encoding=table.get("encoding", "utf-8"),
        delimiter=NO_DELIMITER if aligned else table.get("delimiter", ","),
        aligned=aligned,
        quote="" if aligned else table.get("quote", '"'),
        comments=tuple(as_list(table.get("comment", []))),
        skip=frozenset(table.get("skip", ())),
        signature=tuple(as_list(table.get("signature", []))),
        separators=tuple(as_list(preamble.get("separator", []))),
        headings=frozenset(preamble.get("headings", ())),
        titles=frozenset(preamble.get("titles", ())),
        names=frozenset(preamble.get("names", ())),
        upper_titles=frozenset(table.get("upper_titles", ())),
        transposed=tuple(as_list(table.get("transposed", []))),
        titles_again=table.get("titles_again", False),
        marks=_marks(table.get("test", {})),
        sections=_sections(table),
    )


def _marks(table: Mapping[str, Any]) -> TestMarks:
    first, last = (mark_of(table.get(name, "")) for name in ("first_line", "last_line"))
    return TestMarks(first, last, table.get("blank_lines", 0))


def _sections(table: Mapping[str, Any]) -> tuple[Section, ...]:
    """The sections; a layout with one kind of table is a section that may stand anywhere."""
    if table["layout"] == "key-lines":
        return ()
    if "sections" not in table:
        return (_section(table, "csv"),)
    numbered = enumerate(table["sections"])
    return tuple(_section(own, f"csv.sections.{number}") for number, own in numbered)


def _section(table: Mapping[str, Any], where: str) -> Section:
    form: RowsForm | CurvesForm | None = None
    if "curves" in table:
        form = _curves(table["curves"])
    elif "rows" in table:
        form = _rows(table["rows"])
    return Section(
        where,
        heading=tuple(as_list(table.get("heading", []))),
        within=table.get("within", ""),
        columns=tuple(table.get("columns", ())),
        marks=frozenset(as_list(table.get("mark", []))),
        frequencies=table.get("frequencies", ""),
        form=form,
    )


def _curves(table: Mapping[str, Any]) -> CurvesForm:
    return CurvesForm(
        test=tuple(as_list(table.get("test", []))),
        frequency=tuple(as_list(table["frequency"])),
        name=tuple(as_list(table["name"])),
        other_columns=tuple(as_list(table.get("other_columns", []))),
        other_rows=frozenset(as_list(table.get("other_rows", []))),
        figures=_roles(table.get("figures", {})),
    )


def _rows(table: Mapping[str, Any]) -> RowsForm:
    point, curve, own = (table.get(name) for name in ("point", "curve", "property"))
    return RowsForm(
        test=tuple(as_list(table.get("test", []))),
        kind=table.get("kind"),
        point=_point(point) if point else None,
        curve=_curve(curve) if curve is not None else None,
        figures=tuple(_figures(form) for form in table.get("figures", ())),
        properties=PropertyForm(_kinds(own), own["key"], tuple(as_list(own["value"])))
        if own
        else None,
        other_kinds=frozenset(as_list(table.get("other_kinds", []))),
        other_columns=frozenset(as_list(table.get("other_columns", []))),
        other_names=tuple(as_list(table.get("other_names", []))),
    )


def _point(table: Mapping[str, Any]) -> PointForm:
    frequency, value = (tuple(as_list(table[name])) for name in ("frequency", "value"))
    return PointForm(_kinds(table), _names(table), frequency, value)


def _curve(table: Mapping[str, Any]) -> CurveForm:
    run = table.get("run")
    return CurveForm(
        _kinds(table),
        _names(table),
        values=tuple(as_list(table.get("values", []))),
        separator=table.get("separator", ""),
        frequency=table.get("frequency", ""),
        run=Run(**run) if run else None,
        ends_early=table.get("ends_early", False),
    )


def _figures(table: Mapping[str, Any]) -> FigureForm:
    columns = {name: of for name, of in table.items() if name not in ("kind", "name")}
    return FigureForm(_kinds(table), _names(table), _roles(columns))


def _roles(table: Mapping[str, Any]) -> dict[str, tuple[str, ...]]:
    return {role: tuple(as_list(of)) for role, of in flatten(table)}


def _kinds(table: Mapping[str, Any]) -> frozenset[str]:
    return frozenset(as_list(table.get("kind", [])))


def _names(table: Mapping[str, Any]) -> NameColumns:
    named = table.get("name", {}).items()
    return NameColumns(tuple((title, tuple(as_list(templates))) for title, templates in named))
