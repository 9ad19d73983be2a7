"""Which text of an element with a single figure is what, in XML nobody has described yet."""

import re
from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from typing import TYPE_CHECKING

from sweepbook.dialect.parameters import quantity_of
from sweepbook.draft import phrases
from sweepbook.draft.figure_words import needs_no_pairs, role_of
from sweepbook.draft.naming import Naming
from sweepbook.draft.numbers import is_frequency, is_numeric
from sweepbook.draft.parsed import Named, plausible
from sweepbook.draft.trade_words import LIMIT, VALUES
from sweepbook.draft.verdicts import verdict_of
from sweepbook_plugins.xml.draft.tree import Tree, attributes, chain, local, text_of

if TYPE_CHECKING:
    from lxml.etree import _Element

_DIGITS = re.compile("[0-9]+")
_LISTED = re.compile(r"[0-9]{1,2}(?:[,;/| ]+[0-9]{1,2}){2,}")
"""Numbers of pairs side by side: no figure."""
_WORDS_OF_A_FIGURE = 3
"""No more: a number and a unit, or a verdict; others are lists."""


def texts_of(element: "_Element", tree: Tree) -> dict[str, str]:
    """Text and attributes of an element that may be figures, by path, the likeliest first."""
    found = {".": text_of(element)}
    found |= {
        tree.at(name): text
        for name, text in attributes(element).items()
        if not is_frequency(local(name))
        and not tree.names_unit(local(name))
        and tree.meant(element, text) is None
    }
    short = {
        path: text
        for path, text in found.items()
        if 0 < len(text.split()) <= _WORDS_OF_A_FIGURE and not _LISTED.fullmatch(text)
    }
    return dict(
        sorted(short.items(), key=lambda of: of[0] != "." and not phrases.whole(of[0], VALUES))
    )


def roles_of(steps: Sequence[str], cells: Mapping[str, str]) -> dict[str, str]:
    """The path of the text that is each figure; each role once."""
    found: dict[str, str] = {}
    for path, text in cells.items():
        role = role_of(" ".join([*steps, path]), [text])
        if role == "verdict" and is_numeric(text):
            role = None if phrases.has(path, LIMIT) else "value"
        if role and role not in found and (role != "value" or "." not in found.values()):
            found[role] = path
    return found


def of_pairs_in(cells: Mapping[str, str], naming: Naming) -> set[str]:
    """The paths of attributes that are called by a pair each, so that none is of the whole link.

    So are such as differ in no more than a number, where nothing says how pairs are called.
    """
    called = [path for path in cells if path.startswith("@")]
    parsed = {path: naming.parse(path[1:]) for path in called}
    stems = Counter(_DIGITS.sub("", path) for path in called if _DIGITS.search(path))
    counted = {path for path in called if stems[_DIGITS.sub("", path)] > 1}
    return counted | {path for path, part in parsed.items() if part.pairs and part.clean}


def may_lack(name: Named, cells: Mapping[str, str], taken: Collection[str]) -> str | None:
    """The path of a text that may say that there is no figure, where others are numbers."""
    if quantity_of(name.parameter or "length") in ("", "loss"):
        return None
    for path, text in cells.items():
        if path not in taken and not any(map(str.isdigit, text)) and verdict_of(text) is None:
            return path
    return None


def frequency_at(tree: Tree, element: "_Element", test: "_Element") -> str:
    """The path of an attribute with a frequency, of an element or of one around it; else ""."""
    for up, one in enumerate(reversed(chain(element, test))):
        for name, text in attributes(one).items():
            if is_frequency(local(name)) and is_numeric(text):
                return f"{'../' * up}{tree.at(name)}"
    return ""


def fits(name: Named, role: str, *, measured_at: bool, swept: Collection[str | None]) -> bool:
    """Whether a figure of this role can have the name.

    Args:
        name: what names it.
        role: what it is.
        measured_at: whether a frequency stands beside it.
        swept: parameters that have curves: a single value of one is a stated one of some kind.
    """
    if name.parameter == "wire_map" and role != "verdict":
        return False
    loss = role == "value" and quantity_of(name.parameter or "length") == "loss"
    if loss and (not measured_at or name.parameter in swept):
        return False
    return plausible(name) or (needs_no_pairs(role) and not name.pairs)
