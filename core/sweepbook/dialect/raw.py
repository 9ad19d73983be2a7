"""What a reader hands over: the texts of one test, sorted by what they are, with their places."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, NamedTuple


class Cell(NamedTuple):
    """A text and where it stands, for messages: "line 12, column 'Value'".

    Attributes:
        text: the text.
        place: where it stands.
        more: further texts under the same key, where several make one wire map.
    """

    text: str
    place: str
    more: tuple[str, ...] = ()

    @property
    def texts(self) -> tuple[str, ...]:
        """All texts under its key."""
        return (self.text, *self.more)

    def placed(self, place: Callable[[str], str]) -> "Cell":
        """The same with its place told in another way."""
        return self._replace(place=place(self.place))


class Name(NamedTuple):
    """What a curve or a figure is of.

    Attributes:
        parameter: word of the vocabulary.
        pairs: none, one pair, or two; [disturbing, disturbed] for crosstalk.
        end: near, far or None; of far-end crosstalk the receiving end.
        unit: name of the unit that stands in it; "" where none does.
    """

    parameter: str
    pairs: tuple[str, ...] = ()
    end: str | None = None
    unit: str = ""

    @property
    def bare(self) -> "Name":
        """The same without the unit, which tells no two things apart."""
        return self._replace(unit="") if self.unit else self

    def __str__(self) -> str:
        parts = (self.parameter, "/".join(self.pairs), self.end)
        return " ".join(part for part in parts if part)


class Fault(Exception):
    """Something in a file that cannot be taken as it stands.

    Args:
        place: where, for people.
        message: what was read, what was expected, and the dialect's key to change.
    """

    def __init__(self, place: str, message: str) -> None:
        self.place = place
        self.message = message
        super().__init__(f"{place}: {message}" if place else message)


class Cause(Fault):
    """One that loses nothing by itself, and may be why others do: it is told before them."""


class Unswept(Fault):
    """One that says that a test has no curves: of no use where its wire map is stated to fail."""


class Rowless(Unswept):
    """One on titles without rows: where the wire map is stated to fail a note beside the record."""


class OfDialect(Fault):
    """One of the dialect more than of a test: told of the first test of a file that has it."""


class NotUnderstood(Fault):
    """One that says that no line, title or element of a file is as the dialect says."""


class RawCurve(NamedTuple):
    """One curve as texts.

    Attributes:
        name: what it is of.
        frequency: n texts.
        value: n texts.
        place_of: place of the value at a position, for messages.
        axis_place_of: place of the frequency at a position.
    """

    name: Name
    frequency: Sequence[str]
    value: Sequence[str]
    place_of: Callable[[int], str]
    axis_place_of: Callable[[int], str]


class RawFigure(NamedTuple):
    """One single figure as text.

    Attributes:
        name: what it is of.
        role: value, frequency, verdict, limit, or a figure that was stated:
            worst_margin.margin, worst_margin.frequency, worst_margin.limit, worst_value.value,
            worst_value.frequency, worst_value.limit, and pairs and end of either.
        cell: the text.
        key: what the source calls it, where it has a key of its own.
    """

    name: Name
    role: str
    cell: Cell
    key: str = ""


@dataclass(slots=True)
class RawTest:
    """All of one test, still as texts.

    Attributes:
        locator: where it stands in the file: "lines 12-1042".
        properties: texts by the key of the source.
        curves: curves in the order of the source.
        grids, sweeps: of a record, where the reader makes them itself.
        figures: single figures that the reader itself could tell by name.
        extra: texts by key that the reader found no role for.
        faults: faults that lose the test.
        notes: faults that do not.
        assumed: what the reader assumed or left out, in words; goes beside the record.
        joined: origins of the parts of the test that stood in another file.
        whole_file: what of this stands in the file once and counts for every test of it, if any.
    """

    locator: str
    properties: dict[str, Cell] = field(default_factory=dict)
    curves: list[RawCurve] = field(default_factory=list)
    grids: list[dict[str, Any]] = field(default_factory=list)
    sweeps: list[dict[str, Any]] = field(default_factory=list)
    figures: list[RawFigure] = field(default_factory=list)
    extra: dict[str, str] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)
    notes: list[Fault] = field(default_factory=list)
    assumed: list[str] = field(default_factory=list)
    joined: list[Mapping[str, Any]] = field(default_factory=list)
    whole_file: "RawTest | None" = None
