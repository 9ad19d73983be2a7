"""A schedule by the names that a job brings its spellings of labels, places and reels to."""

from dataclasses import replace
from typing import TYPE_CHECKING

from sweepbook.schedule.model import End, Fault, Schedule, ScheduledLink

if TYPE_CHECKING:
    from sweepbook.project.spellings import Spellings


def respelled(schedule: Schedule, spellings: "Spellings") -> Schedule:
    """The schedule with one form of each label and one name for each place and reel.

    The spelling of a limit stays: the library of limits knows what the job means by it. Of rows
    that turn out to be of one link only the first is taken.
    """
    links: dict[tuple[str, str], ScheduledLink] = {}
    faults: list[Fault] = []
    for row in schedule.links:
        link = _link(row, spellings)
        first = links.setdefault(link.own, link)
        if first is not link:
            how = "" if row.label == link.label else f" is {link.label} by the project file, and"
            said = f"{row.label}{how} stands in line {first.line} already; this row was not taken."
            faults.append(Fault(row.line, said))
    every = sorted((*schedule.faults, *faults), key=lambda fault: fault.line)
    return replace(schedule, links=tuple(links.values()), faults=tuple(every))


def _link(link: ScheduledLink, spellings: "Spellings") -> ScheduledLink:
    return replace(
        link,
        label=spellings.label(link.label),
        near=_end(link.near, spellings),
        far=_end(link.far, spellings),
        place=spellings.place(link.place),
        reel=spellings.cable("reel", link.reel),
    )


def _end(end: End, spellings: "Spellings") -> End:
    return replace(end, place=spellings.place(end.place))
