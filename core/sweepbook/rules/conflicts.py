"""Rules about all records together: one label, and tests that cannot be of one link."""

from collections.abc import Callable, Iterator
from itertools import combinations, islice
from typing import TypeVar

from sweepbook.rules.about import CABLE, LEVELS, About
from sweepbook.rules.model import Hit
from sweepbook.rules.together import WholeSet, ids, links, plain
from sweepbook.rules.trace import Trace
from sweepbook.rules.words import listed

Texts = tuple[str, ...]
Ends = tuple[Texts, Texts]
Said = TypeVar("Said", Texts, Ends)
_BELOW_BUILDING = LEVELS.index("floor")
_MOST = 50
"""Different things said of one label that are held against each other."""


def label_is_of_one_place(whole: WholeSet) -> Iterator[Hit]:
    """Yield every label whose tests name different places, whichever end is called the near one."""
    for traces in _links(whole):
        for (one, first), (two, _) in _first_apart(traces, lambda about: about.places, _distance):
            ends = list(zip(one, _laid(one, two), strict=True))
            said = [
                " and ".join(
                    _told(end[side], at, LEVELS) for end in ends if (at := _differing(*end))
                )
                for side in (0, 1)
            ]
            yield _hit(traces, first, *said)


def label_is_of_one_cable(whole: WholeSet) -> Iterator[Hit]:
    """Yield every label whose tests name different cables or reels."""
    for traces in _links(whole):
        found = _first_apart(
            traces, lambda about: about.cable_texts, lambda a, b: len(_differing(a, b))
        )
        for (one, first), (two, _) in found:
            at = _differing(one, two)
            yield _hit(traces, first, _told(one, at, CABLE), _told(two, at, CABLE))


def label_is_tested_to_one_limit(whole: WholeSet) -> Iterator[Hit]:
    """Yield every label whose tests were judged under several limits."""
    for traces in _links(whole):
        paths = list(dict.fromkeys(t.limit_path for t in traces if t.limit_path is not None))
        if len(paths) > 1:
            yield Hit("$", {"label": traces[0].label, "limits": listed(paths)}, ids(traces))


def _links(whole: WholeSet) -> Iterator[list[Trace]]:
    """The tests of each link that has a label and more than one."""
    return (traces for traces in links(whole, 2) if traces[0].label)


def _hit(traces: list[Trace], first: Trace, one: str, other: str) -> Hit:
    said = {"label": first.label, "tests": len(traces), "one": one, "other": other}
    return Hit("$", said, ids(traces))


def _first_apart(
    traces: list[Trace], of: Callable[[About], Said], apart: Callable[[Said, Said], int]
) -> Iterator[tuple[tuple[Said, Trace], tuple[Said, Trace]]]:
    """The first two tests that say different things, each with what it says."""
    said: dict[Said, Trace] = {}
    for trace in traces:
        if trace.about is not None:
            said.setdefault(of(trace.about), trace)
    several = combinations(islice(said.items(), _MOST), 2)
    yield from islice((two for two in several if apart(two[0][0], two[1][0])), 1)


def _distance(one: Ends, other: Ends) -> int:
    """In how many levels two links contradict each other."""
    return _contradictions(one, _laid(one, other))


def _laid(one: Ends, other: Ends) -> Ends:
    """The other ends as they lie to these: turned round where they contradict less then.

    Ends of which nothing is said contradict nothing, so something below the building has to agree.
    """
    turned = (other[1], other[0])
    agree = any(
        a and plain(a) == plain(b)
        for ends in zip(one, turned, strict=True)
        for a, b in list(zip(*ends, strict=True))[_BELOW_BUILDING:]
    )
    less = _contradictions(one, turned) < _contradictions(one, other)
    return turned if agree and less else other


def _contradictions(one: Ends, other: Ends) -> int:
    return sum(len(_differing(a, b)) for a, b in zip(one, other, strict=True))


def _differing(one: Texts, other: Texts) -> list[int]:
    """Where both say something, and not the same; case and blanks do not count."""
    pairs = enumerate(zip(one, other, strict=True))
    return [at for at, (a, b) in pairs if a and b and plain(a) != plain(b)]


def _told(texts: Texts, at: list[int], names: Texts) -> str:
    return ", ".join(f"{names[place]} {texts[place]}" for place in at)
