"""Curves and axes of XML nobody has described yet, as plain values."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from lxml.etree import _Element

    from sweepbook_plugins.xml.draft.tabular import TitlesAt
    from sweepbook_plugins.xml.draft.tree import Item


@dataclass
class Axis:
    """An element with frequencies that several curves may share.

    Attributes:
        element: of the axis.
        run: path of the elements with runs from there, and attribute by role; {} for a list.
        separator: text between the numbers of a list, or "".
        texts: the frequencies, as far as they are written out.
        point: path of elements with one frequency each, or "".
        held: path of the text of a list: ".", that of an attribute or of a child.
        item: key and value that the element is, or None.
    """

    element: "_Element"
    run: Mapping[str, str] = field(default_factory=dict)
    separator: str = ""
    texts: Sequence[str] = ()
    point: str = ""
    held: str = "."
    item: "Item | None" = None


@dataclass(frozen=True)
class Titled:
    """How a table is written whose columns are titled elsewhere in its element.

    Attributes:
        element: that holds the titles.
        at: where the titles stand.
        cells: path of the cells from a row, or "" where they are one text.
        separator: text between them, or "" for blanks.
        others: titles of columns that are no curves.
    """

    element: "_Element"
    at: "TitlesAt"
    cells: str
    separator: str
    others: tuple[str, ...] = ()


@dataclass
class Curve:
    """A curve.

    Attributes:
        element: that holds it and names it.
        values: path of the text with all values, or "" where it has an element a point.
        frequency: path of the text with its own frequencies, or "".
        separator: text between the numbers, or "" for blanks.
        sample: how a frequency and its value stand in one piece of the text, or "".
        point: path of the points; path of frequency and value from there.
        axis_texts, value_texts: its numbers, as far as they are written out.
        units: paths of units from a point.
        rivals: other numbers of the points by their path, such as a limit.
        column: where the same elements hold the points of several curves, the path of its values
            taken apart: what stands before its name, the name, what stands behind that.
        titled: how the titles and cells of a table are written whose columns are titled elsewhere.
        run: role and path of what describes equally spaced frequencies of its own.
        why: what is assumed of its column.
        told: texts that its element says by referring to another.
        is_row: whether it is rather a row of a table, with a number of each curve.
    """

    element: "_Element"
    values: str = ""
    frequency: str = ""
    separator: str = ""
    point: tuple[str, str, str] | None = None
    axis_texts: Sequence[str] = ()
    value_texts: Sequence[str] = ()
    units: Sequence[str] = ()
    rivals: dict[str, Sequence[str]] = field(default_factory=dict)
    column: tuple[str, str, str] | None = None
    titled: "Titled | None" = None
    run: dict[str, str] = field(default_factory=dict)
    sample: str = ""
    why: str = ""
    is_row: bool = False
    told: Sequence[str] = ()
