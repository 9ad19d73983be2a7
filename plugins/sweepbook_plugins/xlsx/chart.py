"""A native chart of a group of curves against their limit, the worst point marked.

Colours are those of Okabe and Ito, which the common colour deficiencies leave apart; a second dozen
of curves is dashed besides.
"""

import math
from typing import TYPE_CHECKING, Any

from sweepbook import shown

if TYPE_CHECKING:
    from sweepbook_plugins.xlsx.sweeps import Group
    from sweepbook_plugins.xlsx.sweeps_sheet import Place

WIDTH, HEIGHT = 620, 360
"""Pixels."""
_COLOURS = ("#0072B2", "#D55E00", "#009E73", "#CC79A7", "#56B4E9", "#E69F00")
_DASHES = ("solid", "dash", "round_dot")
_LIMIT, _WORST = "#000000", "#B00020"
_SMALL = {"size": 8, "name": "Arial"}
_GRID = {"visible": True, "line": {"width": 0.5, "color": "#D0D0D0"}}
_TITLES, _FIRST = 3, 4
"""Rows counted from 0."""


def chart(workbook: Any, group: "Group", place: "Place") -> Any:  # noqa: ANN401
    """The chart, ready to be put on the sheet that has the figures.

    Args:
        workbook: xlsxwriter's; it ships no types.
        group: what it shows.
        place: where the figures of the group stand.
    """
    made = workbook.add_chart({"type": "scatter", "subtype": "straight"})
    for at in range(len(group.names)):
        colour = _COLOURS[at % len(_COLOURS)]
        dash = _DASHES[at // len(_COLOURS) % len(_DASHES)]
        line = {"color": colour, "width": 1, "dash_type": dash}
        made.add_series(_series(place, place.column + 2 + at, line))
    made.add_series(_series(place, place.column + 1, {"color": _LIMIT, "width": 1.75}))
    if group.worst is not None:
        made.add_series(_worst(place))
    lowest = 10 ** math.floor(math.log10(max(float(group.frequency_mhz[0]), 1e-3)))
    made.set_x_axis({
        "name": "Frequency, MHz", "log_base": 10, "min": lowest,
        "max": float(group.frequency_mhz[-1]), "num_format": "0.###", "label_position": "low",
        "name_font": {**_SMALL, "bold": False}, "num_font": _SMALL, "major_gridlines": _GRID,
    })  # fmt: skip
    made.set_y_axis({
        "name": f"{group.parameter}, {group.unit}", "num_format": "0.##", "crossing": "min",
        "name_font": {**_SMALL, "bold": False}, "num_font": _SMALL, "major_gridlines": _GRID,
        "label_position": "low",
    })  # fmt: skip
    made.set_title({"name": _title(group), "name_font": {"size": 10, "name": "Arial"}})
    made.set_legend({"position": "bottom", "font": _SMALL})
    made.set_size({"width": WIDTH, "height": HEIGHT})
    made.show_blanks_as("gap")
    return made


def _series(place: "Place", column: int, line: dict[str, Any]) -> dict[str, Any]:
    """A line through the figures of a column; its title names it."""
    rows = (_FIRST, place.last - 1)
    return {
        "name": [place.sheet, _TITLES, column],
        "categories": [place.sheet, rows[0], place.column, rows[1], place.column],
        "values": [place.sheet, rows[0], column, rows[1], column],
        "line": line,
        "marker": {"type": "none"},
    }


def _title(group: "Group") -> str:
    """What is shown, and where it is nearest to its limit."""
    if group.worst is None or group.margin is None:
        return group.title
    row, at = group.worst
    nearest = f"{shown.signed(group.margin)} {group.unit} at {float(group.frequency_mhz[at]):g} MHz"
    return f"{group.title}: {nearest}, {group.names[row]}"


def _worst(place: "Place") -> dict[str, Any]:
    """The point with the smallest margin."""
    row, at = place.worst - 1, place.worst_at
    return {
        "name": "Worst margin",
        "categories": [place.sheet, row, at, row, at],
        "values": [place.sheet, row, at + 1, row, at + 1],
        "line": {"none": True},
        "marker": {
            "type": "diamond", "size": 9,
            "border": {"color": _WORST, "width": 1.5}, "fill": {"none": True},
        },
    }  # fmt: skip
