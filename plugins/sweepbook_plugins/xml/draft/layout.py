"""The table `xml` of a draft: the test, axes, and each way that curves are written."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from sweepbook.draft.document import (
    ASSUMED,
    FOUND,
    NAMELESS,
    PARAMETER,
    UNSETTLED,
    UNTOLD,
    Note,
    Table,
    bare,
    one_of,
)
from sweepbook.draft.reading import Understood
from sweepbook_plugins.xml.draft.names import (
    STEP,
    apart,
    blank_too,
    column_slot,
    is_text,
    texts_of,
)
from sweepbook_plugins.xml.draft.shape import Axis, Curve
from sweepbook_plugins.xml.draft.tests import lineage, telling
from sweepbook_plugins.xml.draft.tree import Tree, attributes, chain, local, local_name, text_of

if TYPE_CHECKING:
    from lxml.etree import _Element

_NO_AXIS = (
    "at which frequencies these values are: nothing in the file reads as an axis; name here where "
    "each curve has its own or, as [[xml.axes]], where curves share them"
)
_IDS = ("id", "name", "ref", "key")


def layout_table(tree: Tree, test: "_Element", why: str, where: str = "xml") -> list[Table]:
    """The table `xml` itself, and that of namespaces.

    Args:
        tree: the file.
        test: the element of a test.
        why: what shows that the file holds several of them; "" where it holds one.
        where: name of the table.
    """
    table = Table(f"[{where}]")
    path = "/" + "/".join(tree.name(one) for one in lineage(test))
    note = Note(FOUND, why)
    if not why:
        note = Note(ASSUMED, "the file holds one test, and this element holds all of it")
    table.add("test", path, note)
    if tree.cut:
        table.notes.append(Note(UNTOLD, "what stands behind the first 12 MiB, or behind a break"))
    if tree.spaces.default:
        table.add("namespace", tree.spaces.default)
    if not tree.spaces.prefixes:
        return [table]
    spaces = Table(f"[{where}.namespaces]")
    for uri, prefix in tree.spaces.prefixes.items():
        spaces.add(bare(prefix), uri)
    return [table, spaces]


def axis_tables(
    tree: Tree, axes: Sequence[Axis], tests: "Sequence[_Element]", curves: Sequence[Curve],
    found: Understood,
) -> list[Table]:  # fmt: skip
    """A table `xml.axes` for each path of shared axes.

    What holds curves itself has a name of its own, by which none of them refers to it.
    """
    around = {one for curve in curves for one in curve.element.iterancestors()}
    told = {
        text
        for of in curves
        for name, text in attributes(of.element).items()
        if not tree.names_unit(name)
    }
    made: dict[str, Table] = {}
    for axis in axes:
        test = next((one for one in lineage(axis.element) if one in tests), None)
        inside = test is not None
        line = lineage(axis.element) if test is None else chain(axis.element, test)
        path = "/".join(tree.name(one) for one in line)
        path = (path or ".") if inside else f"/{path}"
        named = _names_of(axis, axes, found)
        if axis.item and not named:
            path += axis.item.chosen
        if path in made:
            continue
        table = made[path] = Table("[[xml.axes]]")
        table.add("path", path)
        if named:
            table.add("name", named)
        if not axis.item and axis.element not in around and (id_ := _id(axis, axes, tests, told)):
            table.add("id", tree.at(id_))
        if axis.run:
            table.add("run", dict(axis.run))
        elif axis.point:
            table.add("point", axis.point)
        else:
            table.add("list", axis.held, Note(FOUND, "", axis.texts))
        if axis.separator:
            table.add("separator", axis.separator)
    return list(made.values())


def _names_of(axis: Axis, axes: Sequence[Axis], found: Understood) -> dict[str, object]:
    """What names the curves that an axis is of, as a table has it: templates by path of a text."""
    if axis.item is None:
        return {}
    keys = dict.fromkeys(of.item.key for of in axes if of.item and of.item.at == axis.item.at)
    parsed = {key: found.naming.parse(key) for key in keys}
    told = dict.fromkeys(part.template for part in parsed.values() if part.parameter)
    return {axis.item.at: one_of(list(told))} if parsed[axis.item.key].parameter else {}


def _id(
    axis: Axis, axes: Sequence[Axis], tests: "Sequence[_Element]", told: Set[str]
) -> str | None:  # fmt: skip
    """The attribute by which the axes of one test are told apart, or curves refer to one of them.

    Args:
        axis: one of them.
        axes: all.
        tests: the elements of tests.
        told: what attributes of curves say.
    """
    axes = [one for one in axes if not set(lineage(one.element)) & set(tests[1:])]
    texts = {name: [one.element.get(name) for one in axes] for name in attributes(axis.element)}
    said = {name: {*filter(None, some)} for name, some in texts.items()}
    meant = {name for name, some in said.items() if some and told >= some}
    words = sorted(texts, key=lambda name: (local(name) not in _IDS, name not in meant))
    several = [name for name in words if local(name) in _IDS or len(axes) > 1 or name in meant]
    return next((name for name in several if len(set(texts[name])) == len(axes)), None)


@dataclass
class _Way:
    """A way in which curves are written.

    Attributes:
        path: of their elements from the test, with what names them as templates.
        curves: written so.
        texts: all that may name each, by path.
        names: templates by path of what does.
    """

    path: str
    curves: list[Curve] = field(default_factory=list)
    texts: list[Mapping[str, str]] = field(default_factory=list)
    names: dict[str, list[str]] = field(default_factory=dict)


def curve_tables(
    tree: Tree, curves: Sequence[Curve], tests: "Sequence[_Element]", axes: Sequence[Axis],
    found: Understood, slots: Sequence[str],
) -> list[Table]:  # fmt: skip
    """A table `xml.curves` for each way that a curve is written."""
    ways = _ways(tree, curves, tests, found, slots)
    paths = list(dict.fromkeys(way.path for way in ways.values()))
    made: dict[str, Table] = {}
    for key, way in ways.items():
        values = _columns(way.curves[0], found)
        templates = [way.path, *values, *(text for some in way.names.values() for text in some)]
        nameless = not any(PARAMETER in text for text in templates)
        shown = _with_parameter(way.path, paths) if nameless else way.path
        notes = [Note(UNTOLD, NAMELESS, paths)] if nameless else []
        table = Table("[[xml.curves]]")
        table.add("path", shown, *notes)
        if way.names:
            told = [
                [of[slot] for slot in of if slot in slots and is_text(slot)] for of in way.texts
            ]
            names = blank_too(way.names, way.texts)
            words = [" ".join(some) for some in told if some]
            table.add(
                "name", {slot: one_of(some) for slot, some in names.items()}, Note(FOUND, "", words)
            )
        _numbers(table, tree, way.curves, axes, values)
        made.setdefault(key.replace(way.path, shown, 1), table)
    return list(made.values())


def _ways(
    tree: Tree, curves: Sequence[Curve], tests: "Sequence[_Element]", found: Understood,
    slots: Sequence[str],
) -> dict[str, _Way]:  # fmt: skip
    """The ways in which curves of tests are written, each by what sets it apart from others."""
    held: list[tuple[Curve, str, Mapping[str, str]]] = []
    for curve in curves:
        test = next((one for one in lineage(curve.element) if one in tests), None)
        if test is not None:
            path = _path(tree, curve, test, slots, found)
            held.append((curve, path, texts_of(tree, curve, test)))
    pairs_apart = apart([texts for *_, texts in held], found, slots)
    ways: dict[str, _Way] = {}
    for curve, path, texts in held:
        key = f"{path} {curve.values} {curve.frequency} {curve.point} {sorted(curve.run)}"
        key += f" {curve.sample}"
        if curve.column and curve.point:
            key = f"{path} {curve.point[:2]} {column_slot(curve)}"
        key += f" {[slot for slot in pairs_apart if slot in texts]}"
        way = ways.setdefault(key, _Way(path))
        way.curves.append(curve)
        way.texts.append(texts)
        for slot in texts:
            templates = [text for text in found.templates.get(slot, []) if "{" in text]
            if slot in slots and is_text(slot) and templates:
                way.names.setdefault(slot, templates)
    return ways


def _columns(curve: Curve, found: Understood) -> list[str]:
    """Templates of the paths of values, where one element holds the points of several curves."""
    if curve.column is None:
        return []
    before, _, behind = curve.column
    templates = [text for text in found.templates.get(column_slot(curve), []) if "{" in text]
    return [f"{before}{template}{behind}" for template in templates or ["{pairs}"]]


def _with_parameter(path: str, paths: Sequence[str]) -> str:
    """A path with a step taken for the parameter: the first that differs, else the last."""
    steps = [one.split("/") for one in paths]
    same = (len(set(at)) == 1 for at in zip(*steps, strict=False))
    first = next((at for at, alike in enumerate(same) if not alike), len(steps[0]) - 1)
    made = path.split("/")
    at = min(first, len(made) - 1)
    prefix, colon, _ = made[at].rpartition(":")
    made[at] = f"{prefix}{colon}{PARAMETER}"
    return "/".join(made)


def unit_paths(
    tree: Tree, curves: Sequence[Curve], tests: "Sequence[_Element]", slots: Sequence[str],
    understood: Understood,
) -> list[str]:  # fmt: skip
    """Paths of the units that stand beside every point, which the table `units` tells of.

    None where curves are written in several ways: a reader takes points of one name at once, and
    what is passed over in some of them would keep it from taking the others.
    """
    found: dict[str, None] = {}
    paths: set[str] = set()
    for curve in curves:
        test = next((one for one in lineage(curve.element) if one in tests), None)
        if test is not None and curve.point is not None:
            path = _path(tree, curve, test, slots, understood)
            paths.add(path)
            found |= dict.fromkeys(f"{path}/{curve.point[0]}/{unit}" for unit in curve.units)
    return list(found) if len(paths) == 1 else []


def _path(
    tree: Tree, curve: Curve, test: "_Element", slots: Sequence[str], found: Understood
) -> str:
    """The path of a curve, names of elements that say what it is of as templates."""
    steps = []
    for at, one in enumerate(chain(curve.element, test)):
        name = tree.name(one)
        local = local_name(one)
        templated = f"{STEP}{at}" in slots
        template = found.naming.parse(local).template if templated else local
        steps.append(name.removesuffix(local) + template)
    return "/".join(steps) or "."


def _titles(curve: Curve) -> dict[str, object]:
    """How the titles and cells of a table are written."""
    titled = curve.titled
    if titled is None:
        return {}
    found: dict[str, object] = {"titles": titled.at.said()}
    found |= {"cells": titled.cells} if titled.cells else {}
    found |= {"separator": titled.separator} if titled.separator else {}
    return found | ({"other_columns": one_of(titled.others)} if titled.others else {})


def _numbers(
    table: Table, tree: Tree, alike: Sequence[Curve], axes: Sequence[Axis], values: Sequence[str]
) -> None:
    curve = alike[0]
    if curve.point is not None:
        path, frequency, value = curve.point
        text = "of several numbers a point this one differs most from curve to curve; others are"
        points = zip(curve.axis_texts, curve.value_texts, strict=False)
        notes = [Note(FOUND, "", [f"{x} {y}" for x, y in points])]
        notes += [Note(ASSUMED, text, list(curve.rivals))] if curve.rivals else []
        notes += [Note(ASSUMED, curve.why)] if curve.why else []
        held = one_of(values) if values else value
        how = {"path": path, "frequency": frequency, "value": held, **_titles(curve)}
        table.add("point", how, *notes)
        return
    table.add("values", curve.values, Note(FOUND, "", curve.value_texts))
    if curve.separator:
        table.add("separator", curve.separator)
    if curve.sample:
        table.add("sample", curve.sample, Note(FOUND, "", curve.axis_texts))
        return
    if curve.run:
        table.add("run", dict(curve.run), Note(FOUND, "by the names of what spaces them evenly"))
        return
    if curve.frequency:
        table.add("frequency", curve.frequency, Note(FOUND, "", curve.axis_texts))
        return
    if refer := _axis_of(tree, alike, axes):
        table.add("axis", refer)
    elif not axes:
        table.add("frequency", UNSETTLED, Note(UNTOLD, _NO_AXIS), asleep=True)


def _axis_of(tree: Tree, curves: Sequence[Curve], axes: Sequence[Axis]) -> str:
    """The path by which most curves that are written alike refer to axes, "" where none does."""
    around = set(curves[0].element.iterancestors())
    if any(axis.element in around for axis in axes):
        return ""
    told = {name for axis in axes for name in attributes(axis.element)}
    names = {name for name in told if not tree.names_unit(name)}
    ids = [{axis.element.get(name) for axis in axes} for name in names]
    refer = Counter(
        path
        for curve in curves
        for path, text in _said_around(tree, curve)
        if any(text in known for known in ids)
    )
    return max(refer, key=lambda path: refer[path], default="")


def _said_around(tree: Tree, curve: Curve) -> "Iterator[tuple[str, str]]":
    """The texts of a curve and of what is around it, by their path from it."""
    for up, element in enumerate((curve.element, *curve.element.iterancestors())):
        for name, text in attributes(element).items():
            yield f"{'../' * up}{tree.at(name)}", text
        for child in telling(element):
            yield f"{'../' * up}{tree.name(child)}", text_of(child)
