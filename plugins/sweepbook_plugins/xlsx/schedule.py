"""The sheet of where each scheduled link stands, and of tests that nobody asked for."""

from sweepbook.schedule.reconcile import Item
from sweepbook_plugins.xlsx.layout import Cell, Column, Layout
from sweepbook_plugins.xlsx.links import NO_LABEL
from sweepbook_plugins.xlsx.look import Kind


def _level(title: str, width: float, level: str) -> Column[Item]:
    return Column(title, width, Kind.TEXT, lambda r: dict(r.place).get(level))


def _near(item: Item) -> Cell:
    return ", ".join(label for label, _ in item.near_misses) or None


def _why(item: Item) -> Cell:
    return tuple(filter(None, (item.reason, *item.remarks))) or None


def _asked(item: Item) -> Cell:
    """The path of the table asked for; as it stands in the schedule where it leads to none."""
    return item.asked or (item.scheduled.limit if item.scheduled else "") or None


_COLUMNS: tuple[Column[Item], ...] = (
    Column("Link", 15, Kind.TEXT, lambda r: r.label or NO_LABEL),
    Column("State", 24, Kind.WORD, lambda r: r.state.value),
    Column("Open", 7, Kind.TEXT, lambda r: "open" if r.state.open else None),
    _level("Building", 14, "building"),
    _level("Floor", 8, "floor"),
    _level("Space", 14, "space"),
    _level("Cabinet", 9, "cabinet"),
    _level("Panel", 8, "panel"),
    _level("Port", 7, "port"),
    Column("Why", 60, Kind.PROSE, _why),
    Column("Labels near it", 16, Kind.TEXT, _near),
    Column("Limit asked for", 38, Kind.TEXT, _asked),
    Column("Tests", 7, Kind.COUNT, lambda r: len(r.tests)),
    Column(
        "Line of the schedule", 10, Kind.COUNT, lambda r: r.scheduled.line if r.scheduled else None
    ),
)

SCHEDULE = Layout("Schedule", _COLUMNS, printed=11, lines=2)
