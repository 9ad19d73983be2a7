"""The sheet of what has to be tested again: one row a link, by floor and panel."""

from sweepbook.retests.collect import Retest
from sweepbook.retests.document import looks
from sweepbook_plugins.xlsx.layout import Cell, Column, Layout
from sweepbook_plugins.xlsx.links import NO_LABEL
from sweepbook_plugins.xlsx.look import Kind


def _level(title: str, width: float, name: str) -> Column[Retest]:
    """A column of one level of the place."""
    return Column(title, width, Kind.TEXT, lambda r: dict(r.place).get(name))


def _looks(retest: Retest) -> Cell:
    """Each hint on a line of its own, numbered where there are several."""
    said = looks(retest)
    if len(said) > 1:
        said = tuple(f"{number}. {one}" for number, one in enumerate(said, 1))
    return said or None


_COLUMNS: tuple[Column[Retest], ...] = (
    Column("Link", 15, Kind.TEXT, lambda r: r.label or NO_LABEL),
    _level("Building", 14, "building"),
    _level("Floor", 8, "floor"),
    _level("Cabinet", 10, "cabinet"),
    _level("Panel", 8, "panel"),
    _level("Port", 8, "port"),
    Column("State", 17, Kind.WORD, lambda r: r.state),
    Column("Why", 60, Kind.PROSE, lambda r: (r.reason, *r.remarks)),
    Column("Where to look first (hints only)", 70, Kind.PROSE, _looks),
    Column("Limit", 38, Kind.TEXT, lambda r: r.limit_path or None),
    Column("Tests so far", 9, Kind.COUNT, lambda r: r.tests),
    _level("Site", 24, "site"),
    _level("Space", 16, "space"),
    _level("Unit", 8, "unit"),
    Column("Record", 64, Kind.TEXT, lambda r: r.record_id),
)

RETESTS = Layout("To retest", _COLUMNS, printed=9, lines=3)
