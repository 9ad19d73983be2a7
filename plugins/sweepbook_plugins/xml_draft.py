"""A draft of a dialect for XML nobody has described yet."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from sweepbook.draft import naming as names
from sweepbook.draft.document import ASSUMED, FOUND, UNTOLD, Note, Table, bare, one_of
from sweepbook.draft.evidence import Evidence, SeenCurve, thin
from sweepbook.draft.meaning import tables as core_tables
from sweepbook.draft.naming import Naming
from sweepbook.draft.reading import Understood, understand
from sweepbook.source import Source
from sweepbook_plugins import xml_draft_keys
from sweepbook_plugins.xml_draft_curves import Axis, Curve, find
from sweepbook_plugins.xml_draft_tests import lineage, naming_texts, test_depth, told_by
from sweepbook_plugins.xml_draft_tree import Tree, attributes, chain, read, text_of

if TYPE_CHECKING:
    from lxml.etree import _Element

    from sweepbook.limits.library import Library

_STEP = "step "


def draft(sources: Sequence[Source], limits: "Library") -> list[Table] | None:
    """The tables of a draft for files of one make; None where they are no XML with curves.

    Args:
        sources: the files.
        limits: where names of limits are looked up.

    Raises:
        SweepbookError: a file has a DOCTYPE.
        UnreadableSource: a file cannot be opened.
    """
    trees = [read(source) for source in sources]
    if any(tree is None for tree in trees):
        return None
    tree, *others = [tree for tree in trees if tree is not None]
    curves, axes = find(tree)
    if not curves:
        return None
    naming = names.settle(naming_texts(curves))
    depth, shown = test_depth(curves, naming)
    top = lineage(curves[0].element)[depth]
    tests = _tests(tree, top)
    evidence, slots = Evidence(), _slots(tree, curves, tests, naming)
    for curve in curves:
        if lineage(curve.element)[depth] is tests[0]:
            evidence.curves.append(_seen(tree, curve, tests[0], slots, axes))
    evidence.axis_names += _axis_names(curves, axes)
    skip = {curve.element for curve in curves} | {axis.element for axis in axes}
    found = understand(evidence)
    singles = xml_draft_keys.figures(tree, tests, skip, found, evidence)
    for one, own in ((tree, tests), *((other, _same(other, tests)) for other in others)):
        held = skip | singles.taken if one is tree else {c.element for c in find(one)[0]}
        xml_draft_keys.keys(one, own, held, evidence)
    layout = _layout(tree, tests[0], shown)
    halves = [*_axes(tree, axes, tests), *_curves(tree, curves, tests, axes, found, slots)]
    return [*layout, *halves, *singles.tables(), *core_tables(evidence, found, limits)]


def _tests(tree: Tree, top: "_Element") -> "list[_Element]":
    """All elements of the test's path, complete ones."""
    path = [one.tag for one in lineage(top)]
    whole = [
        element
        for element in tree.elements()
        if element.tag == top.tag and [one.tag for one in lineage(element)] == path
    ]
    return whole or [top]


def _same(other: Tree, tests: "Sequence[_Element]") -> "list[_Element]":
    path = [one.tag for one in lineage(tests[0])]
    return [e for e in other.elements() if [one.tag for one in lineage(e)] == path]


def _layout(tree: Tree, test: "_Element", shown: bool) -> list[Table]:
    table = Table("[xml]")
    path = "/" + "/".join(tree.spaces.name(str(one.tag)) for one in lineage(test))
    note = Note(FOUND, "the same curves come again in each element of this path")
    if not shown:
        note = Note(ASSUMED, "the file holds one test, and this element holds all of it")
    table.add("test", path, note)
    if tree.cut:
        table.notes.append(Note(UNTOLD, "what stands behind the first 12 MiB, or behind a break"))
    if tree.spaces.default:
        table.add("namespace", tree.spaces.default)
    if not tree.spaces.prefixes:
        return [table]
    spaces = Table("[xml.namespaces]")
    for uri, prefix in tree.spaces.prefixes.items():
        spaces.add(bare(prefix), uri)
    return [table, spaces]


