"""Curves of a test whose steps are wider than its limit allows, which no dialect mends."""

from sweepbook.judging.working import Lack, LackKind, Working


def coarse(working: Working) -> str:
    """What to say of such curves; "" where there are none.

    Args:
        working: of the test, held against its limit.
    """
    held = {
        (key.parameter, key.end, key.pairs)
        for curves in working.measured_curves.values()
        for key in curves.keys
    }
    wide: dict[tuple[str, str | None, tuple[str, ...]], Lack] = {}
    for lack in working.lacks:
        of = (lack.parameter, lack.end, lack.pairs)
        if lack.kind is LackKind.STEP and of in held:
            wide.setdefault(of, lack)
    if not wide:
        return ""
    first = next(iter(wide.values()))
    return (
        f"{len(wide)} of {len(held)} curves step more coarsely than the limit allows, as by "
        f"{first.step_mhz:g} MHz at {first.at_mhz:g} MHz where {first.asked_mhz:g} MHz are "
        "allowed: no pass can be proved by them (SWP006), and no change of the dialect helps; "
        "export every point that was taken, or ask the maker for it"
    )
