"""Which end of one test is which end of another: by what each end is connected to."""

from enum import StrEnum

from sweepbook.schedule.attempt import Attempt


class Ends(StrEnum):
    """How the ends of a later test lie to those of an earlier one."""

    SAME = "the same in both tests"
    TURNED = "the two testers stood at exchanged ends"
    ASSUMED = "neither end is named in both tests, so near is taken for near"
    OTHERS = "other ones in each test"


def ends(first: Attempt, second: Attempt) -> Ends:
    """Match the ends of two tests of one link by their terminations."""
    one = (_name(first.near.termination), _name(first.far.termination))
    two = (_name(second.near.termination), _name(second.far.termination))
    straight = [a == b for a, b in zip(one, two, strict=True) if a and b]
    crossed = [a == b for a, b in zip(one, reversed(two), strict=True) if a and b]
    if straight and all(straight):
        return Ends.SAME
    if crossed and all(crossed):
        return Ends.TURNED
    return Ends.OTHERS if straight else Ends.ASSUMED


def _name(termination: str) -> str:
    return " ".join(termination.split()).casefold()
