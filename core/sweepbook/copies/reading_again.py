"""Records that look alike, read again and held against each other while few of them are kept.

They come once, in any order, and each is held against those before it. One that is a copy of a
record that is kept is not kept itself: that one stands in for it, so that a test and its n copies
are read n + 1 times, and the curves of two are held. What could not be settled that way, because
too many records waited or a stand-in was unlike, is left for another reading.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from sweepbook.copies.curves import Readings, curves_of, readings
from sweepbook.copies.figures import Figures
from sweepbook.copies.groups import Groups
from sweepbook.copies.likeness import Likeness, likeness
from sweepbook.record.links import Key

if TYPE_CHECKING:
    from sweepbook.record.model import Record

Pair = tuple[int, int]

MOST_HELD = 48
"""Records whose curves are held at once: about 10 MB."""


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


@dataclass(frozen=True, slots=True, eq=False)
class Recalled:
    """A record that was read again."""

    curves: Mapping[str, Readings]
    origins: frozenset[tuple[str, str]]
    source: str

    @staticmethod
    def of(record: "Record", figures: Figures) -> "Recalled":
        """Keep of a record what it is held against others by."""
        origins = record.document.get("origin", ())
        first = origins[0] if origins else {"name": "an unknown source", "locator": ""}
        return Recalled(
            readings(curves_of(record.document), figures.structure_db),
            frozenset((origin["sha256"], origin["locator"]) for origin in origins),
            ", ".join(filter(None, (first["name"], first["locator"]))),
        )


@dataclass(slots=True, eq=False)
class Pass:
    """One reading of the records of some pairs.

    Attributes:
        pairs: of places whose records are to be held against each other.
        links: what tells the link of each place's test.
        groups: which places are one measurement, as far as is known; added to.
        figures: from which on two are.
        found: what came of it.
        left: pairs of which both were read, and nothing is known yet.
    """

    pairs: Sequence[Pair]
    links: Mapping[int, Key]
    groups: Groups
    figures: Figures
    found: list[Suspicion] = field(default_factory=list)
    left: list[Pair] = field(default_factory=list)
    _near: dict[int, list[int]] = field(default_factory=lambda: defaultdict(list))
    _held: dict[int, Recalled] = field(default_factory=dict)
    _stand_in: dict[int, int | None] = field(default_factory=dict)
    _waiting: dict[int, int] = field(default_factory=lambda: defaultdict(int))

    def __post_init__(self) -> None:
        for first, second in self.pairs:
            self._near[first].append(second)
            self._near[second].append(first)

    def unread(self) -> int:
        """Pairs of which a record did not come."""
        return sum(not (set(pair) <= self._stand_in.keys()) for pair in self.pairs)

    def take(self, place: int, again: Recalled) -> None:
        """Hold the record of a place against those before it, and keep it where others wait."""
        come = [other for other in self._near[place] if other in self._stand_in]
        tried: dict[int, Likeness | None] = {}
        for other in sorted(come, key=lambda one: (self._other_link(place, one), one)):
            self._settle(place, other, again, tried)
            self._release(other)
        waiting = [other for other in self._near[place] if other not in self._stand_in]
        self._stand_in[place] = self._stands_for(place, waiting, again, tried)

    def _settle(
        self, place: int, other: int, again: Recalled, tried: dict[int, Likeness | None]
    ) -> None:
        """Find out about one pair, or leave it."""
        if self._other_link(place, other) and self.groups.together(place, other):
            return
        held = self._stand_in[other]
        if held is not None and held not in tried:
            tried[held] = self._alike(place, held, again)
        if held is None or (held != other and not tried[held]):
            self.left.append((place, other))

    def _alike(self, place: int, other: int, again: Recalled) -> Likeness | None:
        """Hold two records against each other; two readings of one place are one test, no copy."""
        there = self._held[other]
        if there.origins & again.origins:
            return None
        if place < other:
            first, second, one, two = place, other, again, there
        else:
            first, second, one, two = other, place, there, again
        held = likeness(one.curves, two.curves, self.figures)
        if held:
            self.found.append(Suspicion(first, second, (one.source, two.source), held))
            self.groups.join(first, second)
        return held

    def _stands_for(
        self,
        place: int,
        waiting: Sequence[int],
        again: Recalled,
        tried: Mapping[int, Likeness | None],
    ) -> int | None:
        """Which held record is there for a place from now on; None where there is none.

        Where tests of its own link are still to come, only one of that link is, and while there is
        room only one that is the same to the last digit: whether a retest is, a copy with noise
        cannot tell.
        """
        if not waiting:
            return None
        full = len(self._held) >= MOST_HELD
        for_all = all(self._other_link(place, one) for one in waiting)
        copied = [
            other
            for other, found in tried.items()
            if found and other in self._held
            if for_all or ((full or found.exact) and not self._other_link(place, other))
        ]
        if full and not copied:
            return None
        held = copied[0] if copied else place
        if held == place:
            self._held[place] = again
        self._waiting[held] += len(waiting)
        return held

    def _release(self, other: int) -> None:
        """One that waited for a place has come: what nobody waits for any more is not held."""
        known = self._stand_in[other]
        if known is not None:
            self._waiting[known] -= 1
            if not self._waiting[known]:
                del self._held[known]

    def _other_link(self, place: int, other: int) -> bool:
        return self.links[place] != self.links[other]


def in_turn(pairs: Iterable[Pair], links: Mapping[int, Key]) -> Iterator[int]:
    """The places of pairs: those that hang together one after the other, and so those of a link."""
    groups, places = Groups(), set[int]()
    for first, second in pairs:
        groups.join(first, second)
        places |= {first, second}
    yield from sorted(places, key=lambda place: (groups.lead(place), links[place], place))
