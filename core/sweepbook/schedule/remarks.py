"""What does not fit between a scheduled link and the tests of its label: told, never settled."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from sweepbook.schedule.cable import contradictions
from sweepbook.schedule.model import LEVELS, End, ScheduledLink
from sweepbook.schedule.place import TERMINATION, apart, levels_apart
from sweepbook.schedule.told import CABLE, ENDS, TURNED, Remark

if TYPE_CHECKING:
    from sweepbook.schedule.attempt import Attempt

_Apart = tuple[str, ...]
_ASK = "See whether the test is of this link, or its label is another one's."


def of_tests(link: ScheduledLink, tests: "Sequence[Attempt]") -> tuple[Remark, ...]:
    """A sentence or two on each test whose ends or cable contradict the schedule."""
    return tuple(
        Remark(rule, f"{_who(test, alone=len(tests) == 1)} {said}")
        for test in tests
        for rule, said in (*_of_ends(link, test), *_of_cable(link, test))
    )


def _who(test: "Attempt", *, alone: bool) -> str:
    if alone:
        return "The test"
    return f"The test of {test.started:%Y-%m-%d %H:%M}" if test.started else "One of the tests"


def _of_ends(link: ScheduledLink, test: "Attempt") -> Iterator[tuple[str, str]]:
    near, far = apart(link.near, test.near), apart(link.far, test.far)
    if (near or far) and _crossed(link, test, near, far):
        yield TURNED, "names the two ends the other way round than the schedule does."
    elif near or far:
        told = (("near", near, link.near, test.near), ("far", far, link.far, test.far))
        ends = [
            f"{_told(tested, levels)} at the {name} end (the schedule: {_told(said, levels)})"
            for name, levels, said, tested in told
            if levels
        ]
        yield ENDS, f"names {' and '.join(ends)}. {_ASK}"
    elif test.place and all(levels_apart(link.place, end.place) for end in test.named_ends):
        tested, said = End(dict(test.place)), End(link.place)
        levels = levels_apart(said.place, tested.place)
        yield ENDS, f"names {_told(tested, levels)} (the schedule: {_told(said, levels)}). {_ASK}"


def _crossed(link: ScheduledLink, test: "Attempt", near: _Apart, far: _Apart) -> bool:
    """Whether the ends fit the other way round, in what does not fit as they stand."""
    if apart(link.near, test.far) or apart(link.far, test.near):
        return False
    return set(near) <= _named(test.far).keys() and set(far) <= _named(test.near).keys()


def _of_cable(link: ScheduledLink, test: "Attempt") -> Iterator[tuple[str, str]]:
    differs = contradictions(link.cable, link.reel, test.cable)
    if differs:
        said = _cable(link.cable, link.reel)
        yield (
            CABLE,
            f"names the cable {_cable(str(test.cable), test.cable.reel)} (the schedule: {said}): "
            f"another {' and '.join(differs)}.",
        )


def _cable(described: str, reel: str) -> str:
    return ", ".join(text for text in (described, f"reel {reel}" if reel else "") if text)


def _told(end: End, levels: _Apart) -> str:
    """Those levels of an end in words: "floor 2, space TR-2A"."""
    named = _named(end)
    return ", ".join(f"{part} {named[part]}" for part in (*LEVELS, TERMINATION) if part in levels)


def _named(end: End) -> dict[str, str]:
    """The levels that an end names, and its termination."""
    return {**end.place, **({TERMINATION: end.termination} if end.termination else {})}
