"""The texts of an element that states how near a curve comes to its limit, and what each is."""

import re
from collections.abc import Mapping
from itertools import islice, permutations
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.draft import phrases
from sweepbook.draft.numbers import either, is_figure, is_frequency, is_numeric
from sweepbook.draft.trade_words import LIMIT, MARGIN, UNIT, VALUES, VERDICT_KEYS, WORST
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
_UNIT = re.compile(r"(?:[\s_.(\[-]+db|(?<=[a-z])d[bB])[)\]]?$|(?<=[a-zà-ÿ])D[bB]$", re.IGNORECASE)
"""A unit of losses behind a name."""
_SAME = 0.0051
"""dB: so much may a margin with two places differ from limit less value, each rounded."""
MARGIN_ROLE, LIMIT_ROLE = "worst_margin.margin", "worst_margin.limit"
FREQUENCY_ROLE, VALUE_ROLE = "worst_margin.frequency", "worst_value.value"


class Cell(NamedTuple):
    """One text of an element: what it is called, the text, and its place from the element."""

    name: str
    text: str
    place: tuple[str, ...]


def cells_of(element: "_Element", tree: Tree) -> dict[str, Cell]:
    """Texts of an element, its attributes and its plain children, by their path.

    A child that has children or an attribute of its own besides a unit is none.
    """
    found = {
        tree.at(name): Cell(local(name), text, (f"@{name}",))
        for name, text in attributes(element).items()
    }
    for child in elements_in(element):
        plain = all(phrases.whole(local(name), UNIT) for name in attributes(child))
        if not len(child) and plain:
            cell = Cell(local_name(child), text_of(child), (str(child.tag), "."))
            found[tree.name(child)] = cell
    if not len(element):
        found["."] = Cell(local_name(element), text_of(element), (".",))
    return {path: cell for path, cell in found.items() if 0 < len(cell.text) <= LONGEST_WORD}


def roles_of(cells: Mapping[str, Cell], called: str) -> dict[str, str]:
    """What each text of an element that is called so is, by its path: each role once.

    A margin that no word names is told by what it comes to: limit less value, or the contrary.
    """
    found: dict[str, str] = {}
    for path, cell in cells.items():
        role = _role(_UNIT.sub("", cell.name), cell.text)
        if role and role not in found.values():
            found[path] = role
    if FREQUENCY_ROLE not in found.values():
        at = (path for path, cell in cells.items() if path not in found and _is_at(cell))
        found |= dict.fromkeys(islice(at, 1), FREQUENCY_ROLE)
    if MARGIN_ROLE not in found.values() and LIMIT_ROLE in found.values():
        limit = next(path for path, role in found.items() if role == LIMIT_ROLE)
        left = {path: cell for path, cell in cells.items() if path not in found}
        if told := _difference(cells[limit], left):
            found[told] = MARGIN_ROLE
    if MARGIN_ROLE not in found.values() and phrases.has(called, WORST):
        return _worst_value(cells, found)
    return found


def _role(name: str, text: str) -> str | None:
    if is_numeric(text):
        if phrases.whole(name, MARGIN):
            return MARGIN_ROLE
        if phrases.whole(name, LIMIT):
            return LIMIT_ROLE
        return FREQUENCY_ROLE if is_frequency(name) else None
    return "verdict" if phrases.whole(name, VERDICT_KEYS) else None


def _worst_value(cells: Mapping[str, Cell], found: Mapping[str, str]) -> dict[str, str]:
    """The roles of an element that is called a worst case and has no margin, if it has a value."""
    left = {path: of for path, of in cells.items() if path not in found and is_numeric(of.text)}
    named = [path for path, of in left.items() if phrases.whole(_UNIT.sub("", of.name), VALUES)]
    if not named:
        return dict(found)
    turned = {path: role.replace("worst_margin", "worst_value") for path, role in found.items()}
    return {**turned, named[0]: VALUE_ROLE}


def _is_at(cell: Cell) -> bool:
    """Whether a text may be a frequency by a small word before it."""
    return is_figure(cell.text) and phrases.whole(cell.name, _AT)


def _difference(limit: Cell, left: Mapping[str, Cell]) -> str | None:
    """The path of the number that is the difference between the limit and another number."""
    values = {path: of for path, cell in left.items() if (of := either(cell.text)) is not None}
    bound = either(limit.text)
    if bound is None:
        return None
    for (path, margin), (_, value) in permutations(values.items(), 2):
        measured = phrases.whole(_UNIT.sub("", left[path].name), VALUES)
        if abs(abs(value - bound) - abs(margin)) < _SAME and not measured:
            return path
    return None
