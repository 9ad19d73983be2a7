"""Rows of a table of curves that are no points: what they state of each curve, if anything."""

from collections.abc import Mapping

from sweepbook.draft.figure_words import together
from sweepbook_plugins.csv.draft.text import Cells

Stated = dict[str, str]
"""Text in the column of frequencies by role."""


def stated(rows: Mapping[str, Cells]) -> Stated:
    """What rows state, by role.

    Args:
        rows: cells of each below the curves, those that are not blank, by what it begins with.
    """
    found = together({text: (text, cells) for text, cells in rows.items()})
    return {role: text for role, text in found.items() if role == "verdict" or "." in role}


def as_figures(found: Stated) -> dict[str, object]:
    """The same as a dialect writes it."""
    plain: dict[str, object] = {role: of for role, of in found.items() if "." not in role}
    groups: dict[str, dict[str, str]] = {}
    for role, of in found.items():
        group, _, figure = role.partition(".")
        if figure:
            groups.setdefault(group, {})[figure] = of
    return {**plain, **groups}
