"""Testers and their comparison as a JSON document."""

from collections.abc import Iterable
from typing import Any

from sweepbook import __version__
from sweepbook.testers.collect import Compared, Record

SCHEMA = "urn:sweepbook:testers-0"


def of(records: Iterable[Record], compared: Iterable[Compared]) -> dict[str, Any]:
    """The document: one entry a tester, with its comparisons."""
    by_unit: dict[object, list[Compared]] = {}
    for one in compared:
        by_unit.setdefault(one.unit, []).append(one)
    return {
        "schema": SCHEMA,
        "tool": {"name": "sweepbook", "version": __version__},
        "testers": [_entry(record, by_unit.get(record.unit, ())) for record in records],
    }


def _entry(record: Record, compared: Iterable[Compared]) -> dict[str, Any]:
    return {
        **record.unit._asdict(),
        "firmware": list(record.firmware),
        "tests": record.tests,
        "failed": record.failed,
        "first": record.first.isoformat() if record.first else None,
        "last": record.last.isoformat() if record.last else None,
        "calibrated_on": [day.isoformat() for day in sorted(record.calibrated_on)],
        "calibration_due": [day.isoformat() for day in sorted(record.calibration_due)],
        "tests_after_calibration_due": record.expired,
        "longest_reference_days": record.longest_reference_days,
        "tests_without_reference": record.without_reference,
        "compared": [_compared(one) for one in compared],
    }


def _compared(one: Compared) -> dict[str, Any]:
    return {
        "parameter": one.parameter,
        "own": one.found.own,
        "others": one.found.others,
        "shift_db": one.found.shift,
        "chance": one.chance,
        "apart": one.apart,
    }
