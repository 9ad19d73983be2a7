"""Curves that are written as an element a point, in XML nobody has described yet."""

import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

from sweepbook.draft import phrases
from sweepbook.draft.naming import settle
from sweepbook.draft.numbers import is_frequency, is_numeric, rises, values_of
from sweepbook.draft.trade_words import CONTACTS, NO_VALUE, UNIT
from sweepbook_plugins.xml.draft.shape import Curve
from sweepbook_plugins.xml.draft.tree import CHOICE, Tree, attributes, elements_in, text_of

if TYPE_CHECKING:
    from lxml.etree import _Element

_LEAST = 8
"""So many numbers make a curve or an axis."""
_MOST_CHOSEN = 200
"""Children of one name that pairs tell apart: all four at both ends in all orders are fewer."""
_LEFT = 20
_LEAST_COLUMNS = 2
_ONE_WAY = 0.8
"""So many steps of an axis at least go the same way; those of stated worst cases do not."""
_COLUMN = re.compile(
    r"([^\[\]/@]+\[@[^=\]]+=)([^\[\]@:]+)(\](?:/@[^/@]+)?)|(@|[\w-]+:)?([^\[\]/@:]+)"
)
"""The path of a column: an attribute, an element, or an element that an attribute tells."""
Choices = Mapping[str, str | None]
"""The attribute that tells children of a name apart, by that; "" where it comes once."""


