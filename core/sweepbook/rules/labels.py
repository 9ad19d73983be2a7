"""Rules about all records together: how links, ends, cables and units are named throughout."""

from collections import defaultdict
from collections.abc import Iterator

from sweepbook.limits.names import letters
from sweepbook.record.links import Key
from sweepbook.rules.model import Hit
from sweepbook.rules.same_test import LATER, order
from sweepbook.rules.together import WholeSet, by_label, ids, plain
from sweepbook.rules.trace import Trace
from sweepbook.rules.words import listed

RETEST = "retest"


def labels_are_written_alike(whole: WholeSet) -> Iterator[Hit]:
    """Yield every label that is written in several ways, by case or blanks."""
    groups: dict[tuple[str, ...], list[Trace]] = defaultdict(list)
    for key, traces in by_label(whole).items():
        groups[tuple(map(plain, key))] += traces
    for traces in groups.values():
        written = list(dict.fromkeys(f'"{trace.label}"' for trace in traces))
        if len(written) > 1:
            yield Hit("$", {"ways": len(written), "labels": listed(written)}, ids(traces))


def retests_have_a_first(whole: WholeSet) -> Iterator[Hit]:
    """Yield every label under which there are retests and no first test."""
    for traces in by_label(whole).values():
        if all(trace.purpose == RETEST for trace in traces):
            yield Hit("$", {"label": traces[0].label, "count": len(traces)}, ids(traces))


def retests_come_later(whole: WholeSet) -> Iterator[Hit]:
    """Yield every label with a retest that surely began before every first test of the link."""
    for traces in by_label(whole).values():
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
    groups: dict[str, dict[float, list[Trace]]] = defaultdict(lambda: defaultdict(list))
    for trace in whole:
        if trace.about is not None and trace.about.cable and trace.about.nvp is not None:
            groups[letters(trace.about.cable)][trace.about.nvp].append(trace)
    for by_nvp in groups.values():
        if len(by_nvp) > 1:
            rare = min(by_nvp.values(), key=len)
            counts = [f"{nvp:g} ({len(traces)})" for nvp, traces in sorted(by_nvp.items())]
            cable = rare[0].about.cable.strip() if rare[0].about else ""
            said = {"cable": cable, "values": listed(counts), "label": rare[0].label}
            yield Hit("$", said)


def calibration_is_of_the_unit(whole: WholeSet) -> Iterator[Hit]:
    """Yield, once a unit, a day on which it is said to have been calibrated at several times."""
    groups: dict[tuple[str, str], dict[str, Trace]] = defaultdict(dict)
    for trace in whole:
        about = trace.about
        if about is not None and about.unit and about.calibration and trace.started is not None:
            day = trace.started.date().isoformat()
            groups[letters(about.unit), day].setdefault(about.calibration, trace)
    told: set[str] = set()
    for (unit, day), said in groups.items():
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
    groups: dict[str, dict[Key, tuple[str, Trace]]] = defaultdict(dict)
    for trace in whole:
        for termination in trace.about.terminations_in_place if trace.about is not None else ():
            groups[plain(termination)].setdefault(trace.label_key, (termination, trace))
    for links in groups.values():
        if 1 < len(links) <= most:
            labels = listed([f'"{trace.label}"' for _, trace in links.values()])
            termination = next(iter(links.values()))[0].rpartition("|")[2]
            tests = ids(trace for _, trace in links.values())
            yield Hit("$", {"termination": termination, "labels": labels}, tests)
