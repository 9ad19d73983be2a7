"""Rules about the two units and their adaptors: which they were, and what is known of them."""

from collections.abc import Iterator, Mapping
from typing import Any

from sweepbook.limits.names import letters
from sweepbook.rules.case import Case
from sweepbook.rules.model import Hit
from sweepbook.rules.times import day_of, moment
from sweepbook.rules.words import listed

ENDS = ("near", "far")
WORN = ("instrument", "adaptor")
REFERENCE = "$.test.field_reference"


def ends_have_units_of_their_own(case: Case) -> Iterator[Hit]:
    """Yield an instrument or adaptor with one serial number at both ends."""
    for what in WORN:
        near, far = (_serial(case, end, what) for end in ENDS)
        if near and letters(near) == letters(far):
            yield Hit(f"$.test.far.{what}.serial", {"what": what, "serial": near})


def field_reference_is_of_these_units(case: Case) -> Iterator[Hit]:
    """Yield the instruments and adaptors of the test that the field reference was not made with.

    Only where the reference names as many of a kind as the test does.
    """
    reference = case.document["test"].get("field_reference", {})
    for what, named in zip(WORN, ("units", "adaptors"), strict=True):
        joined = {letters(serial) for serial in reference.get(named, ())}
        used = list(filter(None, (_serial(case, end, what) for end in ENDS)))
        others = [serial for serial in used if letters(serial) not in joined]
        if others and len(joined) >= len(used):
            said = listed(reference[named])
            yield Hit(
                f"{REFERENCE}.{named}", {"what": what, "used": listed(others), "joined": said}
            )


def field_reference_after_calibration(case: Case) -> Iterator[Hit]:
    """Yield every instrument that was calibrated after its field reference and before the test."""
    performed = moment(case.document["test"].get("field_reference", {}).get("performed"))
    started = moment(case.document["test"].get("started"))
    for end, instrument in _instruments(case):
        calibrated = day_of(instrument, "calibrated_on")
        if calibrated is None or performed is None or started is None:
            continue
        if performed.date < calibrated <= started.date:
            yield Hit(
                REFERENCE,
                {"end": end, "performed": performed.text, "calibrated_on": calibrated.isoformat()},
            )


def calibration_ends_after_it_began(case: Case) -> Iterator[Hit]:
    """Yield every instrument whose calibration was due before it was made."""
    for end, instrument in _instruments(case):
        calibrated = day_of(instrument, "calibrated_on")
        due = day_of(instrument, "calibration_due")
        if calibrated is not None and due is not None and due < calibrated:
            yield Hit(
                f"$.test.{end}.instrument.calibration_due",
                {"end": end, "calibrated_on": calibrated.isoformat(), "due": due.isoformat()},
            )


def calibration_is_stated(case: Case) -> Iterator[Hit]:
    """Yield a record in which neither instrument has a day of calibration."""
    dated = ("calibrated_on", "calibration_due")
    if not any(name in instrument for _, instrument in _instruments(case) for name in dated):
        yield Hit("$.test", {})


def units_belong_together(case: Case) -> Iterator[Hit]:
    """Yield two instruments of different makers, or of one model with different firmware."""
    near, far = (case.document["test"].get(end, {}).get("instrument", {}) for end in ENDS)
    problem = ""
    if _differ(near, far, "maker"):
        problem = f"is of {far['maker']}, that at the near end of {near['maker']}"
    elif near.get("model") == far.get("model") and _differ(near, far, "firmware"):
        problem = f"has firmware {far['firmware']}, that at the near end {near['firmware']}"
    if problem:
        yield Hit("$.test.far.instrument", {"problem": problem})


def _differ(near: Mapping[str, str], far: Mapping[str, str], name: str) -> bool:
    return name in near and name in far and letters(near[name]) != letters(far[name])


def _serial(case: Case, end: str, what: str) -> str:
    serial: str = case.document["test"].get(end, {}).get(what, {}).get("serial", "")
    return serial


def _instruments(case: Case) -> Iterator[tuple[str, dict[str, Any]]]:
    for end in ENDS:
        instrument = case.document["test"].get(end, {}).get("instrument")
        if instrument is not None:
            yield end, instrument
