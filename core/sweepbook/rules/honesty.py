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
from sweepbook.rules.together import WholeSet, ids
from sweepbook.rules.trace import Trace
from sweepbook.rules.words import listed

F32 = NDArray[np.float32]


def tests_leave_time_to_plug(whole: WholeSet) -> Iterator[Hit]:
    """Yield, once a unit, its tests of two links that began closer together than tests can be.

    A unit whose clock shows full minutes only is passed over; so are equal sweeps, which are told
    by other rules.
    """
    shortest_s = whole.practice.value("shortest_test_s")
    for traces in _by_unit(whole).values():
        if not any(trace.started.second for trace in traces if trace.started):
            continue
        close = [
            (first, second, apart)
            for first, second in pairwise(traces)
            if first.label_key != second.label_key
            and not (first.sweeps_sha256 and first.sweeps_sha256 == second.sweeps_sha256)
            and (apart := (_begun(second) - _begun(first)).total_seconds()) < shortest_s
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
    groups: dict[tuple[str, str], list[Trace]] = defaultdict(list)
    for trace in whole:
        about = trace.about
        if about is not None and about.unit and about.position >= 0 and trace.started is not None:
            groups[about.source, letters(about.unit)].append(trace)
    for traces in groups.values():
        traces.sort(key=lambda trace: _about(trace).position)
        steps = [
            (first, second) for first, second in pairwise(traces) if _begun(second) < _begun(first)
        ]
        if len(traces) < least_tests or len(steps) > most_share * len(traces):
            continue
        for first, second in steps:
            minutes = (_begun(first) - _begun(second)).total_seconds() / 60.0
            said = {"first": first.label, "second": second.label}
            unit = _about(first).unit
            words = {"unit": unit, **said, "minutes": minutes, "tests": len(traces)}
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
    groups: dict[bytes, list[Trace]] = defaultdict(list)
    for trace in whole:
        if trace.about is not None and trace.about.figure_count >= least_figures:
            groups[trace.about.figures].append(trace)
    for traces in groups.values():
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
    kept = [trace for trace in whole if trace.about is not None]
    if not kept:
        return
    computed, stated, halves = (_stacked(kept, name) for name in ("computed", "stated", "halves"))
    slack = 2.0 * halves + 0.005
    wrong = (~(np.abs(stated - computed) <= slack)) & np.isfinite(stated) & np.isfinite(computed)
    told = np.isfinite(stated).sum(axis=1)
    suspects = np.flatnonzero((told >= least) & (2 * wrong.sum(axis=1) >= told))
    if suspects.size > most:
        raise CannotLook(f"the stated margins of {suspects.size} records are not those computed")
    for place in suspects.tolist():
        given = np.isfinite(stated[place])
        fits = np.abs(computed[:, given] - stated[place, given]) <= slack[place, given]
        others = np.flatnonzero(fits.all(axis=1)).tolist()
        labels = {kept[one].label_key: kept[one].label for one in others if one != place}
        labels.pop(kept[place].label_key, None)
        if len(labels) == 1:
            said = {"label": kept[place].label, "record": kept[place].record_id[:12]}
            words = {**said, "margins": int(given.sum()), "other": labels.popitem()[1]}
            about = [kept[place], *(kept[one] for one in others)]
            yield Hit("$", words, ids(about))


def _stacked(traces: Sequence[Trace], name: str) -> F32:
    """float32[records, parameters]."""
    joined = b"".join(getattr(trace.about, name) for trace in traces)
    return np.frombuffer(joined, dtype=np.float32).reshape(-1, len(COMPARED))


def _by_unit(whole: WholeSet) -> dict[str, list[Trace]]:
    """Tests with a time by their unit, in the order of their times.

    Where some offsets of a unit's clock are known and others are not, each kind by itself.
    """
    groups: dict[tuple[str, bool], list[Trace]] = defaultdict(list)
    for trace in whole:
        if trace.about is not None and trace.about.unit and trace.started is not None:
            groups[letters(trace.about.unit), trace.offset is None].append(trace)
    named: dict[str, list[Trace]] = {}
    for (unit, _), traces in groups.items():
        traces.sort(key=_begun)
        if len(traces) > len(named.get(unit, ())):
            named[unit] = traces
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