def _texts(tree: Tree, curve: Curve, test: "_Element") -> dict[str, str]:
    """All that may name a curve, by the path from its element; names of elements by their step."""
    line = chain(curve.element, test)
    found: dict[str, str] = {}
    for at, one in enumerate(line):
        found[f"{_STEP}{at}"] = str(one.tag).rpartition("}")[2]
        prefix = "../" * (len(line) - 1 - at)
        for name, text in attributes(one).items():
            found[f"{prefix}@{tree.spaces.name(name, attribute=True)}"] = text
    for child in told_by(curve):
        name = tree.spaces.name(str(child.tag))
        if name not in (curve.values, curve.frequency):
            found[name] = text_of(child)
    return found


def _slots(
    tree: Tree, curves: Sequence[Curve], tests: "Sequence[_Element]", naming: Naming
) -> list[str]:
    """The paths whose texts name curves."""
    texts: dict[str, list[str]] = {}
    for curve in curves:
        if tests[0] not in lineage(curve.element):
            continue
        for slot, text in _texts(tree, curve, tests[0]).items():
            known = texts.setdefault(slot, [])
            known += [] if text in known else [text]
    kept = []
    for slot, words in texts.items():
        parsed = [naming.parse(word) for word in words]
        told = sum(bool(part.parameter or part.pairs or part.end) for part in parsed)
        clean = sum(names.tells(part) for part in parsed)
        lettered = all(w.isascii() and any(map(str.isalpha, w)) for w in words)
        digits = any(any(map(str.isdigit, word)) for word in words)
        wordy = lettered and not digits and len(words) > 1
        named = told * 2 > len(words) and clean * 2 > len(words)
        if named or (wordy and not slot.startswith(_STEP)):
            kept.append(slot)
    return kept


def _seen(
    tree: Tree, curve: Curve, test: "_Element", slots: Sequence[str], axes: Sequence[Axis]
) -> SeenCurve:
    texts = _texts(tree, curve, test)
    axis = curve.axis_texts
    if not axis:
        fits = [one.texts for one in axes if len(one.texts) == len(curve.value_texts)]
        axis = fits[0] if fits else _expanded(axes, len(curve.value_texts))
    named = {slot: text for slot, text in texts.items() if slot in slots}
    return SeenCurve(named, thin(axis), thin(curve.value_texts))


def _expanded(axes: Sequence[Axis], count: int) -> list[str]:
    """The frequencies of runs that come to so many points."""
    for axis in axes:
        if not axis.run:
            continue
        frequencies: list[str] = []
        runs = [c for c in axis.element if attributes(c)] or [axis.element]
        try:
            for run in runs:
                cells = {f"@{str(k).rpartition('}')[2]}": v for k, v in run.attrib.items()}
                start, step = float(cells[axis.run["start"]]), float(cells[axis.run["step"]])
                points = cells.get(axis.run.get("count", ""))
                stop = cells.get(axis.run.get("stop", ""))
                number = int(points) if points else round((float(stop or 0) - start) / step) + 1
                frequencies += [f"{start + step * n:.10g}" for n in range(min(number, 100_000))]
        except (KeyError, ValueError, ZeroDivisionError):
            continue
        if len(frequencies) == count:
            return frequencies
    return []


def _axis_names(curves: Sequence[Curve], axes: Sequence[Axis]) -> list[str]:
    found = [text for axis in axes for text in attributes(axis.element).values()]
    found += [str(axis.element.tag).rpartition("}")[2] for axis in axes]
    for curve in curves[:1]:
        found += [curve.frequency.rpartition("/")[2]] if curve.frequency else []
        found += [curve.point[1].rpartition("@")[2]] if curve.point else []
    return found


