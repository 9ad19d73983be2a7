"""Rules about all records together: how links, ends, cables and units are named throughout."""

from collections import Counter, defaultdict
from collections.abc import Iterator

from sweepbook.limits.names import letters
from sweepbook.record.links import Key
from sweepbook.rules.model import Hit
from sweepbook.rules.same_test import LATER, order
from sweepbook.rules.together import WholeSet, groups, ids, links, plain
from sweepbook.rules.trace import Trace
from sweepbook.rules.words import listed

RETEST = "retest"


def labels_are_written_alike(whole: WholeSet) -> Iterator[Hit]:
    """Yield every label that is written in several ways, by case or blanks."""
    for _, traces in groups(whole, lambda _, trace: (tuple(map(plain, trace.label_key)),)):
        written = list(dict.fromkeys(f'"{trace.label}"' for trace in traces))
        if len(written) > 1:
            yield Hit("$", {"ways": len(written), "labels": listed(written)}, ids(traces))


def retests_have_a_first(whole: WholeSet) -> Iterator[Hit]:
    """Yield every label under which there are retests and no first test."""
    for traces in links(whole):
        if all(trace.purpose == RETEST for trace in traces):
            yield Hit("$", {"label": traces[0].label, "count": len(traces)}, ids(traces))


def retests_come_later(whole: WholeSet) -> Iterator[Hit]:
    """Yield every label with a retest that surely began before every first test of the link."""
    for traces in links(whole, 2):
        timed = [one for one in traces if one.started is not None]
        first = [one for one in timed if one.purpose not in LATER]
        again = [one for one in timed if one.purpose == RETEST]
        if not first or not again or len({one.offset is None for one in timed}) > 1:
            continue
        earliest, retest = (min(order(one)[1] for one in group) for group in (first, again))
        if retest < earliest:
            said = {"label": traces[0].label, "first": f"{earliest}", "retest": f"{retest}"}
            yield Hit("$", said, ids(traces))


def nvp_is_of_the_cable(whole: WholeSet) -> Iterator[Hit]:
    """Yield every cable, by maker and part, that was tested with several NVPs."""
    firsts: dict[str, dict[float, Trace]] = defaultdict(dict)
    counts: Counter[tuple[str, float]] = Counter()
    for trace in whole:
        if trace.about is not None and trace.about.cable and trace.about.nvp is not None:
            cable = letters(trace.about.cable)
            firsts[cable].setdefault(trace.about.nvp, trace)
            counts[cable, trace.about.nvp] += 1
    for cable, by_nvp in firsts.items():
        if len(by_nvp) > 1:
            rare = by_nvp[min(by_nvp, key=lambda nvp: counts[cable, nvp])]
            values = [f"{nvp:g} ({counts[cable, nvp]})" for nvp in sorted(by_nvp)]
            named = rare.about.cable.strip() if rare.about else ""
            yield Hit("$", {"cable": named, "values": listed(values), "label": rare.label})


def calibration_is_of_the_unit(whole: WholeSet) -> Iterator[Hit]:
    """Yield, once a unit, a day on which it is said to have been calibrated at several times."""
    by_day: dict[tuple[str, str], dict[str, Trace]] = defaultdict(dict)
    for trace in whole:
        about = trace.about
        if about is not None and about.unit and about.calibration and trace.started is not None:
            day = trace.started.date().isoformat()
            by_day[letters(about.unit), day].setdefault(about.calibration, trace)
    told: set[str] = set()
    for (unit, day), said in by_day.items():
        if len(said) > 1 and unit not in told:
            told.add(unit)
            labels = [f'"{trace.label}"' for trace in said.values()]
            dates = listed(sorted(said))
            first = next(iter(said.values())).about
            named = first.unit if first is not None else unit
            words = {"unit": named, "day": day, "dates": dates, "labels": listed(labels)}
            yield Hit("$", words, ids(said.values()))


def terminations_are_of_one_link(whole: WholeSet, most: int) -> Iterator[Hit]:
    """Yield every termination that ends several links.

    Args:
        whole: all records.
        most: labels; what stands under more is the name of a room or a panel.
    """
    for key, traces in groups(whole, lambda _, trace: map(plain, _terminations(trace))):
        of_link: dict[Key, Trace] = {}
        for trace in traces:
            of_link.setdefault(trace.label_key, trace)
        if 1 < len(of_link) <= most:
            first = next(end for end in _terminations(traces[0]) if plain(end) == key)
            labels = listed([f'"{trace.label}"' for trace in of_link.values()])
            said = {"termination": first.rpartition("|")[2], "labels": labels}
            yield Hit("$", said, ids(of_link.values()))


def _terminations(trace: Trace) -> tuple[str, ...]:
    return trace.about.terminations_in_place if trace.about is not None else ()