def points_in(element: "_Element", tree: Tree) -> list[Curve]:
    """The curves that an element holds as an element a point, as a rule one or none."""
    children = elements_in(element)
    tags = [str(child.tag) for child in children]
    if len(children) < _LEAST:
        return []
    tag = max(dict.fromkeys(tags), key=tags.count)
    points = [child for child in children if child.tag == tag]
    if len(points) < _LEAST:
        return []
    middle = points[len(points) // 2]
    choices = _choices(middle)
    inner = Counter(str(child.tag) for child in middle)
    many = any(choices.get(name, "") is None and of >= _LEAST for name, of in inner.items())
    if many or any(len(child) >= _LEAST for child in middle):
        return []  # they hold points themselves
    cells = _cells(middle, choices, tree)
    numeric = {path: text for path, text in cells.items() if is_numeric(text)}
    axis = next((path for path in numeric if is_frequency(_plain(path))), None)
    if axis is None and not any(len(inner) for inner in middle):
        axis = next((path for path in numeric if _rises(points, path, choices, tree)), None)
    if axis is None:
        return []
    rest = [path for path in cells if path != axis and not path.endswith("unit")]
    rest = [path for path in rest if not phrases.has(path, NO_VALUE)] or rest
    value = next((path for path in rest if path in numeric), None)
    if value is None:
        return []
    held = [_cells(point, choices, tree) for point in points]
    numbers = [path for path in (axis, *rest) if path in numeric]
    texts: dict[str, Sequence[str]] = {
        path: [one.get(path, "") for one in held] for path in numbers
    }
    if not _one_way(texts[axis]) or tuple(texts[axis]) == CONTACTS:
        return []
    columns = _columns(numbers[1:])
    rivals = {path: some for path, some in texts.items() if path not in (axis, value)}
    return [
        Curve(
            element,
            point=(tree.spaces.name(tag), axis, path),
            axis_texts=texts[axis],
            value_texts=texts[path],
            units=[of for of in cells if _plain(of).casefold() in UNIT or of in tree.units],
            rivals={} if columns else rivals,
            column=columns.get(path),
        )
        for path in columns or [value]
    ]


def _columns(paths: Sequence[str]) -> dict[str, tuple[str, str, str]]:
    """The paths that are those of curves, taken apart; none where no two tell their pairs."""
    matched = {path: found for path in paths if (found := _COLUMN.fullmatch(path))}
    apart = {
        path: (of[1] or of[4] or "", of[2] or of[5], of[3] or "") for path, of in matched.items()
    }
    columns = {path: of for path, of in apart.items() if not phrases.has(of[1], NO_VALUE)}
    naming = settle([name for _, name, _ in columns.values()])
    told = {name for _, name, _ in columns.values() if naming.parse(name).pairs}
    return columns if len(told) >= _LEAST_COLUMNS else {}


def leave_some(files: Iterable[tuple[Tree, Sequence[Curve]]]) -> None:
    """Take all but the first points of each curve out of files, once their numbers are known.

    What is looked for then stands beside curves, or in each point.

    Args:
        files: each with all curves that were found in it.
    """
    known: set[tuple[_Element, str]] = set()
    for tree, curve in ((tree, curve) for tree, curves in files for curve in curves):
        if curve.point is None or curve.titled or (curve.element, curve.point[0]) in known:
            continue
        known.add((curve.element, curve.point[0]))
        *around, name = curve.point[0].split("/")
        held = [curve.element]
        for step in around:
            held = [of for one in held for of in elements_in(one) if tree.name(of) == step]
        points = [of for one in held for of in elements_in(one) if tree.name(of) == name]
        for point in points[_LEFT:]:
            parent = point.getparent()
            assert parent is not None
            parent.remove(point)


def settle_values(curves: Sequence[Curve]) -> None:
    """Of several numbers a point, take the one that differs most from curve to curve.

    A limit line is the same for all curves of a parameter, and a measurement is not.
    """
    kinds: dict[tuple[str, ...], list[Curve]] = {}
    for curve in curves:
        if curve.point is not None and curve.rivals:
            kinds.setdefault((curve.point[0], *sorted([curve.point[2], *curve.rivals])), []).append(
                curve
            )
    for some in kinds.values():
        lines: dict[str, set[tuple[str, ...]]] = {}
        for curve in some:
            assert curve.point is not None
            for path, texts in {curve.point[2]: curve.value_texts, **curve.rivals}.items():
                lines.setdefault(path, set()).add(tuple(texts))
        best = max(lines, key=lambda path: len(lines[path]))
        for curve in some:
            assert curve.point is not None
            held = {curve.point[2]: curve.value_texts, **curve.rivals}
            curve.value_texts = held.pop(best)
            curve.point, curve.rivals = (*curve.point[:2], best), held


def _cells(point: "_Element", choices: Choices, tree: Tree) -> dict[str, str]:
    """Texts of a point by their path from it."""
    found = {tree.at(name): text for name, text in attributes(point).items()}
    for child in point:
        choice = choices.get(str(child.tag))
        if choice is None or len(child):
            continue
        name = tree.name(child)
        if choice:
            name += f"[{tree.at(choice)}={child.get(choice)}]"
        found[name] = text_of(child)
        for attribute, text in attributes(child).items():
            if attribute != choice:
                found[f"{name}/{tree.at(attribute)}"] = text
    if text_of(point):
        found["."] = text_of(point)
    return found


def _choices(point: "_Element") -> Choices:
    """What tells the children of each name apart: an attribute that names the pairs of curves."""
    by_tag: dict[str, list[Mapping[str, str]]] = {}
    for child in elements_in(point):
        by_tag.setdefault(str(child.tag), []).append(attributes(child))
    found: dict[str, str | None] = {}
    for tag, same in by_tag.items():
        telling = (name for name in same[0] if _chooses([of.get(name, "") for of in same]))
        found[tag] = "" if len(same) == 1 else next(telling, None)
    return found


def _chooses(texts: Sequence[str]) -> bool:
    """Whether texts are all different and tell pairs, most of them.

    Of numbers all have to: 3.6 is a pair beside 1.2, 4.5 and 7.8, and a margin beside 0.9 and 1.4.
    """
    if len(texts) > _MOST_CHOSEN or len(set(texts)) < len(texts):
        return False
    if not all(map(CHOICE.fullmatch, texts)):
        return False
    parsed = [*map(settle(texts).parse, texts)]
    if all(map(is_numeric, texts)):
        return all(
            part.clean and 0 < len(part.pairs) <= 1 + text.isdigit()
            for part, text in zip(parsed, texts, strict=True)
        )
    return sum(bool(part.pairs) for part in parsed) * 2 > len(texts)


def _one_way(texts: Sequence[str]) -> bool:
    """Whether frequencies rise nearly everywhere, or fall; those of stated worst cases repeat."""
    values = values_of([text for text in texts if text])
    if values is None:
        return True
    steps = list(pairwise(values))
    least = _ONE_WAY * len(steps)
    return sum(a < b for a, b in steps) >= least or sum(a > b for a, b in steps) >= least


def _plain(path: str) -> str:
    return re.sub(r"^.*[/@:]", "", path)


def _rises(points: "Sequence[_Element]", path: str, choices: Choices, tree: Tree) -> bool:
    texts = [_cells(point, choices, tree).get(path, "") for point in points[:20]]
    return rises(("0", *texts))
