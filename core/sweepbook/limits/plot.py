"""Limit lines as a picture: a panel a parameter, a line a table, each named where it ends."""

from collections.abc import Sequence
from contextlib import AbstractContextManager
from dataclasses import dataclass
from pathlib import Path
from textwrap import fill
from typing import TYPE_CHECKING, Any

import numpy as np

from sweepbook import files
from sweepbook.errors import SweepbookError
from sweepbook.limits.formulas import Floats
from sweepbook.limits.interpretations import Interpretations
from sweepbook.limits.lines import LimitLine
from sweepbook.limits.model import LimitTable
from sweepbook.limits.shapes import line

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

SUFFIXES = (".svg", ".png")
MOST_TABLES = 6
_POINTS = 800
_PANEL_INCHES = (6.4, 3.4)
_LETTERS = 95
"""Of the small print, to the width of a panel."""
_ROOM_FOR_NAMES = 0.34
"""Of the width of a panel, right of the lines."""
_LOOKS: tuple[tuple[str, Any], ...] = (
    ("#0072B2", "-"),
    ("#D55E00", (0, (6, 2))),
    ("#009E73", (0, (2, 1.4))),
    ("#7F3C8D", (0, (8, 2, 2, 2))),
    ("#4D4D4D", (0, (1, 1))),
    ("#B8860B", (0, (4, 1, 1, 1, 1, 1))),
)
"""Colour and dashes of each line. The first three colours are of the palette of Okabe and Ito
(Color Universal Design, 2008), which colour-blind people tell apart; the dashes tell all six apart
in grey."""
_TICKS_MHZ = (1, 4, 10, 31.25, 100, 250, 500, 1000, 2000)
_APART = 1.2
"""So many times the one before a frequency must be for both to be written on the axis."""
_SENSE = {"min": "at least", "max": "at most"}


@dataclass(frozen=True, slots=True, eq=False)
class Drawn:
    """One line of a panel.

    Attributes:
        name: what is written where it ends.
        look: its colour and its dashes.
        frequency_mhz, limit: the line and where it runs, [n].
    """

    name: str
    look: tuple[str, Any]
    frequency_mhz: Floats
    limit: LimitLine


def plot(tables: Sequence[LimitTable], parameters: Sequence[str], target: Path) -> None:
    """Draw the limits of some tables into one picture.

    The same tables give the same bytes as SVG. Limits that are known only within an interval are
    drawn with a band; each name tells the worst grade of its line.

    Args:
        tables: one to six.
        parameters: words of the vocabulary, a panel each; empty for all that any of the tables
            limits over frequency.
        target: ends in .svg or .png.

    Raises:
        SweepbookError: matplotlib is not installed, the ending is another, there are too many
            tables, or none of them limits one of the parameters over frequency.
    """
    if target.suffix.lower() not in SUFFIXES:
        raise SweepbookError(
            f"{target} ends in none of {', '.join(SUFFIXES)}.", "Name the picture so after -o."
        )
    if len(tables) > MOST_TABLES:
        raise SweepbookError(
            f"{len(tables)} tables do not go into one picture.", f"Name {MOST_TABLES} at the most."
        )
    panels = [(name, _lines(tables, name)) for name in parameters or _all(tables)]
    lacking = () if parameters else without_line(tables)
    for name, drawn in panels:
        if not drawn:
            raise SweepbookError(
                f"No limit over frequency is set for {name} here.",
                f"Limits over frequency: {', '.join(_all(tables))}.",
            )
    kind = target.suffix.lower()[1:]
    metadata = {"Date": None} if kind == "svg" else {"Software": "sweepbook"}
    with _settings(), files.replaced(target) as part:
        _figure(tables, panels, lacking).savefig(part, format=kind, dpi=150, metadata=metadata)


def _all(tables: Sequence[LimitTable]) -> list[str]:
    """Every parameter that a table limits over frequency, in the order of the tables."""
    found = {name: None for table in tables for name in table.parameters if _runs(table, name)}
    return list(found)


def without_line(tables: Sequence[LimitTable]) -> list[str]:
    """Titles of what the tables limit by single figures, so that there is no line to draw."""
    drawn = _all(tables)
    every = {name: limit.title for table in tables for name, limit in table.parameters.items()}
    return [title for name, title in every.items() if name not in drawn]


def _runs(table: LimitTable, name: str) -> bool:
    limit = table.parameters.get(name)
    return limit is not None and limit.f_min_mhz is not None and limit.f_min_mhz != limit.f_max_mhz


def _lines(tables: Sequence[LimitTable], name: str) -> list[Drawn]:
    drawn = []
    for table, called, look in zip(tables, _names(tables), _LOOKS, strict=False):
        if not _runs(table, name):
            continue
        limit = table.parameters[name]
        ends = [edge for s in limit.segments for edge in (s.from_mhz, s.to_mhz) if edge is not None]
        even = np.geomspace(min(ends), max(ends), _POINTS)
        frequency = np.unique(np.concatenate([even, ends, np.nextafter(ends, 0.0)]))
        frequency = frequency[(frequency >= min(ends)) & (frequency <= max(ends))]
        found = line(table, name, frequency, Interpretations.load())
        if np.isfinite(found.value).any():
            drawn.append(Drawn(f"{called} ({limit.grade})", look, frequency, found))
    return drawn


