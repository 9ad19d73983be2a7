"""From the table [xml] of a dialect to its layout, or to what is wrong with it."""

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import lru_cache
from typing import Any, TypeVar

from sweepbook.dialect import names as templates
from sweepbook.dialect import schema_check
from sweepbook.dialect.compile import flatten
from sweepbook.dialect.load import BadDialect
from sweepbook.dialect.model import Dialect
from sweepbook.dialect.words import as_list
from sweepbook_plugins.xml.layout import (
    AxisForm,
    Called,
    CurveForm,
    FigureForm,
    Layout,
    ListForm,
    NameForm,
    PointForm,
    RowForm,
    RunForm,
    TableForm,
    TitlesForm,
)
from sweepbook_plugins.xml.paths import Names, Path, parse
from sweepbook_plugins.xml.samples import form_of

SCHEMA = "xml-layout-0.schema.json"

_Part = TypeVar("_Part")
_INDEX = re.compile(r"\[[0-9]+\]")
_ROW = ("path", "titles", "cells", "separator", "other_columns", "name")
"""Keys of rows of figures that are no roles."""
NO_PATH = Path(False, 0, (), None)
_ONE_PATH = (
    "is one path, and no template of several, so that nothing would be found; where the figures of "
    "several pairs stand in one element,"
)
NO_TEMPLATE = (
    "is one path, or a template of paths, or a list of such templates where each point holds the "
    "values of several curves"
)


@lru_cache(maxsize=64)
def layout_of(dialect: Dialect) -> Layout:
    """The layout that a dialect declares.

    Raises:
        BadDialect: the table [xml] breaks its schema, or a path or template cannot be read.
    """
    table = dialect.layout
    found = schema_check.problems(table, SCHEMA, "xml")
    if not found:
        builder = _Builder(Names(table.get("namespace", ""), dict(table.get("namespaces", {}))))
        layout = builder.layout(table)
        found = builder.problems
        if not found:
            return layout
    raise BadDialect(dialect.where or dialect.name, found)


