"""What stands at the head of a limit table, in words."""

from sweepbook.limits.ends import Ends
from sweepbook.limits.model import LimitTable


def facts(table: LimitTable) -> tuple[tuple[str, str], ...]:
    """What stands at the head of a table, as names and texts."""
    steps = "; ".join(
        f"{part.largest_step_mhz:g} MHz from {part.from_mhz:g} to {part.to_mhz:g} MHz"
        for part in table.steps
    )
    found = [
        ("path", table.path),
        ("document", f"{table.document}, edition {table.edition}"),
        ("class or category", table.class_or_category),
        ("configuration", table.configuration),
        ("longest length", f"{table.longest_length_m:g} m, {table.connections} connections"),
        ("largest step", f"{steps} (grade {table.steps_grade}, source: {table.steps_source})"),
        ("wire map", _wire_map(table)),
    ]
    if table.based_on:
        found.append(("based on", table.based_on))
    if table.ends:
        found.append(("ends", _ends(table.ends)))
    if table.environment:
        found.append(("environment", f"balance limits are for {table.environment}"))
    if table.variants:
        found.append(("differs from", ", ".join(table.variants)))
    found.append(("digest", f"sha256 {table.sha256}"))
    return tuple(found)


def _wire_map(table: LimitTable) -> str:
    expected = table.wire_map.expected
    straight = all(near == far for near, far in expected.items())
    pins = "straight through" if straight else ", ".join(f"{a} to {b}" for a, b in expected.items())
    return (
        f"{table.wire_map.obligation}: {pins}; screen {table.wire_map.screen_obligation} for "
        f"{table.wire_map.screen_required_when} cabling (grade {table.wire_map.grade})"
    )


def _ends(ends: Ends) -> str:
    """Both ends in words."""
    said = [
        f"{name} end: {end.fitting}, {end.adaptor} adaptor"
        + (", its termination must be named" if end.must_be_named else "")
        for name, end in (("near", ends.near), ("far", ends.far))
    ]
    sources = ", ".join((ends.source, *ends.support))
    note = f" {ends.note}" if ends.note else ""
    return f"{'; '.join(said)} (grade {ends.grade}, source: {sources}).{note}"
