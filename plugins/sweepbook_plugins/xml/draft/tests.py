"""Which element of an XML file nobody has described yet holds one test."""

from collections import Counter
from collections.abc import Sequence
from functools import lru_cache
from typing import TYPE_CHECKING

from sweepbook.draft import fields
from sweepbook.draft.dates import is_day
from sweepbook.draft.naming import Naming
from sweepbook.draft.numbers import is_numeric
from sweepbook.draft.parsed import tells
from sweepbook.draft.phrases import PAIR_LIKE
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
    """The texts by which pairs and ends can be told: those of elements that hold curves.

    What stands beside the day of a test is of the test.
    """
    columns = [curve.column[1] for curve in curves if curve.column]
    told = [text for curve in curves for one in _below_facts(curve) for text in _words_of(one)]
    return [text for text in (*told, *columns) if len(text) <= LONGEST_WORD]


def _below_facts(curve: Curve) -> "list[_Element]":
    """The elements of a curve and around it, up to the one that holds a day, or the root."""
    line = lineage(curve.element)[1:]
    days = [at for at, one in enumerate(line) if any(map(is_day, _words_of(one)))]
    return line[days[-1] + 1 if days else 0 :]


def _words_of(element: "_Element") -> list[str]:
    """The name of an element, its attributes and its plain children, but no figures or verdicts."""
    texts = [*attributes(element).values(), *map(text_of, telling(element))]
    kept = [text for text in texts if not is_numeric(text) or PAIR_LIKE.fullmatch(text)]
    kept = [text for text in kept if not fields.verdict_of(text)]
    return [str(element.tag).rpartition("}")[2], *kept]


@lru_cache(maxsize=4096)
def telling(element: "_Element") -> "list[_Element]":
    """The children of an element that may name it: short texts, each name but once."""
    count = Counter(child.tag for child in element)
    return [
        child
        for child in element
        if isinstance(child.tag, str)
        and count[child.tag] == 1
        and not len(child)
        and 0 < len(text_of(child)) < LONGEST_WORD
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
                column = curve.column[1] if curve.column else ""
                said = [*(" ".join(_words_of(one)) for one in line[depth + 1 :]), column]
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
        if len(parsed) < len(some) or len(set(some)) == 1:
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
    for child in element.iter():
        names = [*attributes(child).values()] if isinstance(child.tag, str) else []
        if len(names) == 1 and 0 < len(text_of(child)) < LONGEST_TEXT and not len(child):
            keys[names[0]] = [text_of(child)]
    keys |= {f"@{name}": [text] for name, text in attributes(element).items()}
    return {one.path for one in fields.guess(keys, naming.ends)}