class _Builder:
    """Turns the plain table into forms, and notes what cannot be read."""

    def __init__(self, names: Names) -> None:
        self.names = names
        self.problems: list[str] = []
        self.skip: tuple[Path, ...] = ()
        self.of_test: Sequence[str] = ()

    def layout(self, table: Mapping[str, Any]) -> Layout:
        """All of the table."""
        test = self.path("xml.test", table["test"])
        if not test.absolute or test.attribute is not None or not test.steps:
            self.problems.append('xml.test: write the path from the root: "/report/test"')
        elif any(condition.kind != "@" for step in test.steps for condition in step.conditions):
            self.problems.append("xml.test: elements here are chosen by attributes only")
        self.of_test = self.placeholders("xml.test", [step.local for step in test.steps])
        self.skip = tuple(self.path("xml.skip", text) for text in as_list(table.get("skip", [])))
        return Layout(
            names=self.names,
            test=test,
            number=self.maybe("xml.number", table.get("number")),
            skip=self.skip,
            axes=self.each("xml.axes", table.get("axes", ()), self.axis),
            curves=self.each("xml.curves", table.get("curves", ()), self.curve),
            figures=self.each("xml.figures", table.get("figures", ()), self.figure),
        )

    def each(
        self,
        key: str,
        tables: Sequence[Mapping[str, Any]],
        make: Callable[[str, Mapping[str, Any]], _Part],
    ) -> tuple[_Part, ...]:
        """Every table of a list, called by its position counted from 1."""
        return tuple(make(f"{key}[{at}]", table) for at, table in enumerate(tables, 1))

    def path(self, key: str, text: str, *, refers: bool = False) -> Path:
        """A path; one that cannot be read becomes a problem."""
        try:
            return parse(text, self.names, refers=refers)
        except ValueError as error:
            self.problems.append(f"{key}: {error}")
            return NO_PATH

    def maybe(self, key: str, text: str | None) -> Path | None:
        """A path that may be left out."""
        return None if text is None else self.path(key, text)

    def below(self, key: str, text: str) -> Path:
        """The path of elements inside a test."""
        path = self.path(key, text)
        if path.absolute or path.up or path.attribute is not None:
            self.problems.append(f"{key}: {text!r} must lead from the test down to an element")
        return path

    def axis(self, key: str, table: Mapping[str, Any]) -> AxisForm:
        """One kind of shared axes."""
        if {"id", "name"} <= table.keys():
            self.problems.append(
                f"{key}: `id` and `name` both say whose the axis is; keep `id` where curves have a "
                "text that names their axis, and `name` where the axis says which curves it is of"
            )
        return AxisForm(
            self.path(f"{key}.path", table["path"]),
            self.maybe(f"{key}.id", table.get("id")),
            self.numbers(key, table),
            self.name(f"{key}.name", table) if "name" in table else None,
        )

    def numbers(self, key: str, table: Mapping[str, Any], name: str = "list") -> ListForm:
        """A list of numbers in one of its three forms."""
        run = table.get("run")
        point = table.get("point")
        return ListForm(
            text=self.maybe(f"{key}.{name}", table.get(name)),
            point=self.maybe(f"{key}.point", point) if isinstance(point, str) else None,
            run=self.run(f"{key}.run", run) if run else None,
            separator=table.get("separator"),
        )

    def run(self, key: str, table: Mapping[str, Any]) -> RunForm:
        """How runs are written."""
        return RunForm(
            self.path(f"{key}.path", table.get("path", ".")),
            self.path(f"{key}.start", table["start"]),
            self.path(f"{key}.step", table["step"]),
            self.maybe(f"{key}.count", table.get("count")),
            self.maybe(f"{key}.stop", table.get("stop")),
        )

    def curve(self, key: str, table: Mapping[str, Any]) -> CurveForm:
        """One kind of curves."""
        point = table.get("point")
        rows = point is not None and (
            "titles" in point or any("{" in of for of in as_list(point["value"]))
        )
        path = self.below(f"{key}.path", table["path"])
        own = "frequency" in table or "run" in table
        return CurveForm(
            path=path,
            name=self.name(f"{key}.name", table),
            point=self.point(f"{key}.point", point, path) if point and not rows else None,
            table=self.rows(f"{key}.point", point, path) if point and rows else None,
            values=self.numbers(key, {**table, "run": None}, "values")
            if "values" in table
            else None,
            axis=self.maybe(f"{key}.axis", table.get("axis")),
            frequencies=self.numbers(key, {**table, "point": None}, "frequency") if own else None,
            sample=form_of(table["sample"]) if "sample" in table else None,
        )

    def point(self, key: str, table: Mapping[str, Any], curve: Path) -> PointForm:
        """How points are written."""
        path, frequency, ignored = self.points(key, table, curve)
        if not isinstance(table["value"], str):
            self.problems.append(f"{key}.value: {NO_TEMPLATE}")
            return PointForm(path, frequency, NO_PATH)
        return PointForm(
            path, frequency, self.path(f"{key}.value", table["value"]), frozenset(ignored)
        )

    def rows(self, key: str, table: Mapping[str, Any], curve: Path) -> TableForm:
        """How points of several curves are written."""
        titles = self.titles(key, table) if "titles" in table else None
        told = {**table, "frequency": None} if titles else table
        path, frequency, ignored = self.points(key, told, curve)
        values = tuple(as_list(table["value"]))
        if not all("{" in of for of in values):
            self.problems.append(f"{key}.value: {NO_TEMPLATE}")
        return TableForm(path, frequency, values, ignored, titles)

    def titles(self, key: str, table: Mapping[str, Any]) -> TitlesForm:
        """How columns are titled, and how rows hold their cells."""
        told = table["titles"]
        several = told if isinstance(told, Mapping) else {"path": told}
        path = self.path(f"{key}.titles", several["path"])
        texts = as_list(several.get("texts", []))
        if texts and path.attribute is not None:
            self.problems.append(
                f"{key}.titles.path: the path of elements belongs here, whose texts are `texts`"
            )
        if path.absolute:
            self.problems.append(
                f"{key}.titles: write the path from the element of {_INDEX.sub('', key)}: "
                "'../columns/c'"
            )
        axis = table.get("frequency", "")
        in_row = axis.startswith("@")
        called = self.called(key, table.get("cells", ""), several.get("called"))
        return TitlesForm(
            path,
            tuple(self.path(f"{key}.titles.texts", text) for text in texts),
            None if called else self.maybe(f"{key}.cells", table.get("cells")),
            table.get("separator"),
            "" if in_row else axis,
            self.path(f"{key}.frequency", axis) if in_row else None,
            frozenset(as_list(table.get("other_columns", []))),
            _INDEX.sub("", key),
            called,
            self.names,
        )

    def called(self, key: str, cells: str, name: str | None) -> Called | None:
        """How cells are found by what their columns are called; None where they are not."""
        if name is None:
            if "{" in cells:
                self.problems.append(
                    f'{key}.cells: {cells!r} has a brace; write "{{}}" for the name of a cell, and '
                    "titles = { path, texts, called }, where `called` is the path of that name"
                )
                return Called(NO_PATH, cells)
            return None
        if cells.count("{}") != 1 or "{" in cells.replace("{}", ""):
            self.problems.append(
                f"{key}.cells: with titles.called it is the path of a cell, {{}} in it once where "
                'the name of its column stands: "@{}" for an attribute of the row, "{}" for an '
                "element in it"
            )
        elif len(self.path(f"{key}.cells", cells.replace("{}", "x")).steps) > 1:
            self.problems.append(f"{key}.cells: with titles.called cells stand in the row itself")
        return Called(self.path(f"{key}.titles.called", name), cells)

    def points(
        self, key: str, table: Mapping[str, Any], curve: Path
    ) -> tuple[Path, Path | None, tuple[Path, ...]]:
        """Paths of points, of their frequency, and of what means nothing in them."""
        path = self.below(f"{key}.path", table["path"])
        if not path.steps:
            inner, outer = ("rows", "element") if key.endswith("row") else ("points", "curve")
            self.problems.append(f"{key}.path: {inner} are elements inside the {outer}")
        begin = curve.steps + path.steps
        inside = [of for of in self.skip if not of.absolute and of.steps[: len(begin)] == begin]
        return (
            path,
            self.maybe(f"{key}.frequency", table.get("frequency")),
            tuple(of._replace(steps=of.steps[len(begin) :]) for of in inside),
        )

    def figure(self, key: str, table: Mapping[str, Any]) -> FigureForm:
        """One kind of single figures."""
        roles = {name: of for name, of in table.items() if name not in ("path", "name", "row")}
        path, row = self.below(f"{key}.path", table["path"]), table.get("row")
        self.problems += [
            f'{key}.{role}: {_ONE_PATH} write {role} = "{table["path"]}/{text}" in [figures]'
            for role, text in flatten(roles)
            if isinstance(text, str) and "{" in text
        ]
        return FigureForm(
            path,
            self.name(f"{key}.name", table),
            {role: self.path(f"{key}.{role}", text) for role, text in flatten(roles)},
            self.row(f"{key}.row", row, path) if row else None,
        )

    def row(self, key: str, table: Mapping[str, Any], element: Path) -> RowForm:
        """How rows of cells with figures are written."""
        titles = self.titles(key, table)
        if titles.called:
            self.problems.append(
                f"{key}.titles.called: is for points of curves; of figures name each cell by its "
                'path, such as name = { "@a" = "{pairs}" } and value = "@b" of [[xml.figures]]'
            )
        path, _, ignored = self.points(key, {"path": table["path"]}, element)
        roles = {name: of for name, of in table.items() if name not in _ROW}
        if not roles:
            self.problems.append(f"{key}: says of no column what figure it holds, such as value")
        return RowForm(
            path,
            titles,
            tuple((title, tuple(as_list(of))) for title, of in table.get("name", {}).items()),
            {role: tuple(as_list(of)) for role, of in flatten(roles)},
            ignored,
        )

    def name(self, key: str, table: Mapping[str, Any]) -> NameForm:
        """What names an element: declared texts, and names of elements that are templates."""
        sources = [
            (text, self.path(key, text, refers=True), tuple(as_list(of)))
            for text, of in table.get("name", {}).items()
        ]
        held = [*self.of_test]
        for where, of in (*_templates(table), *((f"name.{text}", of) for text, _, of in sources)):
            held += self.placeholders(f"{key.removesuffix('name')}{where}", of)
        steps = [step.local for step in parse_quietly(table["path"], self.names).steps]
        held += self.placeholders(f"{key.removesuffix('name')}path", steps)
        if "parameter" not in held:
            self.problems.append(f"{key}: nothing holds {{parameter}}")
        return NameForm(tuple(sources))

    def placeholders(self, key: str, texts: Sequence[str]) -> list[str]:
        """What stands in braces in some templates; what may not stand there becomes a problem."""
        faults = {text: templates.check(text) for text in texts if "{" in text}
        self.problems += [f"{key}: {fault}" for fault in faults.values() if fault]
        return [name for text in texts for name in templates.placeholders(text)]


def _templates(table: Mapping[str, Any]) -> Iterator[tuple[str, Sequence[str]]]:
    """Templates of titles, or of paths of values, by the key that has them."""
    yield "point.value", as_list(table.get("point", {}).get("value", ()))
    for key, of in flatten(table.get("row", {})):
        if key.partition(".")[0] not in _ROW or key.startswith("name."):
            yield f"row.{key}", as_list(of)


def parse_quietly(text: str, names: Names) -> Path:
    """A path; an empty one where it cannot be read, which has been said elsewhere."""
    try:
        return parse(text, names)
    except ValueError:
        return NO_PATH
