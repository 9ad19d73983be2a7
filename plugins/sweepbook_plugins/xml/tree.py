"""All paths of a dialect as one tree, so that each element of a file is looked at once."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from sweepbook_plugins.xml.paths import Condition, Path, Stand, Step, qualified

if TYPE_CHECKING:
    from lxml.etree import _Element

SKIPPED = -1
"""Stands for the form that owns what the dialect says means nothing."""

Kinds = tuple[tuple[str, str], ...]


@dataclass(eq=False)
class Node:
    """What the dialect knows of the elements at one path.

    Attributes:
        children: by tag, then by the kinds of conditions, then by the values asked for.
        keys: keys of properties by attribute; "" is the text.
        owners: forms that use an attribute, by attribute; "" is the text.
        forms: numbers of the forms whose elements these are.
        axes: numbers of the axes whose elements these are.
        skip: whether the element and all in it mean nothing.
    """

    children: dict[str, dict[Kinds, dict[tuple[str, ...], "Node"]]] = field(default_factory=dict)
    keys: dict[str, list[str]] = field(default_factory=dict)
    owners: dict[str, set[int]] = field(default_factory=dict)
    forms: list[int] = field(default_factory=list)
    axes: list[int] = field(default_factory=list)
    skip: bool = False

    def child(self, tag: str, conditions: Sequence[Condition]) -> "Node":
        """The node of a child, made if it is not there."""
        kinds = tuple((condition.kind, condition.name) for condition in conditions)
        values = tuple(condition.value for condition in conditions)
        by_values = self.children.setdefault(tag, {}).setdefault(kinds, {})
        return by_values.setdefault(values, Node())

    def grow(self, steps: Iterable[Step], words: Iterable[str] = ()) -> list["Node"]:
        """The nodes at the end of some steps; a template stands for each of the words."""
        nodes = [self]
        for step in steps:
            locals_ = list(words) if step.is_template else [step.local]
            tags = [qualified(step.uri, local) for local in locals_]
            nodes = [node.child(tag, step.conditions) for node in nodes for tag in tags]
        return nodes

    def own(self, path: Path, form: int) -> None:
        """Note that a form uses what stands at a path from here."""
        for node in self.grow(path.steps):
            node.owners.setdefault(path.attribute or "", set()).add(form)


class Match(NamedTuple):
    """What the dialect knows of one element.

    Attributes:
        nodes: the nodes that fit.
        chosen: kinds of conditions that were asked to find them.
        shown: these conditions as the dialect writes them, "" if there are none.
    """

    nodes: tuple[Node, ...]
    chosen: frozenset[tuple[str, str]]
    shown: str


NOTHING = Match((), frozenset(), "")


def match(nodes: Sequence[Node], element: "_Element", position: int) -> Match:
    """The nodes that fit a child.

    Args:
        nodes: nodes of its parent.
        element: the child.
        position: its place among the children of this name, counted from 1.
    """
    tag = element.tag
    alone = unconditional(tuple(nodes), tag)
    if alone is not None:
        return alone
    found: list[Node] = []
    chosen: set[tuple[str, str]] = set()
    shown = ""
    for node in nodes:
        of_tag = node.children.get(tag)
        if of_tag is None:
            continue
        for kinds, by_values in of_tag.items():
            values = tuple([_value(element, kind, name, position) for kind, name in kinds])
            fitting = by_values.get(values)
            if fitting is None:
                continue
            found.append(fitting)
            chosen.update(kinds)
            if kinds and not shown:
                told = zip(kinds, values, strict=True)
                shown = "".join(f"[{_said(kind, name, value)}]" for (kind, name), value in told)
    return Match(tuple(found), frozenset(chosen), shown) if found else NOTHING


@lru_cache(maxsize=4096)
def unconditional(nodes: tuple[Node, ...], tag: str) -> Match | None:
    """The nodes that fit every child of a name; None where that depends on more than the name."""
    found: list[Node] = []
    for node in nodes:
        of_tag = node.children.get(tag, {})
        if of_tag.keys() - {()}:
            return None
        found += [by_values[()] for by_values in of_tag.values()]
    return Match(tuple(found), frozenset(), "") if found else NOTHING


def fits(element: "_Element", at: Stand) -> bool:
    """Whether an element is that of a step, chosen by attributes only."""
    return element.tag in at.tags and all(
        element.get(condition.name) == condition.value for condition in at.conditions
    )


def is_at(element: "_Element", step: Step) -> bool:
    """Whether an element is that of a step, chosen by attributes or not at all, blanks apart."""
    return element.tag == step.tag and all(
        of.kind == "@" and (element.get(of.name) or "").strip() == of.value
        for of in step.conditions
    )


def text_of(element: "_Element") -> str:
    """The text that stands in an element itself, without that of its children."""
    text = element.text or ""
    if len(element):
        text += "".join(child.tail or "" for child in element)
    return text


def last_line(element: "_Element") -> int:
    """The line that an element ends in."""
    lines = 0
    while (last := next(element.iterchildren(reversed=True), None)) is not None:
        element = last
        lines += (element.tail or "").count("\n")
    return (element.sourceline or 0) + text_of(element).count("\n") + lines


def find(element: "_Element", path: Path) -> "_Element | None":
    """The first element at a path from here; None where there is none."""
    found: _Element | None = element
    for _ in range(path.up):
        found = None if found is None else found.getparent()
    for step in path.steps:
        if found is None:
            return None
        found = next(iter(children(found, step)), None)
    return found


def children(element: "_Element", step: Step) -> Iterable["_Element"]:
    """The children that fit a step, in order."""
    for position, child in enumerate(element.iterchildren(step.tag), 1):
        if all(
            _value(child, condition.kind, condition.name, position) == condition.value
            for condition in step.conditions
        ):
            yield child


def every(element: "_Element", path: Path) -> list["_Element"]:
    """All elements at a path from here, in order."""
    if not path.steps:
        found = find(element, path)
        return [] if found is None else [found]
    start = find(element, path._replace(steps=()))
    nodes = [] if start is None else [start]
    for step in path.steps:
        nodes = [child for node in nodes for child in children(node, step)]
    return nodes


def text_at(element: "_Element", path: Path) -> str | None:
    """The text at a path from here; None where there is no such element or attribute."""
    found = find(element, path) if path.steps or path.up else element
    if found is None:
        return None
    if path.attribute is not None:
        value: str | None = found.get(path.attribute)
        return value
    return text_of(found)


def _value(element: "_Element", kind: str, name: str, position: int) -> str:
    if kind == "@":
        return (element.get(name) or "").strip()
    if kind == "position":
        return str(position)
    child = element.find(name)
    return "" if child is None else text_of(child).strip()


def _said(kind: str, name: str, value: str) -> str:
    local = name.rpartition("}")[2]
    if kind == "position":
        return value
    return f"@{local}={value}" if kind == "@" else f"{local}={value}"


@lru_cache(maxsize=4096)
def keys_of(nodes: tuple[Node, ...], failed: frozenset[int]) -> dict[str, tuple[str, ...]]:
    """The keys that want an attribute, by its name, or the text for no name.

    An attribute that is not there is known to nothing; one that only a form owns has no keys.
    """
    found: dict[str, tuple[str, ...]] = {}
    for node in nodes:
        for name, owners in node.owners.items():
            if owners - failed:
                found.setdefault(name, ())
        for name, keys in node.keys.items():
            if keys:
                found[name] = (*found.get(name, ()), *keys)
    return found


@lru_cache(maxsize=4096)
def numbers_of(nodes: tuple[Node, ...]) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Numbers of the axes and of the forms of elements at some nodes."""
    return (
        tuple(number for node in nodes for number in node.axes),
        tuple(number for node in nodes for number in node.forms),
    )
