"""The sheet of history: each test of the links that were tested more than once, in order."""

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from sweepbook.retests.collect import OneTest
from sweepbook.schedule.attempt import Attempt, in_order
from sweepbook.text import natural_key
from sweepbook_plugins.xlsx.layout import Column, Layout
from sweepbook_plugins.xlsx.links import NO_LABEL
from sweepbook_plugins.xlsx.look import Kind

NOT_KNOWN = "order not known"


class Past(NamedTuple):
    """A row: a test, which one of its link it is, of how many, and whether it speaks for it."""

    test: Attempt
    number: int
    of: int
    current: str


def history(links: Iterable[Sequence[OneTest]]) -> Iterator[Past]:
    """The rows, of each link from its first test to its last."""
    for group in links:
        ordered, known = in_order([one.test for one in group])
        for number, test in enumerate(ordered, start=1):
            current = "yes" if number == len(ordered) else "no"
            yield Past(test, number, len(ordered), current if known else NOT_KNOWN)


def by_label(link: Sequence[OneTest]) -> tuple[object, ...]:
    """Sort key of a link, its label in natural order."""
    label = link[0].test.label
    return natural_key(label), label


_COLUMNS: tuple[Column[Past], ...] = (
    Column("Link", 15, Kind.TEXT, lambda r: r.test.label or NO_LABEL),
    Column("Test number", 8, Kind.COUNT, lambda r: r.number),
    Column("Of", 6, Kind.COUNT, lambda r: r.of),
    Column("Current", 15, Kind.TEXT, lambda r: r.current),
    Column(
        "Began by its clock",
        20,
        Kind.TEXT,
        lambda r: r.test.started.isoformat(" ") if r.test.started else None,
    ),
    Column("Purpose", 12, Kind.TEXT, lambda r: r.test.purpose or None),
    Column("Stated verdict", 9, Kind.TEXT, lambda r: r.test.stated or "none"),
    Column("Sweeps say", 11, Kind.WORD, lambda r: r.test.recomputed),
    Column("Judgement", 12, Kind.WORD, lambda r: r.test.judgement),
    Column("Limit", 38, Kind.TEXT, lambda r: r.test.limit_path or "no limit table"),
    Column("Why", 70, Kind.PROSE, lambda r: r.test.why),
    Column("Record", 64, Kind.TEXT, lambda r: r.test.record_id),
)

HISTORY = Layout("History", _COLUMNS, printed=11, lines=2)
