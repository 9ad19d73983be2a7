"""A schedule by the names that a job brings its spellings of places and reels to."""

from dataclasses import replace
from typing import TYPE_CHECKING

from sweepbook.schedule.model import End, Schedule, ScheduledLink

if TYPE_CHECKING:
    from sweepbook.project.spellings import Spellings


def respelled(schedule: Schedule, spellings: "Spellings") -> Schedule:
    """The schedule with one name for each place and reel.

    The spelling of a limit stays: the library of limits knows what the job means by it.
    """
    return replace(schedule, links=tuple(_link(link, spellings) for link in schedule.links))


def _link(link: ScheduledLink, spellings: "Spellings") -> ScheduledLink:
    return replace(
        link,
        near=_end(link.near, spellings),
        far=_end(link.far, spellings),
        place=spellings.place(link.place),
        reel=spellings.cable("reel", link.reel),
    )


def _end(end: End, spellings: "Spellings") -> End:
    return replace(end, place=spellings.place(end.place))
