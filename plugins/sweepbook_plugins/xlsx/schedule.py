"""The sheet of where each scheduled link stands, and of tests that nobody asked for."""

from sweepbook.schedule.order import counting
from sweepbook.schedule.reconcile import Item
from sweepbook_plugins.xlsx.layout import Column, Layout, Row
from sweepbook_plugins.xlsx.links import NO_LABEL
from sweepbook_plugins.xlsx.look import Kind

_LEVELS = ("building", "floor", "space", "cabinet", "panel", "port")
_COLUMNS = (
    Column("Link", 15, Kind.TEXT),
    Column("State", 24, Kind.WORD),
    Column("Open", 7, Kind.TEXT),
    Column("Building", 14, Kind.TEXT),
    Column("Floor", 8, Kind.TEXT),
    Column("Space", 14, Kind.TEXT),
    Column("Cabinet", 9, Kind.TEXT),
    Column("Panel", 8, Kind.TEXT),
    Column("Port", 7, Kind.TEXT),
    Column("Why", 60, Kind.PROSE),
    Column("Labels near it", 16, Kind.TEXT),
    Column("Limit asked for", 38, Kind.TEXT),
    Column("Tests", 7, Kind.COUNT),
    Column("Line of the schedule", 20, Kind.COUNT),
)

SCHEDULE = Layout("Schedule", _COLUMNS, printed=11, lines=2)


def planned(item: Item) -> Row:
    """The row of a scheduled link, or of a test that is not on the schedule.

    The limit asked for is the path of the table; as it stands in the schedule where it leads to
    none.
    """
    scheduled, place = item.scheduled, dict(item.place)
    return (
        item.label or NO_LABEL,
        item.state.value,
        "open" if item.open else None,
        *map(place.get, _LEVELS),
        item.words or None,
        ", ".join(label for label, _ in item.near_misses) or None,
        item.asked or (scheduled.limit if scheduled else "") or None,
        len(counting(item.tests)),
        scheduled.line if scheduled else None,
    )
