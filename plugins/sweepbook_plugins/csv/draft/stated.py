"""Rows of a table of curves that are no points: what they state of each curve, if anything."""

from collections.abc import Mapping, Sequence

from sweepbook.draft import phrases
from sweepbook.draft.absent_words import says
from sweepbook.draft.fields import are_verdicts
from sweepbook.draft.numbers import is_frequency, is_numeric
from sweepbook.draft.trade_words import LIMIT, MARGIN
from sweepbook_plugins.csv.draft.text import Cells

Stated = dict[str, str]
"""Text in the column of frequencies by role."""


def stated(rows: Mapping[str, Cells]) -> Stated:
    """What rows state, by role.

    Args:
        rows: cells of each below the curves, those that are not blank, by what it begins with.
    """
    found: Stated = {}
    for text, cells in rows.items():
        role = _role(text, cells, margin="worst_margin.margin" in found)
        if role:
            found.setdefault(role, text)
    return found


def as_figures(found: Stated) -> dict[str, object]:
    """The same as a dialect writes it."""
    margin = {role.partition(".")[2]: of for role, of in found.items() if "." in role}
    plain: dict[str, object] = {role: of for role, of in found.items() if "." not in role}
    return {**plain, "worst_margin": margin} if margin else plain


def _role(text: str, cells: Sequence[str], *, margin: bool) -> str | None:
    if are_verdicts(cells):
        return "verdict"
    cells = list(filter(says, cells))
    if not cells or not all(map(is_numeric, cells)):
        return None
    if is_frequency(text) or text.casefold().split()[:1] == ["at"]:
        return "worst_margin.frequency" if margin else None
    if phrases.has(text, MARGIN):
        return "worst_margin.margin"
    return "worst_margin.limit" if margin and phrases.has(text, LIMIT) else None
