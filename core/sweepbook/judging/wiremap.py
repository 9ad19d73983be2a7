"""Judge the wire map: every pin to the pin it belongs to, and the screen where one is due."""

from collections.abc import Mapping, Sequence
from typing import Any

from sweepbook.judging.assessment import Origin, Outcome, ScalarMargin
from sweepbook.judging.screen import hint_of_screen
from sweepbook.judging.working import Lack, LackKind
from sweepbook.limits.model import WireMap

PARAMETER = "wire_map"


def judge_wire_map(
    document: Mapping[str, Any], rule: WireMap, screened: bool | None
) -> tuple[tuple[ScalarMargin, ...], tuple[Lack, ...]]:
    """Compare the pins with those expected.

    A wire map that is only a word ("pass") proves nothing: there is nothing to compare.

    Args:
        document: of the record.
        rule: of the limit table.
        screened: see `screen.is_screened`.
    """
    found = document.get("results", {}).get(PARAMETER)
    if not found:
        lacks = (Lack(PARAMETER, None, (), LackKind.PARAMETER),)
        return (), lacks
    faults, gaps = _pins(found.get("pins"), rule.expected)
    hint = hint_of_screen(document)
    if hint and rule.screen_obligation == "required":
        gaps.append(f"{hint}, and the screen was not tested, or shown not to be there")
    if screened and rule.screen_obligation == "required":
        screen = found.get("screen", "not-tested")
        if screen == "open":
            faults.append("the screen is interrupted")
        elif screen != "continuous":
            gaps.append("the continuity of the screen was not shown")
    if faults:
        outcome, reason = Outcome.FAIL, "; ".join(faults)
    elif gaps:
        outcome, reason = Outcome.UNDECIDED, "; ".join(gaps)
    else:
        outcome, reason = Outcome.PASS, ""
    known = bool(faults) or not gaps
    margin = ScalarMargin(
        PARAMETER,
        rule.obligation,
        None,
        outcome,
        float(len(faults)) if known else None,
        0.0 if known else None,
        -float(len(faults)) if known else None,
        "faults",
        Origin.RECOMPUTED if found.get("pins") else Origin.AS_EXPORTED,
        rule.grade,
        reason,
    )
    return (margin,), ()


def _pins(
    pins: Sequence[Sequence[Any]] | None, expected: Mapping[str, str]
) -> tuple[list[str], list[str]]:
    """Faults, and what is not known, in words."""
    if not pins:
        return [], ["the source gives a word only, not the pins"]
    reached: dict[str, list[Any]] = {}
    for near, far in pins:
        reached.setdefault(str(near), []).append(far)
    faults, unknown = [], []
    for near, wanted in expected.items():
        ends = reached.get(near)
        if ends is None:
            unknown.append(near)
        elif [str(end) for end in ends] != [wanted]:
            faults.append(f"pin {near} goes to {_ends(ends)}, not to {wanted}")
    gaps = [f"the wire map leaves out pin {', '.join(unknown)}"] if unknown else []
    for near, far in pins:
        if far is None or str(far) not in expected.values():
            continue
        if near is None:
            gaps.append(f"the wire map says of pin {far} at the far end that it reaches nothing")
        elif str(near) not in expected:
            faults.append(f"pin {near} goes to {far}, where another pin belongs")
    return faults, gaps


def _ends(ends: Sequence[Any]) -> str:
    return " and ".join("nothing" if end is None else str(end) for end in ends)
