"""The texts of an element that states how near a curve comes to its limit, and what each is."""

from collections import Counter
from collections.abc import Mapping
from itertools import islice, permutations
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.draft import phrases
from sweepbook.draft.figure_words import (
    MARGIN_ROLE,
    VALUE_ROLE,
    Kind,
    is_at,
    kind_of,
    together,
    without_db,
)
from sweepbook.draft.numbers import either, is_figure, is_numeric, unit_named, without_unit
from sweepbook.draft.trade_words import FIGURES, FREQUENCY, MARGIN, VALUES, VERDICT_KEYS, WORST
from sweepbook.draft.verdicts import verdict_of
from sweepbook_plugins.xml.draft.tests import LONGEST_WORD
from sweepbook_plugins.xml.draft.tree import (
    Tree,
    attributes,
    elements_in,
    local,
    local_name,
    text_of,
)

if TYPE_CHECKING:
    from lxml.etree import _Element

_AT = ("at", "bei", "à", "en", "bij", "w", "při", "ved", "vid")
"""Names of the frequency of a margin beside it."""
_DB = "db"
"""Name of a loss or a margin by its unit alone."""
_SAME = 0.0051
"""dB: so much may a margin with two places differ from limit less value, each rounded."""
_MARGIN, _LIMIT = Kind("margin", at=False), Kind("limit", at=False)


class Cell(NamedTuple):
    """One text of an element.

    Attributes:
        name: what it is called.
        text: the text, without a unit behind its number.
        place: from the element.
        unit: what an attribute says that it counts, or that unit, or "".
    """

    name: str
    text: str
    place: tuple[str, ...]
    unit: str = ""


def cells_of(element: "_Element", tree: Tree) -> dict[str, Cell]:
    """Texts of an element, its attributes and its plain children, by their path.

    A child that has children or an attribute of its own besides a unit is none, and so is an id
    that is explained elsewhere. The place of one among several of its name is part of its path but
    for the first.
    """
    found = {
        tree.at(name): Cell(local(name), text, (f"@{name}",))
        for name, text in attributes(element).items()
        if tree.meant(element, text) is None
    }
    count: Counter[str] = Counter()
    for child in elements_in(element):
        name = tree.name(child)
        count[name] += 1
        plain = all(map(tree.names_unit, map(local, attributes(child))))
        if not len(child) and plain:
            unit = next(iter(attributes(child).values()), "")
            cell = Cell(local_name(child), text_of(child), (str(child.tag), "."), unit)
            found[name if count[name] == 1 else f"{name}[{count[name]}]"] = cell
    if not len(element):
        found["."] = Cell(local_name(element), text_of(element), (".",))
    return {
        path: _parted(cell) for path, cell in found.items() if 0 < len(cell.text) <= LONGEST_WORD
    }


def _parted(cell: Cell) -> Cell:
    """A text with the unit behind its number apart, if there is one."""
    text, unit = without_unit(cell.text)
    return cell._replace(text=text, unit=cell.unit or unit)


def roles_of(cells: Mapping[str, Cell], called: str, margin: str = "") -> dict[str, str]:
    """What each text of an element is, by its path: each role once.

    A margin that no word names is told by what it comes to: limit less value, or the contrary. An
    element that is called a worst case and has no margin holds the worst value; one that is called
    a margin, and has no limit either, holds that, as does one with a number called dB.

    Args:
        cells: the texts.
        called: name of the element.
        margin: path of a margin that only its sign tells, or "".
    """
    if margin in cells:
        cells = {path: _plainly(cell) for path, cell in cells.items()}
    named = {path: cell for path, cell in cells.items() if _is_called(cell)}
    kinds = {kind_of(cell.name): path for path, cell in named.items()}
    left = {path: cell for path, cell in cells.items() if path not in named}
    if not any(kind.at for kind in kinds):
        at = (path for path, cell in left.items() if _is_at(cell))
        named |= {path: left.pop(path)._replace(name=FREQUENCY[0]) for path in [*islice(at, 1)]}
    shown: dict[str, str] = {}
    if _MARGIN not in kinds and margin in left:
        shown = {MARGIN_ROLE: margin}
    elif _MARGIN not in kinds and (
        told := _difference(cells.get(kinds.get(_LIMIT, "")), left) or _in_db(left, called)
    ):
        shown = {MARGIN_ROLE: told}
    elif _MARGIN not in kinds and phrases.has(called, (*WORST, *MARGIN)):
        of_margin = phrases.has(called, MARGIN) and _LIMIT not in kinds
        values = [path for path, of in left.items() if is_numeric(of.text) and _is_value(of)]
        shown = {MARGIN_ROLE if of_margin else VALUE_ROLE: values[0]} if values else {}
    named |= {path: left[path] for path in shown.values()}
    found = together({path: (cell.name, [cell.text]) for path, cell in named.items()}, shown)
    return {path: role for role, path in found.items() if role == "verdict" or "." in role}


def _plainly(cell: Cell) -> Cell:
    """A text under the name that its unit, or a verdict, gives it, in whatever language."""
    if verdict_of(cell.text):
        return cell._replace(name=VERDICT_KEYS[0])
    return cell._replace(name=FREQUENCY[0]) if unit_named(cell.unit) else cell


def _is_called(cell: Cell) -> bool:
    """Whether a text is called a figure, and nothing else, and is a number or a verdict."""
    if not is_numeric(cell.text):
        return phrases.whole(cell.name, VERDICT_KEYS)
    words = (word for some in FIGURES.values() for word in some)
    return phrases.whole(without_db(cell.name), words) or is_at(cell.name)


def _is_value(cell: Cell) -> bool:
    return phrases.whole(without_db(cell.name), VALUES)


def _in_db(cells: Mapping[str, Cell], called: str) -> str | None:
    """The path of the number that is called by its unit alone, in what is called a margin."""
    if not phrases.has(called, MARGIN):
        return None
    numbers = (path for path, cell in cells.items() if is_numeric(cell.text))
    return next((path for path in numbers if phrases.whole(cells[path].name, (_DB,))), None)


def _is_at(cell: Cell) -> bool:
    """Whether a text may be a frequency by a small word before it."""
    return is_figure(cell.text) and phrases.whole(cell.name, _AT)


def _difference(limit: Cell | None, left: Mapping[str, Cell]) -> str | None:
    """The path of the number that is the difference between the limit and another number."""
    values = {path: of for path, cell in left.items() if (of := either(cell.text)) is not None}
    bound = None if limit is None else either(limit.text)
    if bound is None:
        return None
    for (path, margin), (_, value) in permutations(values.items(), 2):
        if abs(abs(value - bound) - abs(margin)) < _SAME and not _is_value(left[path]):
            return path
    return None