def _axes(tree: Tree, axes: Sequence[Axis], tests: "Sequence[_Element]") -> list[Table]:
    made: dict[str, Table] = {}
    for axis in axes:
        test = next((one for one in lineage(axis.element) if one in tests), None)
        inside = test is not None
        line = lineage(axis.element) if test is None else chain(axis.element, test)
        path = "/".join(tree.spaces.name(str(one.tag)) for one in line)
        path = path if inside else f"/{path}"
        if path in made:
            continue
        table = made[path] = Table("[[xml.axes]]")
        table.add("path", path)
        if id_ := _id(axis, axes, tests):
            table.add("id", f"@{tree.spaces.name(id_, attribute=True)}")
        if axis.run:
            table.add("run", dict(axis.run))
        else:
            table.add("list", ".")
        if axis.separator:
            table.add("separator", axis.separator)
    return list(made.values())


def _id(axis: Axis, axes: Sequence[Axis], tests: "Sequence[_Element]") -> str | None:
    """The attribute by which the axes of one test are told apart."""
    axes = [one for one in axes if not set(lineage(one.element)) & set(tests[1:])]
    texts = {name: [one.element.get(name) for one in axes] for name in attributes(axis.element)}
    words = [name for name in texts if name.rpartition("}")[2] in ("id", "name", "ref", "key")]
    return next((name for name in words if len(set(texts[name])) == len(axes)), None)


def _curves(
    tree: Tree, curves: Sequence[Curve], tests: "Sequence[_Element]", axes: Sequence[Axis],
    found: Understood, slots: Sequence[str],
) -> list[Table]:  # fmt: skip
    """A table `xml.curves` for each way that a curve is written."""
    made: dict[str, Table] = {}
    kinds: dict[str, tuple[Curve, dict[str, list[str]]]] = {}
    for curve in curves:
        test = next((one for one in lineage(curve.element) if one in tests), None)
        if test is None:
            continue
        path = _path(tree, curve, test, slots)
        key = f"{path} {curve.values} {curve.frequency} {curve.point}"
        _, named = kinds.setdefault(key, (curve, {}))
        for slot in _texts(tree, curve, test):
            templates = [text for text in found.templates.get(slot, []) if "{" in text]
            if slot in slots and not slot.startswith(_STEP) and templates:
                named.setdefault(slot, templates)
    for key, (curve, named) in kinds.items():
        table = made[key] = Table("[[xml.curves]]")
        table.add("path", key.split(" ")[0])
        if named:
            table.add("name", {slot: one_of(some) for slot, some in named.items()})
        _numbers(table, tree, curve, axes)
    return list(made.values())


def _path(tree: Tree, curve: Curve, test: "_Element", slots: Sequence[str]) -> str:
    """The path of a curve, names of elements that say what it is of as templates."""
    steps = []
    for at, one in enumerate(chain(curve.element, test)):
        name = tree.spaces.name(str(one.tag))
        local = str(one.tag).rpartition("}")[2]
        templated = f"{_STEP}{at}" in slots
        steps.append(name.removesuffix(local) + "{parameter}" if templated else name)
    return "/".join(steps)


def _numbers(table: Table, tree: Tree, curve: Curve, axes: Sequence[Axis]) -> None:
    if curve.point is not None:
        path, frequency, value = curve.point
        table.add("point", {"path": path, "frequency": frequency, "value": value})
        return
    table.add("values", curve.values)
    if curve.separator:
        table.add("separator", curve.separator)
    if curve.frequency:
        table.add("frequency", curve.frequency)
        return
    ids: Mapping[str, set[str | None]] = {
        name: {axis.element.get(name) for axis in axes}
        for name in ({n for axis in axes for n in attributes(axis.element)})
    }
    for name, text in attributes(curve.element).items():
        if any(text in known for known in ids.values()):
            table.add("axis", f"@{tree.spaces.name(name, attribute=True)}")
            return
