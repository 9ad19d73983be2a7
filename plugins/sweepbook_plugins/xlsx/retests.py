"""The sheet of what has to be tested again: one row a link, by floor, room and panel."""

from sweepbook.retests.collect import Retest
from sweepbook.retests.document import looks
from sweepbook_plugins.xlsx.layout import Cell, Column, Layout, Row
from sweepbook_plugins.xlsx.links import NO_LABEL
from sweepbook_plugins.xlsx.look import Kind

_WAY = ("building", "floor", "space", "cabinet", "panel", "port")
_BESIDES = ("site", "unit")
"""Levels of the place by which one finds it, and the others."""
_COLUMNS = (
    Column("Link", 15, Kind.TEXT),
    Column("Building", 12, Kind.TEXT),
    Column("Floor", 7, Kind.TEXT),
    Column("Space", 11, Kind.TEXT),
    Column("Cabinet", 9, Kind.TEXT),
    Column("Panel", 8, Kind.TEXT),
    Column("Port", 8, Kind.TEXT),
    Column("State", 12, Kind.WORD),
    Column("Why", 44, Kind.PROSE),
    Column("Where to look first (hints only)", 46, Kind.PROSE),
    Column("Limit", 38, Kind.TEXT),
    Column("Tests so far", 12, Kind.COUNT),
    Column("Site", 24, Kind.TEXT),
    Column("Unit", 8, Kind.TEXT),
    Column("Record", 64, Kind.TEXT),
)

RETESTS = Layout("To retest", _COLUMNS, printed=10, lines=4)


def again(retest: Retest) -> Row:
    """The row of a link."""
    place = dict(retest.place)
    return (
        retest.label or NO_LABEL,
        *map(place.get, _WAY),
        retest.state,
        (retest.reason, *retest.remarks),
        _looks(retest),
        retest.limit_path or None,
        retest.tests,
        *map(place.get, _BESIDES),
        retest.record_id,
    )


def _looks(retest: Retest) -> Cell:
    """Each hint on a line of its own, numbered where there are several."""
    said = looks(retest)
    if len(said) > 1:
        said = tuple(f"{number}. {one}" for number, one in enumerate(said, 1))
    return said or None
