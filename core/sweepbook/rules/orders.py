"""Rule about all records together: the order of pairs, which is one for all tests read alike."""

from array import array
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from typing import NamedTuple

from sweepbook.judging.assessment import PairOrder
from sweepbook.rules.about import About
from sweepbook.rules.model import Hit
from sweepbook.rules.together import WholeSet, ids
from sweepbook.rules.words import listed

SHOWN = (PairOrder.AS_NAMED, PairOrder.OTHER)


class Alike(NamedTuple):
    """What tests have in common that puts their pairs in order.

    Attributes:
        mapping: the first of program, reader, name and digest of the dialect; () where none is
            told, and testers alone tell.
        tester: maker and model; () for any.
    """

    mapping: tuple[str, ...]
    tester: tuple[str, ...]


Orders = Mapping[Alike, Counter[PairOrder]]
"""How many tests show either order, by what they have in common."""


def pairs_are_in_one_order(whole: WholeSet) -> Iterator[Hit]:
    """Yield tests that hide the order of the pairs of their ACR-F, where others read alike tell it.

    Once for those that have a mapping or a tester in common, of which each test that shows an order
    goes with the other one. The order is one of the mapping, or of a tester that takes off the
    loss of the disturbing pair. So the closest kin tells: tests of one dialect and one kind of
    tester, else of one dialect, else of the earlier and later states of that dialect. Where these
    show both orders, nothing is told of the others: the cause is then with single tests.
    """
    orders: defaultdict[Alike, Counter[PairOrder]] = defaultdict(Counter)
    for trace in whole:
        if trace.about is not None and trace.about.pair_order in SHOWN:
            for alike in _kin(trace.about):
                orders[alike][trace.about.pair_order] += 1
    if not any(shown[PairOrder.OTHER] for shown in orders.values()):
        return
    places: defaultdict[Alike, array[int]] = defaultdict(lambda: array("q"))
    for place, trace in enumerate(whole):
        if trace.about is not None and trace.about.pair_order is PairOrder.NOT_SHOWN:
            told_by = _told_by(trace.about, orders)
            if told_by is not None:
                places[told_by].append(place)
    for alike, hiding in places.items():
        labels = {trace.label_key: f'"{trace.label}"' for trace in map(whole.__getitem__, hiding)}
        words = {
            "alike": _called(alike),
            "showing": orders[alike][PairOrder.OTHER],
            "count": len(hiding),
            "labels": listed(list(labels.values())),
        }
        yield Hit("$", words, ids(map(whole.__getitem__, hiding)))


def _kin(about: About) -> Iterator[Alike]:
    """What a test may have in common with others, the closest first."""
    if about.tester:
        yield Alike(about.mapping, about.tester)
    if about.mapping:
        yield Alike(about.mapping, ())
        yield Alike(about.mapping[:-1], ())


def _told_by(about: About, orders: Orders) -> Alike | None:
    """By whom a test is known to be of the other order; None where it is not."""
    for alike in _kin(about):
        if alike in orders:
            shown = orders[alike]
            return None if shown[PairOrder.AS_NAMED] else alike
    return None


def _called(alike: Alike) -> str:
    """Words for what tests have in common."""
    words = []
    if alike.mapping:
        _, reader, dialect, *digest = alike.mapping
        named = f'the dialect "{dialect}"' if dialect else f'the reader "{reader}"'
        words.append(f"{named} ({digest[0][:12]})" if digest and digest[0] else named)
    if alike.tester:
        words.append(f"testers {' '.join(filter(None, alike.tester))}")
    return " and ".join(words)
