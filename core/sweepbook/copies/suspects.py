"""From fingerprints to suspicions: near ones are read again and held against each other."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

from sweepbook.copies.figures import Figures
from sweepbook.copies.fingerprint import matrix
from sweepbook.copies.groups import Groups
from sweepbook.copies.reading_again import Pair, Pass, Recalled, Suspicion, in_turn
from sweepbook.copies.search import near
from sweepbook.record.links import Key

if TYPE_CHECKING:
    from sweepbook.record.model import Record

Recall = Callable[[Sequence[str]], "Iterable[Record]"]
"""Reads records again by their ids, in their order where it can; one that is gone is left out."""


class Traced(Protocol):
    """What has to be known of each record of a set."""

    @property
    def record_id(self) -> str:
        """Its identity."""

    @property
    def label_key(self) -> Key:
        """Tells the link that the test is of."""


@dataclass(frozen=True, slots=True)
class Suspicions:
    """What came of a search.

    Attributes:
        found: by place; of many copies of one test each is tied to one other.
        unread: pairs with near fingerprints of which a record could not be read again.
    """

    found: tuple[Suspicion, ...] = ()
    unread: int = 0


def suspicions(
    traces: Sequence[Traced],
    fingerprints: Iterable[bytes],
    recall: Recall | None,
    figures: Figures,
) -> Suspicions:
    """Look for tests that are copies of others.

    Two readings of one place of one source are one test read twice, and no copy.

    Args:
        traces: of all records.
        fingerprints: of each of them, as `fingerprint.fingerprint` gives it.
        recall: reads records again; None where that cannot be done.
        figures: from which on two tests are taken for one measurement.
    """
    known: list[int] = []

    def given() -> Iterator[bytes]:
        for place, fingerprint in enumerate(fingerprints):
            if fingerprint:
                known.append(place)
                yield fingerprint

    pairs = [
        (known[one], known[other])
        for one, other in near(matrix(given()), figures.fingerprint_db)
        if traces[known[one]].record_id != traces[known[other]].record_id
    ]
    if recall is None:
        return Suspicions(unread=len(pairs))
    found, unread = _held_together(pairs, traces, recall, figures)
    return Suspicions(tuple(_tied_once(found, traces)), unread)


def _held_together(
    pairs: list[Pair], traces: Sequence[Traced], recall: Recall, figures: Figures
) -> tuple[list[Suspicion], int]:
    """Read the records of the pairs again, as often as it takes with few of them held.

    Returns:
        (two tests that are one measurement, pairs of which a record did not come).
    """
    links = {place: traces[place].label_key for pair in pairs for place in pair}
    groups = Groups()
    found: list[Suspicion] = []
    unread = 0
    while pairs:
        places: dict[str, list[int]] = {}
        for place in in_turn(pairs, links):
            places.setdefault(traces[place].record_id, []).append(place)
        one = Pass(pairs, links, groups, figures)
        for record in recall(list(places)):
            if record.record_id in places:
                again = Recalled.of(record, figures)
                for place in places.pop(record.record_id):
                    one.take(place, again)
        found += one.found
        unread += one.unread()
        pairs = one.left
    return found, unread


def _tied_once(found: Iterable[Suspicion], traces: Sequence[Traced]) -> list[Suspicion]:
    """So many of the suspicions that each test hangs together with its copies.

    Of n copies of one test that gives n - 1, not one for every two of them: those of one link
    first, then the nearest.
    """

    def weight(one: Suspicion) -> tuple[bool, bool, int, float, int]:
        held = one.likeness
        other_link = traces[one.first].label_key != traces[one.second].label_key
        return other_link, not held.exact, held.odd, held.largest_db, one.first

    groups = Groups()
    kept = [one for one in sorted(found, key=weight) if groups.join(one.first, one.second)]
    return sorted(kept, key=lambda s: (s.first, s.second))
