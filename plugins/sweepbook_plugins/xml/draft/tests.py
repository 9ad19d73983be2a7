"""Which element of an XML file nobody has described yet holds one test."""

from collections import Counter
from collections.abc import Callable, Collection, Mapping, Sequence
from typing import TYPE_CHECKING

from sweepbook.draft import fields
from sweepbook.draft.dates import is_day
from sweepbook.draft.naming import Naming
from sweepbook.draft.numbers import is_figure, is_numeric
from sweepbook.draft.parsed import tells
from sweepbook.draft.verdicts import verdict_of
from sweepbook_plugins.xml.draft.shape import Curve
from sweepbook_plugins.xml.draft.tree import (
    all_in,
    attributes,
    elements_in,
    local,
    local_name,
    text_of,
)
from sweepbook_plugins.xml.draft.varying import is_stated, loose

if TYPE_CHECKING:
    from lxml.etree import _Element

Where = tuple[int, str]
"""Steps from an element that holds curves down to another, and what of it a text is."""
Held = dict["_Element", list[dict[Where, str]]]
"""What is said of each curve, by the element that holds it."""
Names = Callable[[Held], "dict[_Element, list[str]]"]

LONGEST_WORD = 60
LONGEST_TEXT = 60
_AGAIN = "the same curves come again in each element of this path"
_LABELLED = "each element of this path has a label of its own, and more that a test says"
_LEAST_FACTS = 2
_LOOKED_AT = 8
"""Elements side by side that are held against each other."""
_TWO = 2
_LONGEST_OF_TWO = 20
_COLUMN = (-1, "")
MOSTLY = 0.9
"""Share of the curves of a file that stand within its tests."""


def lineage(element: "_Element") -> "list[_Element]":
    """The elements from the root down to this one."""
    return [*reversed(list(element.iterancestors())), element]


def naming_texts(curves: Sequence[Curve]) -> list[str]:
    """The texts by which pairs and ends can be told: those of elements that hold curves.

    What stands beside the day of a test is of the test.
    """
    columns = [curve.column[1] for curve in curves if curve.column]
    lines = [lineage(curve.element)[1:] for curve in curves]
    words = {one: _words_of(one) for one in dict.fromkeys(one for line in lines for one in line)}
    dated = {one for one, texts in words.items() if any(map(is_day, texts))}
    told = [text for line in lines for one in _below(line, dated) for text in words[one]]
    told += [text for curve in curves for text in curve.told]
    return [*told, *(text for text in columns if len(text) <= LONGEST_WORD)]


def _below(line: "Sequence[_Element]", dated: "Collection[_Element]") -> "Sequence[_Element]":
    """The elements of a lineage below the last one that holds a day; all where none does."""
    days = [at for at, one in enumerate(line) if one in dated]
    return line[days[-1] + 1 if days else 0 :]


def _words_of(element: "_Element") -> list[str]:
    """The name of an element, attributes and plain children, but no figures, lists or verdicts.

    Nor what is stated of a worst case.
    """
    return list(_said_by(element).values())


def _said_by(element: "_Element") -> Mapping[str, str]:
    """The words of an element by where they stand."""
    texts = {f"@{name}": text for name, text in attributes(element).items()}
    texts |= {f"{child.tag}{which}": text_of(child) for child, which in named_by(element)}
    kept = {
        where: text
        for where, text in texts.items()
        if len(text) <= LONGEST_WORD
        and not is_figure(text)
        and not verdict_of(text)
        and not is_stated(local(where))
    }
    return {"": local_name(element), **kept}


def telling(element: "_Element") -> "list[_Element]":
    """The children of an element that may name it: short texts, each name but once."""
    count = Counter(child.tag for child in element)
    return [
        child
        for child in elements_in(element)
        if count[child.tag] == 1 and not len(child) and 0 < len(text_of(child)) < LONGEST_WORD
    ]


