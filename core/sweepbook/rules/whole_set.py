"""Rules about all records of a run together."""

from collections import defaultdict
from collections.abc import Callable, Hashable, Iterator, Sequence

from sweepbook.rules.model import Hit
from sweepbook.rules.same_test import LATER, is_one_test
from sweepbook.rules.together import WholeSet, ids
from sweepbook.rules.trace import Trace
from sweepbook.rules.words import listed


def labels_agree(whole: WholeSet) -> Iterator[Hit]:
    """Yield every label under which several tests stand that differ and say not why.

    A test that says it is a retest, a periodic one or one made to find a fault may differ from
    the first. The same sweeps judged under two limits are one test, and so are those of one test
    in two exports.
    """
    again = {
        one.second
        for one in whole.suspicions.found
        if is_one_test(whole[one.first], whole[one.second], one)
    }
    firsts = [
        trace
        for place, trace in enumerate(whole)
        if trace.purpose not in LATER and place not in again
    ]
    for group in _groups(firsts, lambda trace: trace.label_key):
        if len({trace.sweeps_sha256 or trace.record_id for trace in group}) > 1:
            results = [f"{_result(trace)} {trace.record_id[:12]}" for trace in group]
            yield Hit(
                "$",
                {
                    "label": group[0].label,
                    "count": len(group),
                    "differs": "results" if len(set(map(_result, group))) > 1 else "curves",
                    "results": listed(results),
                },
                ids(group),
            )


def sweeps_differ(traces: Sequence[Trace], least_changes: int) -> Iterator[Hit]:
    """Yield sweeps that stand, alike in every digit, under several labels.

    Args:
        traces: of all records.
        least_changes: values that must differ from the one before them in their sweep, in all, so
            that flat or empty sweeps prove nothing.
    """
    rich = [trace for trace in traces if trace.changes >= least_changes]
    for group in _groups(rich, lambda trace: trace.sweeps_sha256):
        labels = list({trace.label_key: f'"{trace.label}"' for trace in group}.values())
        if len(labels) > 1:
            said = {"values": group[0].values, "labels": listed(labels)}
            yield Hit("$", said, ids(group))


def _result(trace: Trace) -> str:
    """What a test came to: as stated, and by its sweeps where these say otherwise."""
    stated = trace.stated or "unstated"
    same = stated.rstrip("*") == trace.recomputed
    return stated if same else f"{stated} (sweeps: {trace.recomputed})"


def _groups(traces: Sequence[Trace], key: Callable[[Trace], Hashable]) -> Iterator[list[Trace]]:
    """Traces with the same key, in the order in which each key first comes up."""
    groups: dict[Hashable, list[Trace]] = defaultdict(list)
    for trace in traces:
        groups[key(trace)].append(trace)
    yield from groups.values()
