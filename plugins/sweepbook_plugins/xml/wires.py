"""Wire maps with an element a wire or a contact: several texts at one path, kept in order."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from sweepbook.dialect.model import Meaning
from sweepbook.dialect.raw import Cell
from sweepbook.dialect.wires import FAR, NEAR
from sweepbook_plugins.xml.found import Found
from sweepbook_plugins.xml.paths import Names, parse

if TYPE_CHECKING:
    from lxml.etree import _Element


def owners(meaning: Meaning, names: Names) -> Mapping[str, int]:
    """How many elements above its text each key of a wire map has what holds a whole wire.

    That is where the ways to a near and a far contact part.
    """
    ups = dict.fromkeys(meaning.wire_keys, 0)
    ends = [meaning.fields.get(path, ()) for path in (NEAR, FAR)]
    if not all(len(keys) == 1 for keys in ends):
        return ups
    try:
        near, far = (parse(keys[0], names).steps for keys in ends)
    except ValueError:  # told where the fields are held against the forms of paths
        return ups
    common = 0
    for one, other in zip(near, far, strict=False):
        if one != other:
            break
        common += 1
    return ups | {ends[0][0]: len(near) - common, ends[1][0]: len(far) - common}


def gather(found: Found, meaning: Meaning) -> None:
    """Make one property of each key of a wire map; a wire without a contact keeps its place."""
    texts: dict[str, Sequence[str]] = {
        key: [cell.text for _, cell in cells] for key, cells in found.wires.items()
    }
    ends = [meaning.fields.get(path, ()) for path in (NEAR, FAR)]
    if all(len(keys) == 1 and keys[0] in found.wires for keys in ends):
        near, far = (keys[0] for keys in ends)
        texts |= _side_by_side(found, near, far)
    for key, cells in found.wires.items():
        if some := texts[key]:
            found.properties[key] = Cell(some[0], cells[0][1].place, tuple(some[1:]))


def _side_by_side(found: Found, near: str, far: str) -> Mapping[str, Sequence[str]]:
    """The texts of both ends, a blank one where a wire has none at one of them."""
    wires: dict[_Element, tuple[list[str], list[str]]] = {}
    for at, key in enumerate((near, far)):
        for element, cell in found.wires[key]:
            wires.setdefault(element, ([], []))[at].append(cell.text)
    texts: tuple[list[str], list[str]] = ([], [])
    for element, both in _in_order(wires):
        counts = [len(some) for some in both]
        if len(wires) > 1 and counts[0] != counts[1] and max(counts) > 1:
            found.fault(
                found.wires[near][0][1].place,
                f"in one {element.tag!s} {counts[0]} near and {counts[1]} far contacts stand, so "
                f"that nothing tells which lead to each other; see fields.{NEAR} and fields.{FAR}",
            )
        for at, some in enumerate(both):
            texts[at].extend(some or ([""] if counts[1 - at] == 1 else []))
    return {near: texts[0], far: texts[1]}


def _in_order(
    wires: "Mapping[_Element, tuple[list[str], list[str]]]",
) -> "Sequence[tuple[_Element, tuple[list[str], list[str]]]]":
    """Wires in the order of the file, of which those without a near contact were met later."""
    if len({element.getparent() for element in wires}) != 1:
        return list(wires.items())
    parent = next(iter(wires)).getparent()
    if parent is None:
        return list(wires.items())
    return [(child, wires[child]) for child in parent if child in wires]
