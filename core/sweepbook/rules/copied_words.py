"""How two tests, or two curves, agree: in figures and in words."""

from collections.abc import Iterator, Sequence

from sweepbook.copies.likeness import Likeness
from sweepbook.copies.match import Match
from sweepbook.judging.curves import PAIRS

LEAST_OFFSET_DB = 0.005
"""An offset below half the last digit that testers print is none."""


def figures_of(likeness: Likeness) -> dict[str, str | int | float]:
    """The figures of a finding, by the names of its arguments."""
    return {
        "agreeing": likeness.agreeing,
        "compared": likeness.compared,
        "points": likeness.points - likeness.odd,
        "largest_db": round(likeness.largest_db, 3) + 0.0,
    }


def transformation(likeness: Likeness) -> str:
    """What has to be done to one test to make it the other: "ends swapped, every offset..."."""
    return _joined(_steps(likeness), likeness.largest_db, exact=likeness.exact)


def transformation_of_curve(match: Match) -> str:
    """What has to be done to one curve to make it the other."""
    odd = match.points - match.near
    steps = [*_offset(match.offset_db, match.offset_db), *_odd(odd, match.points)]
    return _joined(iter(steps), match.largest_db, exact=match.exact == match.points)


def part_of_curve(parts: Sequence[str]) -> str:
    """Which part of a curve is the same: "at every point", "at every point of its upper half"."""
    return "at every point" if len(parts) > 1 else f"at every point of its {parts[0]} half"


def _joined(steps: Iterator[str], largest_db: float, *, exact: bool) -> str:
    said = ", ".join(steps)
    if said:
        return said
    if exact:
        return "to the last digit of the coarser"
    return "as they stand" + (", with small differences" if largest_db > LEAST_OFFSET_DB else "")


def _steps(likeness: Likeness) -> Iterator[str]:
    renaming = likeness.renaming
    if renaming.swapped:
        yield "with the ends swapped"
    moved = [
        f"{pair} for {other}"
        for pair, other in zip(PAIRS, renaming.pairs, strict=True)
        if pair != other
    ]
    if moved:
        yield f"with the pairs renamed ({', '.join(moved)})"
    yield from _offset(*likeness.offsets_db)
    first, second, both = likeness.frequencies
    if not both == first == second:
        yield f"at the {both} frequencies that both have, of {first} and {second}"
    yield from _odd(likeness.odd, likeness.points)


def _offset(least: float, most: float) -> Iterator[str]:
    if max(abs(least), abs(most)) <= LEAST_OFFSET_DB:
        return
    shown, other = (f"{value:+.2f}" for value in (least, most))
    if shown == other:
        yield f"with an offset of {shown} dB taken off"
    else:
        yield f"with offsets of {shown} to {other} dB taken off, one a curve"


def _odd(odd: int, points: int) -> Iterator[str]:
    if odd:
        yield f"save for {odd} of {points} points"
