"""What a walk through elements finds, and how it says where."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.dialect.raw import Cell, Fault, Name, OfDialect, RawFigure
from sweepbook_plugins.xml.layout import AxisForm, CurveForm, PointForm
from sweepbook_plugins.xml.lists import Listed
from sweepbook_plugins.xml.points import Points

if TYPE_CHECKING:
    from lxml.etree import _Element

MOST_FAULTS = 100
MOST_LEFT = 500_000
"""Texts of one test that nothing mentions."""

_BESIDE = re.compile(r"\[\.\./([^./,=\]]+=[^,\]]*)\]")
BIG_LINE = 65_535
SHOWN = 160
LISTED = 5

Early = Mapping["_Element", tuple[PointForm, Points]]
"""Points by the element of their curve."""


class Axis(NamedTuple):
    """Frequencies that curves share.

    Attributes:
        listed: the frequencies, or what is wrong with them.
        place: where they stand.
    """

    listed: Listed | Fault
    place: str


class CurveAt(NamedTuple):
    """An element that holds a curve, or the points of one among others.

    Attributes:
        name: what it is of.
        form: how it is written.
        element: the element.
        where: path of the element that `path` begins at.
        path: from there, with what names it.
        points: its points, where it has an element each, else None.
        column: path of its values in the elements of points, where these hold several curves.
        text: its list of values, where that is one text.
    """

    name: Name
    form: CurveForm
    element: "_Element"
    where: str
    path: str
    points: Points | None = None
    column: str = ""
    text: str = ""

    def place(self) -> str:
        """Where it stands, for messages: told only where one is made."""
        return place(self.element, self.where, self.path)


@dataclass
class Found:
    """What a walk has found.

    Attributes:
        properties: texts by key of the dialect.
        figures: single figures.
        curves: curves, to be read when all axes are known.
        axes: form, element and place of each shared axis that has not been read, and what it is of.
        read: the axes that have.
        left: texts that nothing took, by path.
        faults: faults that lose the test.
        notes: faults that do not.
        kept: how many texts nothing took.
        wires: texts of a wire map by key, each with the element that holds the whole wire.
        lists: elements with a list of a curve that figures look for as well, and the name of its
            attribute, "" for the text.
    """

    properties: dict[str, Cell] = field(default_factory=dict)
    figures: list[RawFigure] = field(default_factory=list)
    curves: list[CurveAt] = field(default_factory=list)
    axes: list["tuple[AxisForm, _Element, str, Name | None]"] = field(default_factory=list)
    read: dict[str | Name, Axis] = field(default_factory=dict)
    left: dict[str, list[str]] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)
    notes: list[Fault] = field(default_factory=list)
    kept: int = 0
    wires: "dict[str, list[tuple[_Element, Cell]]]" = field(default_factory=dict)
    lists: "set[tuple[_Element, str]]" = field(default_factory=set)

    def keep(self, path: str, text: str) -> None:
        """Keep a text that nothing took.

        Raises:
            Fault: there are more than any test has.
        """
        self.left.setdefault(path, []).append(text)
        self.kept += 1
        if self.kept > MOST_LEFT:
            raise Fault("", f"more than {MOST_LEFT:,} texts in it are mentioned nowhere")

    def fault(self, place: str, message: str) -> None:
        """Note what loses the test; of very many the first hundred will do."""
        if len(self.faults) < MOST_FAULTS:
            self.faults.append(Fault(place, message))

    def note(self, place: str, message: str) -> None:
        """Note what does not."""
        if len(self.notes) < MOST_FAULTS:
            self.notes.append(Fault(place, message))

    def note_of_dialect(self, place: str, message: str) -> None:
        """Note what does not, and is the same of every test."""
        if len(self.notes) < MOST_FAULTS:
            self.notes.append(OfDialect(place, message))


def line_of(element: "_Element") -> str:
    """The line of an element for messages."""
    line = element.sourceline
    if line is None:
        return "line unknown"
    return f"line {line}" if line != BIG_LINE else f"line {line} or later"


def place(element: "_Element", where: str, path: str) -> str:
    """Where an element or attribute stands, for messages.

    Args:
        element: for its line.
        where: path of the element that `path` begins at.
        path: from there, "" for that element itself; or from the root, with a leading slash.
    """
    whole = path if path.startswith("/") else f"{where}/{path}" if path else where
    return f"{line_of(element)}, {whole if len(whole) <= SHOWN else f'{whole[:SHOWN]}...'}"


def listed(texts: Sequence[str]) -> str:
    """The first five texts in quotes, and how many more there are."""
    more = f" and {len(texts) - LISTED} more" if len(texts) > LISTED else ""
    return ", ".join(map(repr, texts[:LISTED])) + more


def called(path: str, said: str) -> str:
    """The path of an element with what names it, as a dialect would write it where it can.

    A child beside the element chooses the one around both: `item[name=Length]/value`.
    """
    if not (beside := _BESIDE.fullmatch(said)):
        return path if path.endswith(said) else path + said
    outer, _, inner = path.rpartition("/")
    condition = f"[{beside[1]}]"
    return path if condition in outer or not outer else f"{outer}{condition}/{inner}"


def joined(path: str, step: str) -> str:
    """A path and one more step."""
    return f"{path}/{step}" if path else step