def named_by(element: "_Element") -> "list[tuple[_Element, str]]":
    """The children of an element that may name it, as `telling`, and those of a name twice there.

    These are of two pairs, and [2] tells the second: its step is that behind the name. Where the
    second is a list, the first names it.
    """
    plain = [of for of in elements_in(element) if not len(of) and text_of(of)]
    found = [(of, "") for of in telling(element)]
    for tag, count in Counter(child.tag for child in element).items():
        twice = [of for of in plain if of.tag == tag]
        if count != _TWO or len(twice) != _TWO:
            continue
        first, second = twice
        if max(len(text_of(of)) for of in twice) <= _LONGEST_OF_TWO:
            found += [(first, ""), (second, f"[{_TWO}]")]
        elif len(text_of(first)) <= LONGEST_WORD < len(text_of(second)):
            found.append((first, ""))
    return found


def test_depth(curves: Sequence[Curve], naming: Naming) -> tuple[int, str]:
    """How many steps below the root the element of a test is, and what shows it, or "".

    Tests are the outermost elements of one path that hold the same curves again, hardly a curve
    stands outside of them, and neither they nor what is around them say what a curve is of. Where
    one of them holds a curve several times, as a room with several tests does, they are the
    elements further in that each say what a test says. Where no curves show it, as where nobody
    knows their names, elements side by side are tests if each has a label of its own, and more.
    """
    lines = [lineage(curve.element) for curve in curves]
    sizes = [len(line) + bool(of.column) for of, line in zip(curves, lines, strict=True)]
    depths = range(1, max(sizes) - 1)
    if depth := _repeated(curves, depths, _named, naming):
        return depth, _AGAIN
    if depth := _alike_for_the_rest(curves, depths, naming):
        return depth, _AGAIN
    if labelled := _labelled(lines[0], naming):
        return labelled, _LABELLED
    depth = 0
    shortest = min(sizes)
    while depth + 1 < shortest and len({line[depth] for line in lines}) == 1:
        depth += 1
    return _with_label(lines[0], depth - 1, naming), ""


def _repeated(
    curves: Sequence[Curve], depths: Sequence[int], named: Names, naming: Naming
) -> int | None:
    """The depth of the elements that hold the same curves again, by the names of these."""
    outermost = 0
    for depth in depths:
        told = _held(curves, depth)
        if _name_curves(list(told), naming):
            break
        held = named(told)
        if _are_tests(held, len(curves)):
            if outermost and not all(_says_of_a_test(one, naming) for one in held):
                continue
            outermost = outermost or depth
            if all(len(names) == len(set(names)) for names in held.values()):
                return depth
    return outermost or None


def _alike_for_the_rest(
    curves: Sequence[Curve], depths: Sequence[int], naming: Naming
) -> int | None:
    """The depth of the elements that hold the same curves again, but for texts that name none.

    What is said once in each, as a label, is none of these texts either: of elements around each
    other that each hold one, the innermost which says what a test says.
    """
    outermost = _repeated(curves, depths, _named_in_all, naming)
    count = len(_held(curves, outermost)) if outermost else 0
    found = None
    for depth in depths[depths.index(outermost) :] if outermost else ():
        held = _held(curves, depth)
        if len(held) != count:
            break
        if all(_says_of_a_test(one, naming) for one in held):
            found = depth
    return found


def _held(curves: Sequence[Curve], depth: int) -> Held:
    """The elements at a depth that hold curves, and what these are called within each of them."""
    held: Held = {}
    for curve in curves:
        line = lineage(curve.element)
        if len(line) + bool(curve.column) > depth + 1:
            said: dict[Where, str] = {}
            for at, one in enumerate(line[depth + 1 :]):
                said |= {(at, where): text for where, text in _said_by(one).items()}
            said[_COLUMN] = curve.column[1] if curve.column else ""
            held.setdefault(line[depth], []).append(said)
    return held


