"""Which element of an XML file nobody has described yet holds one test."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from sweepbook.draft import fields
from sweepbook.draft.naming import Naming
from sweepbook.draft.parsed import tells
from sweepbook_plugins.xml.draft.shape import Curve
from sweepbook_plugins.xml.draft.tree import attributes, text_of

if TYPE_CHECKING:
    from lxml.etree import _Element

LONGEST_WORD = 40
LONGEST_TEXT = 60


def lineage(element: "_Element") -> "list[_Element]":
    """The elements from the root down to this one."""
    return [*reversed(list(element.iterancestors())), element]


def naming_texts(curves: Sequence[Curve]) -> list[str]:
    """The texts by which pairs and ends can be told: those of elements that hold curves."""
    return [
        text
        for curve in curves
        for one in lineage(curve.element)[1:]
        for text in (
            str(one.tag).rpartition("}")[2],
            *attributes(one).values(),
            *_child_texts(one, curve),
            *(curve.column[1:2] if curve.column else ()),
        )
        if len(text) <= LONGEST_WORD
    ]


def _child_texts(element: "_Element", curve: Curve) -> list[str]:
    return [text_of(child) for child in told_by(curve)] if element is curve.element else []


def told_by(curve: Curve) -> "list[_Element]":
    """The children of a curve's element that may name it: short texts, each name but once."""
    tags = [child.tag for child in curve.element]
    return [
        child
        for child in curve.element
        if isinstance(child.tag, str)
        and tags.count(child.tag) == 1
        and 0 < len(text_of(child)) < LONGEST_WORD
        and not len(child)
    ]


def test_depth(curves: Sequence[Curve], naming: Naming) -> tuple[int, bool]:
    """How many steps below the root the element of a test is, and whether repeats show it.

    Tests are the outermost elements of one path that hold the same curves again, and that say
    nothing themselves of what a curve is of. Where one of them holds a curve several times, as a
    room with several tests does, they are the elements further in that each say what a test says.
    """
    lines = [lineage(curve.element) for curve in curves]
    sizes = [len(line) + bool(of.column) for of, line in zip(curves, lines, strict=True)]
    outermost = 0
    for depth in range(1, max(sizes) - 1):
        held: dict[_Element, list[str]] = {}
        for curve, line, size in zip(curves, lines, sizes, strict=True):
            if size > depth + 1:
                told = told_by(curve) if len(line) > depth + 1 else []
                column = curve.column[1] if curve.column else ""
                said = [*map(_said, line[depth + 1 :]), *map(text_of, told), column]
                held.setdefault(line[depth], []).append(" ".join(said))
        if len(held) > 1 and _are_tests(list(held), [*map(set, held.values())], naming):
            if outermost and not all(_says_of_a_test(one, naming) for one in held):
                continue
            outermost = outermost or depth
            if all(len(names) == len(set(names)) for names in held.values()):
                return depth, True
    if outermost:
        return outermost, True
    depth = 0
    shortest = min(sizes)
    while depth + 1 < shortest and len({line[depth] for line in lines}) == 1:
        depth += 1
    return _with_label(lines[0], depth - 1, naming), False


def _said(element: "_Element") -> str:
    """Name and attributes of an element in one text."""
    texts = [text for text in attributes(element).values() if len(text) <= LONGEST_WORD]
    return " ".join([str(element.tag), *texts])


def _are_tests(elements: "Sequence[_Element]", held: Sequence[set[str]], naming: Naming) -> bool:
    """Whether elements hold the same curves again and do not name these themselves."""
    if len({str(element.tag) for element in elements}) > 1 or len(held[0]) < 2:
        return False
    if len(held[0] & held[1]) * 2 < min(len(held[0]), len(held[1])):
        return False
    texts: dict[str, list[str]] = {}
    for element in elements:
        for name, text in attributes(element).items():
            texts.setdefault(name, []).append(text)
    for name, some in texts.items():
        parsed = [part for part in map(naming.parse, some) if tells(part) and part.clean]
        if len(parsed) < len(some):
            continue
        if any(part.parameter or part.end for part in parsed) or "pair" in name.casefold():
            return False
    return True


def _with_label(line: "Sequence[_Element]", depth: int, naming: Naming) -> int:
    """The deepest level down to this one whose element holds what reads as a label."""
    for at in range(depth, -1, -1):
        if "link.label" in _said_in(line[at], naming):
            return at
    return 0


def _says_of_a_test(element: "_Element", naming: Naming) -> bool:
    """Whether an element has two of label, time, limit and verdict or more within it."""
    return len(_said_in(element, naming).intersection(fields.MUST)) > 1


def _said_in(element: "_Element", naming: Naming) -> set[str]:
    """Members of a record that texts within an element read as."""
    keys = {
        str(child.tag).rpartition("}")[2]: [text_of(child)]
        for child in element.iter()
        if isinstance(child.tag, str) and 0 < len(text_of(child)) < LONGEST_TEXT and not len(child)
    }
    keys |= {f"@{name}": [text] for name, text in attributes(element).items()}
    return {one.path for one in fields.guess(keys, naming.ends)}
