"""A cable schedule, read."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from sweepbook.errors import SweepbookError
from sweepbook.record.links import plain_label

LEVELS = ("site", "building", "floor", "space", "cabinet", "unit", "panel", "port")
"""The levels of a place, from the widest to the narrowest, as a record has them."""


def same_name(text: str) -> str:
    """A name of a place for comparison: case and runs of blanks made one."""
    return " ".join(text.casefold().split())


class BadSchedule(SweepbookError):
    """A table cannot be taken for a cable schedule."""


@dataclass(frozen=True, slots=True)
class End:
    """One end of a scheduled link, as far as the schedule tells.

    Attributes:
        place: text by level; levels without a text are left out.
        termination: label of the termination, or "".
    """

    place: Mapping[str, str] = field(default_factory=dict)
    termination: str = ""


@dataclass(frozen=True, slots=True)
class ScheduledLink:
    """One link as ordered; texts that the schedule does not give are "".

    Attributes:
        line: where it stands in the schedule.
        label: as it stands there.
        limit, configuration: what it is to be tested to, as spelled there.
        cable, reel: what it is made of.
        near, far: the ends that the schedule calls "from" and "to".
        place: levels that the schedule gives for the link without saying for which end.
    """

    line: int
    label: str
    limit: str = ""
    configuration: str = ""
    cable: str = ""
    reel: str = ""
    near: End = field(default_factory=End)
    far: End = field(default_factory=End)
    place: Mapping[str, str] = field(default_factory=dict)

    @property
    def building(self) -> str:
        """The building without regard to case and blanks; one label may stand in several."""
        return same_name(self.level("building"))

    @property
    def own(self) -> tuple[str, str]:
        """What no other row may have: its label for comparison, and its building."""
        return plain_label(self.label), self.building

    def level(self, name: str) -> str:
        """A level of the place by which the link is sorted: its own, else the near end's."""
        for place in (self.place, self.near.place, self.far.place):
            if name in place:
                return place[name]
        return ""


@dataclass(frozen=True, slots=True)
class Fault:
    """A row that could not be taken, or not whole.

    Attributes:
        line: where it stands.
        message: what is wrong with it.
    """

    line: int
    message: str


@dataclass(frozen=True, slots=True)
class Schedule:
    """A schedule.

    Attributes:
        name: of the file.
        sha256: of its bytes.
        links: in the order of the rows; no label comes twice in one building.
        faults: rows that were not taken.
        unused: titles of columns that mean nothing here.
        again: lines passed over because they repeat the titles, or a line above them.
        named: title by role of the columns that somebody named; the others told themselves.
    """

    name: str
    sha256: str
    links: tuple[ScheduledLink, ...]
    faults: tuple[Fault, ...] = ()
    unused: tuple[str, ...] = ()
    again: int = 0
    named: Mapping[str, str] = field(default_factory=dict)

    @property
    def asks_for_limits(self) -> bool:
        """Whether it says of any link what it is to be tested to."""
        return any(link.limit for link in self.links)


NO_SCHEDULE = Schedule("", "", ())
