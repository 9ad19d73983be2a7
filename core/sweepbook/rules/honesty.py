"""Rules about all records together: clocks, figures that repeat, figures of another record."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from datetime import datetime
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sweepbook.limits.names import letters
from sweepbook.rules.about import COMPARED, About
from sweepbook.rules.model import CannotLook, Hit
from sweepbook.rules.times import NO_TIME, before
from sweepbook.rules.together import WholeSet, groups, ids
from sweepbook.rules.trace import Trace
from sweepbook.rules.words import listed

F32 = NDArray[np.float32]


def tests_leave_time_to_plug(whole: WholeSet) -> Iterator[Hit]:
    """Yield, once a unit, its tests of two links that began closer together than tests can be.

    A unit whose clock shows full minutes only is passed over; so are equal sweeps, which are told
    by other rules.
    """
    shortest_s = whole.practice.value("shortest_test_s")
    for begun in _by_unit(whole).values():
        if not any(moment.second for moment, _ in begun):
            continue
        pairs = (
            (whole[first], whole[second], apart)
            for (one, first), (two, second) in pairwise(begun)
            if (apart := (two - one).total_seconds()) < shortest_s
        )
        close = [
            (first, second, apart)
            for first, second, apart in pairs
            if first.label_key != second.label_key
            and not (first.sweeps_sha256 and first.sweeps_sha256 == second.sweeps_sha256)
        ]
        if close:
            first, second, apart = min(close, key=lambda one: one[2])
            said: dict[str, Any] = {
                "count": len(close),
                "first": first.label,
                "second": second.label,
            }
            said["unit"] = _about(first).unit
            yield Hit("$", {**said, "seconds": apart, "shortest_s": shortest_s})


def clocks_run_forward(whole: WholeSet, least_tests: int, most_share: float) -> Iterator[Hit]:
    """Yield every step back of a unit's clock in an export that is otherwise in order of time.

    Args:
        whole: all records.
        least_tests: of the unit in the export, for its order to tell anything.
        most_share: of steps back; with more the export is in another order.
    """
    exports: dict[tuple[str, str], list[tuple[int, int, datetime]]] = defaultdict(list)
    for place, trace in enumerate(whole):
        about = trace.about
        if about is not None and about.unit and about.position >= 0 and trace.started is not None:
            exports[about.source, letters(about.unit)].append(
                (about.position, place, _begun(trace))
            )
    for tests in exports.values():
        tests.sort()
        steps = [
            (first, second) for (_, first, one), (_, second, two) in pairwise(tests) if two < one
        ]
        if len(tests) < least_tests or len(steps) > most_share * len(tests):
            continue
        for first, second in ((whole[one], whole[two]) for one, two in steps):
            minutes = (_begun(first) - _begun(second)).total_seconds() / 60.0
            said = {"first": first.label, "second": second.label}
            unit = _about(first).unit
            words = {"unit": unit, **said, "minutes": minutes, "tests": len(tests)}
            yield Hit("$", words, ids((first, second)))


def figures_are_of_their_own(
    whole: WholeSet, least_figures: int, least_labels: int
) -> Iterator[Hit]:
    """Yield figures that stand, all alike, under several labels whose sweeps are not the same.

    Args:
        whole: all records.
        least_figures: single figures and stated margins that a record must have.
        least_labels: labels under which they must stand.
    """

    def figures(_: int, trace: Trace) -> Iterator[bytes]:
        if trace.about is not None and trace.about.figure_count >= least_figures:
            yield trace.about.figures

    for _, traces in groups(whole, figures):
        labels = list({trace.label_key: f'"{trace.label}"' for trace in traces}.values())
        told = len({trace.sweeps_sha256 for trace in traces}) == 1 and traces[0].sweeps_sha256
        if len(labels) >= least_labels and not told:
            count = _about(traces[0]).figure_count
            words = {"figures": count, "count": len(labels), "labels": listed(labels)}
            yield Hit("$", words, ids(traces))


def stated_margins_are_of_this_link(whole: WholeSet, least: int, most: int) -> Iterator[Hit]:
    """Yield every record whose stated margins are not its own and are all those of another.

    Args:
        whole: all records.
        least: stated margins that must fit the other, of which half must not fit its own.
        most: records with wrong margins; with more it is no mix-up of single records.

    Raises:
        CannotLook: more records than `most` have wrong margins.
    """
    computed, stated, halves = (_stacked(whole, name) for name in ("computed", "stated", "halves"))
    slack = 2.0 * halves + 0.005
    wrong = (~(np.abs(stated - computed) <= slack)) & np.isfinite(stated) & np.isfinite(computed)
    told = np.isfinite(stated).sum(axis=1)
    suspects = np.flatnonzero((told >= least) & (2 * wrong.sum(axis=1) >= told))
    if suspects.size > most:
        raise CannotLook(f"the stated margins of {suspects.size} records are not those computed")
    kept = [place for place, trace in enumerate(whole) if trace.about is not None]
    for place in suspects.tolist():
        given = np.isfinite(stated[place])
        fits = np.abs(computed[:, given] - stated[place, given]) <= slack[place, given]
        others = np.flatnonzero(fits.all(axis=1)).tolist()
        trace, found = whole[kept[place]], [whole[kept[one]] for one in others]
        labels = {one.label_key: one.label for one in found}
        labels.pop(trace.label_key, None)
        if len(labels) == 1:
            said = {"label": trace.label, "record": trace.record_id[:12]}
            words = {**said, "margins": int(given.sum()), "other": labels.popitem()[1]}
            yield Hit("$", words, ids([trace, *found]))


def _stacked(traces: Sequence[Trace], name: str) -> F32:
    """float32[records, parameters]."""
    joined = bytearray()
    for trace in traces:
        joined += getattr(trace.about, name, b"")
    return np.frombuffer(joined, dtype=np.float32).reshape(-1, len(COMPARED))


def _by_unit(whole: WholeSet) -> dict[str, list[tuple[datetime, int]]]:
    """When tests with a time began, and their places, by their unit, in the order of their times.

    Where some offsets of a unit's clock are known and others are not, each kind by itself.
    """
    kinds: dict[tuple[str, bool], list[tuple[datetime, int]]] = defaultdict(list)
    for place, trace in enumerate(whole):
        if trace.about is not None and trace.about.unit and trace.started is not None:
            kinds[letters(trace.about.unit), trace.offset is None].append((_begun(trace), place))
    named: dict[str, list[tuple[datetime, int]]] = {}
    for (unit, _), begun in kinds.items():
        begun.sort()
        if len(begun) > len(named.get(unit, ())):
            named[unit] = begun
    return named


def _begun(trace: Trace) -> datetime:
    """When a test began, in UTC where its offset is known."""
    return before(trace.started or datetime.min, trace.offset or NO_TIME)


def _about(trace: Trace) -> About:
    """What is kept of a trace that has it.

    Raises:
        ValueError: it has not.
    """
    if trace.about is None:
        raise ValueError("a trace came without what is kept of its record")
    return trace.about