def _names(tables: Sequence[LimitTable]) -> list[str]:
    """Each path without the document, which the title names below; whole where two are alike."""
    short = ["/".join(table.path.split("/")[1:]) for table in tables]
    return [
        name if short.count(name) == 1 else table.path
        for name, table in zip(short, tables, strict=True)
    ]


def _settings() -> AbstractContextManager[None]:
    """Matplotlib's settings while a picture is made.

    Raises:
        SweepbookError: it is not installed.
    """
    try:
        from matplotlib import rc_context
    except ModuleNotFoundError as error:
        if error.name != "matplotlib":
            raise
        raise SweepbookError(
            "Drawing needs matplotlib, which is not installed.",
            "Install it where sweepbook is: pip install matplotlib.",
        ) from error
    settings: dict[Any, Any] = {
        "svg.hashsalt": "sweepbook",
        "svg.fonttype": "none",
        "font.size": 9,
    }
    return rc_context(settings)


def _figure(
    tables: Sequence[LimitTable],
    panels: Sequence[tuple[str, list[Drawn]]],
    lacking: Sequence[str],
) -> "Figure":
    """The whole picture."""
    from matplotlib.figure import Figure

    columns = 1 if len(panels) == 1 else 2
    rows = -(-len(panels) // columns)
    width, height = _PANEL_INCHES
    figure = Figure(figsize=(width * columns, height * rows + 0.8), layout="constrained")
    axes = list(figure.subplots(rows, columns, squeeze=False).flat)
    for place, (name, drawn) in zip(axes, panels, strict=False):
        _panel(place, name, tables, drawn)
    for place in axes[len(panels) :]:
        place.set_axis_off()
    titles = dict.fromkeys(table.title for table in tables)
    said = (
        f"{'; '.join(titles)}. In brackets: how well the limit is known, A best. "
        "A band: known within an interval only."
    )
    said += f" Single figures, not drawn: {'; '.join(lacking)}." if lacking else ""
    figure.supxlabel(fill(said, _LETTERS * columns), fontsize=8, color="#4D4D4D")
    return figure


def _panel(axes: "Axes", name: str, tables: Sequence[LimitTable], drawn: Sequence[Drawn]) -> None:
    """One parameter."""
    limit = next(table.parameters[name] for table in tables if _runs(table, name))
    last = max(float(one.frequency_mhz[-1]) for one in drawn)
    first = min(float(one.frequency_mhz[0]) for one in drawn)
    axes.set_xscale("log")
    ticks = [first, *(t for t in _TICKS_MHZ if first * _APART <= t <= last / _APART), last]
    axes.set_xticks(ticks, [f"{tick:g}" for tick in ticks])
    axes.minorticks_off()
    axes.set_xlim(first, first * (last / first) ** (1 / (1 - _ROOM_FOR_NAMES)))
    axes.spines[["top", "right"]].set_visible(False)
    axes.spines["bottom"].set_bounds(first, last)
    axes.set_axisbelow(True)
    axes.grid(visible=True, color="#E3E3E3", linewidth=0.6)
    axes.axvspan(last, axes.get_xlim()[1], color="white", zorder=1)
    axes.set_title(f"{limit.title}, {_SENSE[limit.sense]}", loc="left", fontsize=10)
    axes.set_xlabel("frequency, MHz")
    axes.set_ylabel(f"limit, {limit.unit}")
    for one in drawn:
        colour, dashes = one.look
        x, value = one.frequency_mhz, one.limit.value
        axes.fill_between(x, one.limit.low, one.limit.high, color=colour, alpha=0.15, linewidth=0)
        axes.plot(x, value, color=colour, linestyle=dashes, linewidth=1.6)
    _name_lines(axes, drawn, last * 1.08)


def _name_lines(axes: "Axes", drawn: Sequence[Drawn], right_of: float) -> None:
    """Write the names right of all lines, each beside the end of its own and apart from others."""
    low, high = axes.get_ylim()
    step = (high - low) * 0.075
    ends = sorted(((_end(one)[1], one) for one in drawn), key=lambda pair: pair[0])
    room = low
    for value, one in ends:
        place = max(value, room)
        room = place + step
        colour, _ = one.look
        axes.annotate(
            one.name, xy=_end(one), xytext=(right_of, place), color=colour,
            fontsize=8, va="center", annotation_clip=False,
            arrowprops={
                "arrowstyle": "-", "color": colour, "linewidth": 0.5, "shrinkB": 0,
                "relpos": (0, 0.5),
            },
        )  # fmt: skip
    axes.set_ylim(low, max(high, room))


def _end(one: Drawn) -> tuple[float, float]:
    """The last point of a line."""
    known = np.flatnonzero(np.isfinite(one.limit.value))
    return float(one.frequency_mhz[known[-1]]), float(one.limit.value[known[-1]])
