"""Rules about all records together: the sites that they name, and how far apart links are."""

from collections import Counter
from collections.abc import Iterator

from sweepbook.record.identity import normalised
from sweepbook.rules.about import LEVELS
from sweepbook.rules.model import Hit
from sweepbook.rules.together import WholeSet, ids, links
from sweepbook.rules.trace import Trace

_SITE, _BUILDING = LEVELS.index("site"), LEVELS.index("building")


def site_is_the_jobs(whole: WholeSet) -> Iterator[Hit]:
    """Yield every site that tests name and that is not the one of the job."""
    own = normalised(whole.site)
    others: dict[str, tuple[str, str, dict[int, str]]] = {}
    for number, trace in enumerate(whole):
        for levels in trace.about.places if own and trace.about is not None else ():
            site, building = levels[_SITE], levels[_BUILDING]
            if normalised(site) not in ("", own) and normalised(building) != own:
                first = others.setdefault(normalised(site), (site, trace.label, {}))
                first[2][number] = trace.record_id
    for site, label, tests in others.values():
        said = {"site": site, "own": whole.site, "tests": len(tests), "label": label}
        yield Hit("$", said, tuple(dict.fromkeys(tests.values())))


def place_is_of_one_level(whole: WholeSet) -> Iterator[Hit]:
    """Yield every place that some tests call a site and others, without a site, a building."""
    sites: dict[str, tuple[str, str]] = {}
    buildings: dict[str, str] = {}
    counts: Counter[tuple[int, str]] = Counter()
    for trace in whole:
        for levels in trace.about.places[:1] if trace.about is not None else ():
            site, building = levels[_SITE], levels[_BUILDING]
            if site:
                sites.setdefault(normalised(site), (site, trace.label))
                counts[_SITE, normalised(site)] += 1
            elif building:
                buildings.setdefault(normalised(building), trace.label)
                counts[_BUILDING, normalised(building)] += 1
    for name in sorted(sites.keys() & buildings.keys()):
        text, first = sites[name]
        said = {"place": text, "sites": counts[_SITE, name], "buildings": counts[_BUILDING, name]}
        yield Hit("$", {**said, "one": first, "other": buildings[name]})


def label_is_of_one_length(whole: WholeSet, most_share: float, most_m: float) -> Iterator[Hit]:
    """Yield every label whose tests measured lengths that no work on its ends explains.

    Args:
        whole: all records.
        most_share: of the longer one, that a new termination or another setting may take off.
        most_m: and so many metres at any rate.
    """
    for traces in links(whole, 2):
        known = [(length, trace) for trace in traces if (length := _length(trace)) is not None]
        if len(known) < 2:
            continue
        (shortest, one), (longest, other) = min(known, key=_first), max(known, key=_first)
        if longest - shortest > max(most_m, most_share * longest):
            said = {"label": one.label, "tests": len(traces)}
            figures = {"shortest_m": round(shortest, 2), "longest_m": round(longest, 2)}
            records = {"one": one.record_id[:12], "other": other.record_id[:12]}
            yield Hit("$", {**said, **figures, **records}, ids((one, other)))


def _first(known: tuple[float, Trace]) -> float:
    return known[0]


def _length(trace: Trace) -> float | None:
    return None if trace.about is None else trace.about.length_m
