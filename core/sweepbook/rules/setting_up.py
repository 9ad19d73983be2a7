"""Rules about how a test was set up: configuration, field reference, calibration."""

from collections.abc import Iterator
from datetime import date
from typing import Any

from sweepbook.rules.case import Case
from sweepbook.rules.model import Hit
from sweepbook.rules.times import Moment, day_of, days_between, moment, months_after

REFERENCE = "$.test.field_reference"
ENDS = ("near", "far")


def configuration_is_of_limit(case: Case) -> Iterator[Hit]:
    """Yield a configuration that the limit, as the source states it, is not for."""
    stated = case.document["test"].get("configuration", {}).get("kind")
    table = case.stated_limit.table
    if stated is None or table is None or stated == table.configuration:
        return
    if stated == "permanent-link-cp" and table.consolidation_point is None:
        return  # the document has one limit, with or without a consolidation point
    yield Hit(
        "$.test.configuration",
        {
            "configuration": stated,
            "limit": table.path,
            "limit_configuration": table.configuration,
        },
    )


def field_reference_is_there(case: Case) -> Iterator[Hit]:
    """Yield a record without a field reference whose time is known."""
    if _reference(case) is None:
        place = REFERENCE if "field_reference" in case.document["test"] else "$.test"
        yield Hit(place, {})


def field_reference_before_test(case: Case) -> Iterator[Hit]:
    """Yield a field reference that was surely made after the test began."""
    reference, started = _reference(case), _started(case)
    if reference is None or started is None:
        return
    if days_between(reference, started)[1] < 0.0:
        yield Hit(REFERENCE, {"performed": reference.text, "started": started.text})


def field_reference_is_recent(case: Case) -> Iterator[Hit]:
    """Yield a field reference that is surely older than the practice figure."""
    reference, started = _reference(case), _started(case)
    if reference is None or started is None:
        return
    most_days = case.practice.value("field_reference_days")
    days = days_between(reference, started)[0]
    if not days <= most_days:
        yield Hit(REFERENCE, {"days": days, "most_days": most_days})


def calibration_in_force(case: Case) -> Iterator[Hit]:
    """Yield every instrument whose calibration was due before the day of the test."""
    tested = _tested_on(case)
    for end, instrument in _instruments(case):
        due = day_of(instrument, "calibration_due")
        if due is None or tested is None or due >= tested:
            continue
        yield Hit(
            f"$.test.{end}.instrument",
            {
                "end": end,
                "serial": instrument.get("serial", "without a serial number"),
                "due": due.isoformat(),
                "tested": tested.isoformat(),
            },
        )


def calibration_is_recent(case: Case) -> Iterator[Hit]:
    """Yield every instrument calibrated after the test, or longer before it than practice asks.

    Where the due date is given it decides how long before.
    """
    tested = _tested_on(case)
    most_months = case.practice.value("calibration_months")
    for end, instrument in _instruments(case):
        calibrated = day_of(instrument, "calibrated_on")
        if calibrated is None or tested is None:
            continue
        dated = "calibration_due" in instrument
        last = tested if dated else months_after(calibrated, int(most_months))
        if calibrated <= tested <= last:
            continue
        yield Hit(
            f"$.test.{end}.instrument",
            {
                "end": end,
                "serial": instrument.get("serial", "without a serial number"),
                "calibrated_on": calibrated.isoformat(),
                "tested": tested.isoformat(),
                "most_months": most_months,
            },
        )


def _reference(case: Case) -> Moment | None:
    return moment(case.document["test"].get("field_reference", {}).get("performed"))


def _started(case: Case) -> Moment | None:
    return moment(case.document["test"].get("started"))


def _tested_on(case: Case) -> date | None:
    started = _started(case)
    return None if started is None else started.date


def _instruments(case: Case) -> Iterator[tuple[str, dict[str, Any]]]:
    for end in ENDS:
        instrument = case.document["test"].get(end, {}).get("instrument")
        if instrument is not None:
            yield end, instrument
