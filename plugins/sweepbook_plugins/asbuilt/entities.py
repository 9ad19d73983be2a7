"""Rows that many tests share: places, terminations, cables, units, files. Each goes in once."""

from collections import defaultdict
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from sweepbook.record.links import link_key
from sweepbook.schedule.model import LEVELS, End
from sweepbook_plugins.asbuilt.values import Value, clean, named, part, text

if TYPE_CHECKING:
    from sweepbook.record.model import Record

Row = Mapping[str, Value]
CABLE = (
    "maker",
    "part",
    "reel",
    "sheath_mark_near",
    "sheath_mark_far",
    "category",
    "construction",
    "conductor",
)
INSTRUMENT = ("maker", "model", "serial")
ADAPTOR = ("part", "serial", "category")
MOST_REMEMBERED = 50_000
"""Rows whose numbers are kept at hand; a row that is forgotten is written again, to no effect."""

Levels = tuple[str | None, ...]


class Entities:
    """Numbers of the rows of one job, and the rows that the database may not have yet.

    Attributes:
        moved: the link that there is by each that turned out to be the same; once all tests are in.
    """

    def __init__(self, job: str, said: Row) -> None:
        self.job = job
        self.waiting: defaultdict[str, list[Row]] = defaultdict(list)
        self.moved: Mapping[int, int] = {}
        self._numbers: dict[tuple[str | int | None, ...], int] = {}
        self.job_id = self._put("job", (job,), {"name": job, **said})

    def taken(self) -> defaultdict[str, list[Row]]:
        """The rows that wait; whoever takes them writes them."""
        waiting, self.waiting = self.waiting, defaultdict(list)
        return waiting

    def link_and_cable(
        self, document: object, label: str | None, record_id: str
    ) -> tuple[int, int | None]:
        """The link of a record, and its cable: None where nothing is stated of it."""
        key = self._link_key(document, label, record_id)
        link_id = self._put("link", key, {"job_id": self.job_id, "label": label})
        stated = part(document, "link", "cable")
        known = {name: text(stated, name) for name in CABLE}
        if not any(known.values()):
            return link_id, None
        return link_id, self._put("cable", (*key, *known.values()), {"link_id": link_id, **known})

    def link_of(self, record: "Record") -> int:
        """The number of the link that a record is of; nothing is put in for it."""
        label = clean(record.label) or None
        number = named(*self._link_key(record.document, label, clean(record.record_id))).id
        return self.moved.get(number, number)

    def place(self, stated: Mapping[str, Any]) -> int | None:
        """The place, None where no level is stated; the places that hold it are put in too."""
        return self._place(_levels(stated))

    def stated_end(self, end: Mapping[str, Any]) -> tuple[int | None, int | None]:
        """Place and termination of an end of a record; the latter None where it has no label."""
        levels, label = _levels(part(end, "place")), text(end, "termination")
        place_id = self._place(levels)
        if label is None:
            return place_id, None
        key = (self.job, *levels, label)
        row = {"job_id": self.job_id, "place_id": place_id, "label": label}
        return place_id, self._put("termination", key, row)

    def end(self, end: End) -> tuple[int | None, int | None]:
        """Place and termination of an end that a schedule or the like tells."""
        return self.stated_end({"place": dict(end.place), "termination": end.termination or None})

    def instrument(self, stated: Mapping[str, Any]) -> int | None:
        """The unit, None where nothing tells it."""
        return self._stated("instrument", stated, INSTRUMENT)

    def adaptor(self, stated: Mapping[str, Any]) -> int | None:
        """The adaptor, None where nothing is stated of it."""
        return self._stated("adaptor", stated, ADAPTOR)

    def source(self, origin: Mapping[str, Any]) -> int:
        """The file that a record was found in."""
        known = {name: text(origin, name) or "" for name in ("sha256", "name")}
        return self._put("source", tuple(known.values()), known)

    def limit_table(self, path: str, sha256: str | None) -> int:
        """The limit table of this path and digest."""
        return self._put("limit_table", (path, sha256), {"path": path, "sha256": sha256})

    def basis(self, digest: str, row: Row) -> int:
        """What a delivery was judged by."""
        return self._put("basis", (digest,), row)

    def kind(self, table: str, words: Mapping[str, str | int | None]) -> int:
        """What a figure or a result is, by its words in the order of their columns."""
        return self._put(table, tuple(words.values()), words)

    def _link_key(self, document: object, label: str | None, record_id: str) -> Levels:
        """Job, site, building and label, or job and record id.

        That is what one test says of its link, by the levels that the near end states, else the far
        end; see `one_link` for tests of one link that do not say the same.
        """
        link = part(document, "link")
        near, far = part(link, "near", "place"), part(link, "far", "place")
        levels = [text(near, level) or text(far, level) or "" for level in ("site", "building")]
        return (self.job, *link_key(record_id, label or "", *levels))

    def _stated(self, table: str, stated: Mapping[str, Any], names: tuple[str, ...]) -> int | None:
        known = {name: text(stated, name) for name in names}
        return self._put(table, tuple(known.values()), known) if any(known.values()) else None

    def _place(self, levels: Levels) -> int | None:
        key = ("place", self.job, *levels)
        if key in self._numbers:
            return self._numbers[key]
        stated = [level for level, value in enumerate(levels) if value is not None]
        if not stated:
            return None
        last = stated[-1]
        row = {
            "job_id": self.job_id,
            "parent_id": self._place((*levels[:last], *[None] * (len(LEVELS) - last))),
            "level": LEVELS[last],
            **dict(zip(LEVELS, levels, strict=True)),
            "path": " / ".join(value for value in levels if value is not None),
        }
        return self._put("place", key[1:], row)

    def _put(self, table: str, parts: tuple[str | int | None, ...], row: Row) -> int:
        """The number of a row; it waits to be written unless it was lately."""
        key = (table, *parts)
        known = self._numbers.get(key)
        if known is not None:
            return known
        number, natural_key = named(*parts)
        self.waiting[table].append({"id": number, "natural_key": natural_key, **row})
        if len(self._numbers) >= MOST_REMEMBERED:
            self._numbers.clear()
        self._numbers[key] = number
        return number


def _levels(stated: Mapping[str, Any]) -> Levels:
    """The levels of a place as it is stated, from large to small."""
    return tuple([text(stated, level) if level in stated else None for level in LEVELS])
