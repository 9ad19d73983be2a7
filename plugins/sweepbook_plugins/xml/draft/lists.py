"""Lists of numbers in XML nobody has described yet: which are curves, and which axes or neither."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.draft import phrases
from sweepbook.draft.numbers import is_frequency, is_numeric, rises, values_of
from sweepbook.draft.trade_words import FREQUENCY
from sweepbook.tokens import split
from sweepbook_plugins.xml.draft.shape import Axis, Curve
from sweepbook_plugins.xml.draft.tree import Tree, attributes, elements_in, local_name, text_of

if TYPE_CHECKING:
    from lxml.etree import _Element

LEAST = 8
"""So many numbers make a curve or an axis."""
_CONTACTS = 8
_MANY_ROWS = 16
_MARKS = (":", "=", "@", "|", "/", ";", ",", "")
"""What may stand between a frequency and its value; the last is a blank."""
_SEPARATORS = (";", "|", "", ",", "/", "~", "_", "#", "^")
"""What may part a list of numbers; blanks before commas, which may be decimal ones."""
_AXIS = ("axis", "grid", "frequencies", "frequency list", "sweep points")


def numbers_in(text: str) -> tuple[list[str], str]:
    """The numbers of a list and the text between them ("" for blanks); ([], "") for no list."""
    for separator in _SEPARATORS:
        if separator and separator not in text:
            continue
        parts = [*split(text, separator)]
        if len(parts) >= LEAST and sum(map(is_numeric, parts)) * 2 >= len(parts):
            return ([], "") if _are_contacts(parts) else (parts, separator)
    return [], ""


class Samples(NamedTuple):
    """A list of frequencies with their values.

    Attributes:
        frequency: n texts.
        value: n texts.
        separator: text between two pieces, "" for blanks.
        form: how both stand in a piece.
    """

    frequency: Sequence[str]
    value: Sequence[str]
    separator: str
    form: str


def samples_in(text: str) -> Samples | None:
    """The frequencies, which rise, and the values of a list whose pieces hold both; else None.

    A comma may part them where each of both has a decimal point.
    """
    for separator in (";", "|", "", ","):
        if separator and separator not in text:
            continue
        parts = [*split(text, separator)]
        for mark in _MARKS if len(parts) >= LEAST else ():
            if len(parts[0].split(mark or None)) == 2 and (told := _told(parts, mark)):
                axis, values, form = told
                return Samples(axis, values, separator, form)
    return None


def _told(parts: Sequence[str], mark: str) -> tuple[Sequence[str], Sequence[str], str] | None:
    """The frequencies and values in some pieces, and how they stand there.

    Where both rise, as losses do with frequency, the larger numbers are the frequencies.
    """
    pieces = [[of.strip() for of in part.split(mark or None)] for part in parts]
    if any(len(piece) != 2 for piece in pieces) or (mark == "," and not _pointed(pieces)):
        return None
    first, second = zip(*pieces, strict=True)
    highest = {turned: _highest(axis) for turned, axis in ((False, first), (True, second))}
    turned = highest[True] > highest[False]
    axis, values = (second, first) if turned else (first, second)
    numeric = sum(map(is_numeric, values)) * 2 >= len(values)
    if not highest[turned] or not numeric or _are_contacts(axis):
        return None
    names = ("{value}", "{frequency}") if turned else ("{frequency}", "{value}")
    return axis, values, (mark or " ").join(names)


def _highest(texts: Sequence[str]) -> float:
    """The last of numbers that rise; 0 where they do not."""
    values = values_of(texts) if rises(texts) else None
    return values[-1] if values else 0.0


def _pointed(pieces: Sequence[Sequence[str]]) -> bool:
    """Whether a decimal point stands in each of two numbers, so that no comma is one."""
    return all("." in text for piece in pieces for text in piece if is_numeric(text))


def _are_contacts(parts: Sequence[str]) -> bool:
    """Whether a list has the contacts of one end of a wire map, with a letter for the screen."""
    return len(parts) <= _CONTACTS + 1 and all(
        part in "12345678" or not any(map(str.isdigit, part)) for part in parts
    )


def mark_rows(curves: Sequence[Curve]) -> None:
    """Mark lists without a name that stand many side by side: rows, with a number a curve."""
    beside: dict[tuple[_Element, str], list[Curve]] = {}
    for curve in curves:
        parent = curve.element.getparent()
        if curve.values == "." and parent is not None and not attributes(curve.element):
            beside.setdefault((parent, str(curve.element.tag)), []).append(curve)
    for same in beside.values():
        for curve in same if len(same) >= _MANY_ROWS else ():
            curve.is_row = True


def axis_around(element: "_Element", tree: Tree) -> Axis | None:
    """The axis of an element that is called so and holds one list, by whatever name, that rises."""
    if not len(element):
        return None
    texts = attributes(element).values()
    called = is_axis_tag(element) or any(phrases.whole(text, FREQUENCY) for text in texts)
    if not called or any(map(phrases.parameter_in, texts)):
        return None
    held = [(child, *numbers_in(text_of(child))) for child in elements_in(element)]
    lists = [(child, found, mark) for child, found, mark in held if found]
    if len(lists) != 1 or any(len(child) for child, *_ in held):
        return None
    ((child, found, mark),) = lists
    if not rises(found):
        return None
    return Axis(element, separator=mark, texts=found, held=tree.name(child))


def is_limit_line(curve: Curve) -> bool:
    """Whether a list without a name stands once beside several of another name that have one."""
    element, parent = curve.element, curve.element.getparent()
    if curve.values != "." or parent is None or attributes(element):
        return False
    beside = [
        str(child.tag)
        for child in elements_in(parent)
        if attributes(child) and numbers_in(text_of(child))[0]
    ]
    several = any(beside.count(tag) > 1 for tag in set(beside) - {str(element.tag)})
    alone = sum(child.tag == element.tag for child in parent) == 1
    return (
        several and alone and not is_axis(element) and not phrases.parameter_in(local_name(element))
    )


def is_axis_tag(element: "_Element") -> bool:
    """Whether an element is called as an axis is."""
    return is_frequency(local_name(element)) or phrases.whole(local_name(element), _AXIS)


def is_axis(element: "_Element") -> bool:
    """Whether an element is called as an axis is, or an attribute of it says so."""
    texts = attributes(element).values()
    return is_axis_tag(element) or any(map(is_frequency, texts))
