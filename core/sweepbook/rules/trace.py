"""What a run keeps of each record for the rules about the set: a few hundred bytes."""

import hashlib
from collections.abc import Iterator
from operator import itemgetter
from sys import intern
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from sweepbook.record.checks import VALUES
from sweepbook.record.links import Key, key_of
from sweepbook.rules.about import About, about
from sweepbook.rules.times import moment

if TYPE_CHECKING:
    from datetime import datetime, timedelta

    from sweepbook.judging.assessment import Assessment, CameTo


class Trace(NamedTuple):
    """One record, as the rules about the set see it.

    Attributes:
        record_id: identity of the record.
        label: of the link, as stated.
        label_key: tells its link, see `record.links`; in a `WholeSet` that of all its tests.
        purpose: of the test as stated, "" where it is not.
        started: wall-clock time of the test, None where it is not known.
        limit_path: what it was judged under.
        stated: overall verdict of the source, "" without one.
        recomputed: what the sweeps prove.
        sweeps_sha256: digest over all values of all sweeps; b"" where there are none.
        values: number of those values.
        changes: how often a value differs from the one before it in its sweep.
        offset: of that time to UTC, None where it is not known.
        about: units, place in the export, figures and cable; None where it was not kept.
        came_to: what it is counted by; None likewise.
    """

    record_id: str
    label: str
    label_key: Key
    purpose: str
    started: "datetime | None"
    limit_path: str | None
    stated: str
    recomputed: str
    sweeps_sha256: bytes
    values: int
    changes: int
    offset: "timedelta | None" = None
    about: About | None = None
    came_to: "CameTo | None" = None


def trace(assessment: "Assessment") -> Trace:
    """Keep what the rules about the set need of one record that follows its schema."""
    record = assessment.record
    test = record.document["test"]
    started = moment(test.get("started"))
    digest, values, changes = _sweeps(record.document["results"].get("sweeps", []))
    return Trace(
        record_id=record.record_id,
        label=record.label,
        label_key=key_of(record),
        purpose=intern(test.get("purpose", "")),
        started=started.clock if started else None,
        limit_path=assessment.limit_path,
        stated=intern(assessment.stated or ""),
        recomputed=assessment.recomputed.value,
        sweeps_sha256=digest,
        values=values,
        changes=changes,
        offset=started.offset if started else None,
        about=about(assessment),
        came_to=assessment.came_to,
    )


def _sweeps(sweeps: list[dict[str, Any]]) -> tuple[bytes, int, int]:
    """Digest of the values, in an order that does not depend on the source's.

    Returns:
        (SHA-256, values, values that differ from the one before).
    """
    found = [(name, array) for sweep in sweeps for name, array in _arrays(sweep)]
    if not found:
        return b"", 0, 0
    found.sort(key=itemgetter(0))
    every = np.concatenate([array for _, array in found])
    digest = hashlib.sha256(repr([(name, array.size) for name, array in found]).encode())
    digest.update(every.astype("<f8", copy=False).data)
    differs = every[1:] != every[:-1]
    sizes = [array.size for _, array in found if array.size]
    begins = np.cumsum(sizes[:-1], dtype=np.intp)  # where an array begins, but for the first
    changes = np.count_nonzero(differs) - np.count_nonzero(differs[begins - 1])
    return digest.digest(), every.size, int(changes)


def _arrays(sweep: dict[str, Any]) -> Iterator[tuple[str, NDArray[np.float64]]]:
    """The number arrays of a sweep, each with a name that tells what it is of."""
    curve = " ".join([sweep["parameter"], sweep.get("end", "-"), *sweep["pairs"]])
    for name in VALUES:
        if name in sweep:
            yield f"{curve} {name}", sweep[name]
    for name, value in sweep.get("complex", {}).items():
        if isinstance(value, np.ndarray):
            yield f"{curve} {name}", value
