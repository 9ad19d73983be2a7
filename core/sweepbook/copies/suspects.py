"""From fingerprints to suspicions: near ones are read again and held against each other."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

from sweepbook.copies.curves import Readings, curves_of, readings
from sweepbook.copies.figures import Figures
from sweepbook.copies.fingerprint import matrix
from sweepbook.copies.likeness import Likeness, likeness
from sweepbook.copies.search import near

if TYPE_CHECKING:
    from sweepbook.record.model import Record

Recall = Callable[[Sequence[str]], "Iterable[Record]"]
"""Reads records again by their ids, in any order; one that is no longer there is left out."""

MOST_AT_ONCE = 400
"""Records whose curves are held at once: about 70 MB."""


class Traced(Protocol):
    """What has to be known of each record of a set."""

    @property
    def record_id(self) -> str:
        """Its identity."""

    @property
    def label_key(self) -> str:
        """Tells the link that the test is of."""

    @property
    def fingerprint(self) -> bytes:
        """As `fingerprint.fingerprint` gives it."""


@dataclass(frozen=True, slots=True)
class Suspicion:
    """Two tests that are one measurement.

    Attributes:
        first, second: their places in the set, the lower first.
        sources: where each was read, in words.
        likeness: how they agree.
    """

    first: int
    second: int
    sources: tuple[str, str]
    likeness: Likeness


@dataclass(frozen=True, slots=True)
class Suspicions:
    """What came of a search.

    Attributes:
        found: by place; of many copies of one test each is tied to one other.
        unread: pairs with near fingerprints of which a record could not be read again.
    """

    found: tuple[Suspicion, ...] = ()
    unread: int = 0


@dataclass(frozen=True, slots=True, eq=False)
class _Recalled:
    """A record that was read again."""

    curves: Mapping[str, Readings]
    origins: frozenset[tuple[str, str]]
    source: str


def suspicions(traces: Sequence[Traced], recall: Recall | None, figures: Figures) -> Suspicions:
    """Look for tests that are copies of others.

    Two readings of one place of one source are one test read twice, and no copy.

    Args:
        traces: of all records.
        recall: reads records again; None where that cannot be done.
        figures: from which on two tests are taken for one measurement.
    """
    known = [place for place, trace in enumerate(traces) if trace.fingerprint]
    prints = matrix([traces[place].fingerprint for place in known])
    pairs = [
        (known[one], known[other])
        for one, other in near(prints, figures.fingerprint_db)
        if traces[known[one]].record_id != traces[known[other]].record_id
    ]
    if recall is None:
        return Suspicions(unread=len(pairs))
    found: list[Suspicion] = []
    unread = 0
    for batch in _batches(pairs):
        ids = {traces[place].record_id for pair in batch for place in pair}
        again = {
            record.record_id: _recalled(record, figures)
            for record in recall(sorted(ids))
            if record.record_id in ids
        }
        for first, second in batch:
            one, other = (again.get(traces[place].record_id) for place in (first, second))
            if one is None or other is None:
                unread += 1
            elif not one.origins & other.origins:
                held = likeness(one.curves, other.curves, figures)
                if held:
                    found.append(Suspicion(first, second, (one.source, other.source), held))
    return Suspicions(tuple(_tied_once(found, traces)), unread)


def _batches(pairs: Iterable[tuple[int, int]]) -> Iterator[list[tuple[int, int]]]:
    """The pairs in turn, so many at a time as can be held."""
    batch: list[tuple[int, int]] = []
    held: set[int] = set()
    for pair in pairs:
        if len(held | set(pair)) > MOST_AT_ONCE:
            yield batch
            batch, held = [], set()
        batch.append(pair)
        held.update(pair)
    if batch:
        yield batch


def _recalled(record: "Record", figures: Figures) -> _Recalled:
    origins = record.document.get("origin", ())
    first = origins[0] if origins else {"name": "an unknown source", "locator": ""}
    return _Recalled(
        readings(curves_of(record.document), figures.structure_db),
        frozenset((origin["sha256"], origin["locator"]) for origin in origins),
        ", ".join(filter(None, (first["name"], first["locator"]))),
    )


def _tied_once(found: Iterable[Suspicion], traces: Sequence[Traced]) -> list[Suspicion]:
    """So many of the suspicions that each test hangs together with its copies.

    Of n copies of one test that gives n - 1, not one for every two of them: those of one link
    first, then the nearest.
    """

    def weight(one: Suspicion) -> tuple[bool, bool, int, float, int]:
        held = one.likeness
        other_link = traces[one.first].label_key != traces[one.second].label_key
        return other_link, not held.exact, held.odd, held.largest_db, one.first

    leads: dict[int, int] = {}

    def lead(place: int) -> int:
        while leads.setdefault(place, place) != place:
            leads[place] = leads[leads[place]]
            place = leads[place]
        return place

    kept = []
    for one in sorted(found, key=weight):
        first, second = lead(one.first), lead(one.second)
        if first != second:
            leads[max(first, second)] = min(first, second)
            kept.append(one)
    return sorted(kept, key=lambda s: (s.first, s.second))