def _named(held: Held) -> "dict[_Element, list[str]]":
    """The names of curves, of all that is said of each."""
    return {element: [" ".join(said.values()) for said in told] for element, told in held.items()}


def _named_in_all(held: Held) -> "dict[_Element, list[str]]":
    """The names of curves, without what is said otherwise in each of the elements."""
    fixed = {where for told in held.values() for said in told for where in said if not where[1]}
    spare = loose(list(held.values()), fixed)
    return _named({
        element: [{where: of for where, of in said.items() if where not in spare} for said in told]
        for element, told in held.items()
    })  # fmt: skip


def _are_tests(held: "Mapping[_Element, Sequence[str]]", count: int) -> bool:
    """Whether elements are of one path and hold the same curves again, and most of all there are.

    Args:
        held: what the curves within each element are called.
        count: of all curves of the file.
    """
    if len(held) < 2 or sum(map(len, held.values())) < MOSTLY * count:
        return False
    if len({tuple(one.tag for one in lineage(element)) for element in held}) > 1:
        return False
    first, second, *_ = map(set, held.values())
    return len(first) > 1 and len(first & second) * 2 >= min(len(first), len(second))


def _name_curves(elements: "Sequence[_Element]", naming: Naming) -> bool:
    """Whether elements say themselves of which parameter, end or pair the curves in them are."""
    texts: dict[str, list[str]] = {}
    for element in elements:
        for name, text in attributes(element).items():
            texts.setdefault(name, []).append(text)
    for name, some in texts.items():
        parsed = [part for part in map(naming.parse, some) if tells(part) and part.clean]
        if 2 * len(parsed) <= len(some) or len(set(some)) == 1:
            continue
        if any(part.parameter or part.end for part in parsed) or "pair" in name.casefold():
            return True
    return False


def _labelled(line: "Sequence[_Element]", naming: Naming) -> int:
    """How deep the first element is that others beside it show to be a test; 0 for none."""
    for depth, one in enumerate(line[1:], 1):
        parent = one.getparent()
        beside = [] if parent is None else [of for of in elements_in(parent) if of.tag == one.tag]
        some = beside[:_LOOKED_AT]
        if len(some) > 1 and len(one):
            labels = [_label_of(of, naming) for of in some]
            if all(labels) and len(set(labels)) == len(labels):
                return depth
    return 0


def _label_of(element: "_Element", naming: Naming) -> str:
    """The label that an element has, if it says more of a test, and no parameter; else ""."""
    said = _said_in(element, naming)
    label = said.get("link.label", "")
    parts = [naming.parse(text) for text in (label, *_words_of(element)[1:])]
    named = any(part.parameter and tells(part) for part in parts) or tells(parts[0])
    return "" if named or len(said.keys() & {*fields.MUST}) < _LEAST_FACTS else label


def _with_label(line: "Sequence[_Element]", depth: int, naming: Naming) -> int:
    """The deepest level down to this one whose element holds what reads as a label."""
    for at in range(depth, -1, -1):
        if "link.label" in _said_in(line[at], naming):
            return at
    return 0


def _says_of_a_test(element: "_Element", naming: Naming) -> bool:
    """Whether an element has two of label, time, limit and verdict or more within it."""
    return len(_said_in(element, naming).keys() & {*fields.MUST}) >= _LEAST_FACTS


def _said_in(element: "_Element", naming: Naming) -> Mapping[str, str]:
    """Members of a record that texts within an element read as, with their first text."""
    plain = [of for of in all_in(element) if 0 < len(text_of(of)) < LONGEST_TEXT and not len(of)]
    keys = {local_name(child): [text_of(child)] for child in plain}
    for child in plain:
        names = [*attributes(child).values()]
        if len(names) == 1 and not is_numeric(names[0]):  # thousands of points may have one
            keys[names[0]] = [text_of(child)]
    keys |= {f"@{name}": [text] for name, text in attributes(element).items()}
    return {one.path: one.texts[0] for one in fields.guess(keys, naming.ends)}
