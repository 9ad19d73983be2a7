"""What stands in rows of cells and is no cell: kept, or refused where a cell might have stood."""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from sweepbook_plugins.xml.tree import every, is_at

if TYPE_CHECKING:
    from lxml.etree import XPath, _Element

    from sweepbook_plugins.xml.paths import Path

_KEYS = "see {} with its titles, cells and separator, and xml.skip for what means nothing"


class Cells(NamedTuple):
    """Where cells stand.

    Attributes:
        path: from a row, of elements or attributes with a cell each; None where the text of the
            row has all of them.
        axis: path of an attribute of a row with its frequency; None for none.
        ignored: paths from a row of what means nothing.
        where: table of the dialect that says so, for messages.
    """

    path: "Path | None"
    axis: "Path | None"
    ignored: "tuple[Path, ...]"
    where: str


class Wrong(NamedTuple):
    """What stands where a cell might be: number of its row, counted from 0, and what to say."""

    row: int
    message: str


def not_plain(row: "_Element", cells: Cells, count: int) -> bool:
    """Whether a row may hold more than its cells.

    Args:
        row: the row.
        cells: where its cells stand.
        count: how many it should have.
    """
    path = cells.path
    elements = 0 if path is None else count * len(path.steps)
    attributes = 0 if path is None or path.attribute is None else count
    attributes += cells.axis is not None
    if _count("descendant::*")(row) != elements:
        return True
    if _count("descendant-or-self::*/@*")(row) != attributes:
        return True
    if path is None:
        return False
    texts = "descendant::text()" if path.attribute is not None else "text()"
    return bool(_count(f"{texts}[normalize-space()]")(row))


def wrong_place(rows: "Sequence[_Element]", cells: Cells) -> Wrong | None:
    """The first of what may stand in the place of a cell, or breaks one in two; None for nothing.

    An element before all cells is in no place of theirs where every row begins with it.
    """
    lead: list[object] | None = None
    keys = _KEYS.format(cells.where)
    for at, row in enumerate(rows):
        found = [row] if cells.path is None else every(row, cells.path)
        parted = next((cell for cell in found if _is_parted(cell)), None)
        if parted is not None:
            inner = next(of for of in parted if isinstance(of.tag, str))
            said = f"the text of a cell goes on behind <{_local(inner)}> in it"
            return Wrong(at, f"{said}, so that nobody can tell what the cell is; {keys}")
        if cells.path is None:
            continue
        before, among = _places(row, found, cells)
        lead = [of.tag for of in before] if lead is None else lead
        strays = among or (before if [of.tag for of in before] != lead else [])
        if strays:
            said = f"<{_local(strays[0])}> stands where a cell might, and holds {_shown(strays[0])}"
            return Wrong(at, f"{said}; {keys}")
        if len(before) < len(lead):
            said = f"<{str(lead[len(before)]).rpartition('}')[2]}> is missing before its cells"
            return Wrong(at, f"{said}, where the rows above have it; {keys}")
    return None


def others_in(rows: "Sequence[_Element]", cells: Cells) -> list[str]:
    """What stands in rows and is no cell, as it is called there."""
    found: dict[str, None] = {}
    for row in rows:
        own = set() if cells.path is None else set(every(row, cells.path))
        known = own | {outer for cell in own for outer in cell.iterancestors()}
        axis = cells.axis.attribute if cells.axis else None
        names = (of for of in _attributes(row, cells, row in own) if of != axis)
        found |= dict.fromkeys(f"@{name}" for name in names)
        for inner in row.iterdescendants():
            if not isinstance(inner.tag, str) or _ignored(inner, row, cells):
                continue
            if inner not in known:
                found[inner.tag] = None
            found |= dict.fromkeys(f"@{name}" for name in _attributes(inner, cells, inner in own))
    return list(found)


def _places(
    row: "_Element", cells: "Sequence[_Element]", held: Cells
) -> "tuple[list[_Element], list[_Element]]":
    """Elements beside the cells of a row: before the first, and before the last."""
    own = set(cells)
    outer = {of for cell in cells for of in cell.iterancestors()}
    before: list[_Element] = []
    among: list[_Element] = []
    left = len(own)
    for of in _beside(row, own, outer):
        if of in own:
            left -= 1
            if not left:
                break
        elif not _ignored(of, row, held):
            (before if left == len(own) else among).append(of)
    return before, among


def _beside(row: "_Element", own: "set[_Element]", outer: "set[_Element]") -> "Iterator[_Element]":
    """Cells, and elements beside them, in order."""
    for of in row:
        if of in outer and of not in own:
            yield from _beside(of, own, outer)
        elif isinstance(of.tag, str):
            yield of


def _is_parted(cell: "_Element") -> bool:
    """Whether an element stands in the midst of a text."""
    texts = [cell.text, *(of.tail for of in cell)]
    return sum(bool(text and text.strip()) for text in texts) > 1


def _ignored(element: "_Element", row: "_Element", cells: Cells) -> bool:
    """Whether an element of a row, or one around it, means nothing."""
    if not cells.ignored:
        return False
    line = [element]
    for outer in element.iterancestors():
        if outer is row:
            break
        line.insert(0, outer)
    return any(
        path.attribute is None
        and 0 < len(path.steps) <= len(line)
        and all(map(is_at, line, path.steps))
        for path in cells.ignored
    )


def _attributes(element: "_Element", cells: Cells, is_cell: bool) -> list[str]:
    """Names of attributes that are neither cells nor mean nothing."""
    known = {path.attribute for path in cells.ignored}
    if is_cell and cells.path is not None:
        known.add(cells.path.attribute)
    return [str(name) for name in element.attrib if name not in known]


def _local(element: "_Element") -> str:
    return str(element.tag).rpartition("}")[2]


def _shown(element: "_Element") -> str:
    text = "".join(map(str, element.itertext())).strip()
    return f"{text!r:.40}" if text else "nothing"


@lru_cache(maxsize=8)
def _count(what: str) -> "XPath":
    """Counts what stands in an element."""
    from lxml import etree

    return etree.XPath(f"count({what})")
