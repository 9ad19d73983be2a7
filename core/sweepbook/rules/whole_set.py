"""Rules about all records of a run together."""

from collections.abc import Iterator

from sweepbook.record.links import Key
from sweepbook.rules.model import Hit
from sweepbook.rules.same_test import LATER, is_one_test
from sweepbook.rules.together import WholeSet, groups, ids
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

    def first(place: int, trace: Trace) -> Iterator[Key]:
        if trace.purpose not in LATER and place not in again:
            yield trace.label_key

    for _, group in groups(whole, first):
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


def sweeps_differ(whole: WholeSet, least_changes: int) -> Iterator[Hit]:
    """Yield sweeps that stand, alike in every digit, under several labels.

    Args:
        whole: all records.
        least_changes: values that must differ from the one before them in their sweep, in all, so
            that flat or empty sweeps prove nothing.
    """

    def rich(_: int, trace: Trace) -> Iterator[bytes]:
        if trace.changes >= least_changes:
            yield trace.sweeps_sha256

    for _, group in groups(whole, rich):
        labels = list({trace.label_key: f'"{trace.label}"' for trace in group}.values())
        if len(labels) > 1:
            said = {"values": group[0].values, "labels": listed(labels)}
            yield Hit("$", said, ids(group))


def _result(trace: Trace) -> str:
    """What a test came to: as stated, and by its sweeps where these say otherwise."""
    stated = trace.stated or "unstated"
    same = stated.rstrip("*") == trace.recomputed
    return stated if same else f"{stated} (sweeps: {trace.recomputed})"
