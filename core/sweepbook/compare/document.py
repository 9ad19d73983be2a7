"""Comparisons as a JSON document."""

from collections.abc import Iterable
from dataclasses import asdict
from typing import Any

from sweepbook import __version__
from sweepbook.compare.curves import Difference
from sweepbook.compare.tests import Comparison
from sweepbook.schedule.attempt import Attempt

SCHEMA = "urn:sweepbook:comparison-0"


def of(found: Iterable[Comparison]) -> dict[str, Any]:
    """The document: one entry for each test that has another before it."""
    return {
        "schema": SCHEMA,
        "tool": {"name": "sweepbook", "version": __version__},
        "comparisons": [_entry(one) for one in found],
    }


def _entry(comparison: Comparison) -> dict[str, Any]:
    return {
        "label": comparison.first.label,
        "earlier": _test(comparison.first),
        "later": _test(comparison.second),
        "ends": comparison.ends.name.casefold(),
        "differences": [_difference(one) for one in comparison.differences],
        "figures": [{**asdict(one), "pairs": one.pairs or None} for one in comparison.figures],
        "other_cable": comparison.other_cable,
        "remarks": list(comparison.remarks),
    }


def _test(test: Attempt) -> dict[str, Any]:
    return {
        "record_id": test.record_id,
        "started": test.started.isoformat() if test.started else None,
        "stated": test.stated or None,
        "recomputed": test.recomputed,
    }


def _difference(difference: Difference) -> dict[str, Any]:
    entry = asdict(difference)
    key = difference.key
    del entry["key"]
    return {"parameter": key.parameter, "end": key.end, "pairs": list(key.pairs), **entry}
