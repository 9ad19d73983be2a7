"""Places and ends that several sources tell: where they agree, and what they make together."""

from collections.abc import Iterable, Mapping

from sweepbook.schedule.model import LEVELS, End, same_name

Place = Mapping[str, str]
TERMINATION = "termination"


def levels_apart(one: Place, other: Place) -> tuple[str, ...]:
    """The levels that both name, and by different names; capitals and blanks do not count."""
    if not one or not other:
        return ()
    return tuple(
        level
        for level in LEVELS
        if level in one
        and level in other
        and one[level] != other[level]
        and same_name(one[level]) != same_name(other[level])
    )


def apart(one: End, other: End) -> tuple[str, ...]:
    """In what two ends differ: levels of the place, and "termination"."""
    found = levels_apart(one.place, other.place)
    both = one.termination and other.termination
    if both and same_name(one.termination) != same_name(other.termination):
        return (*found, TERMINATION)
    return found


def joined(places: Iterable[Place]) -> dict[str, str]:
    """The levels that several sources tell of one place, the surest source first.

    A source that names another place than those before it adds nothing: a room on floor 2 is not
    put on floor 1.
    """
    whole: dict[str, str] = {}
    for place in places:
        if not levels_apart(whole, place):
            whole = {**place, **whole}
    return {level: whole[level] for level in LEVELS if level in whole}


def where(own: Mapping[str, str], *told: tuple[End, End] | None) -> tuple[tuple[str, str], ...]:
    """Where a link is: the levels that it has without an end, with those of one of its ends.

    That is the first end of which the surest source names a place that does not contradict.

    Args:
        own: levels that the schedule gives without saying for which end.
        told: near and far end by each source, the surest first.
    """
    sources = [ends for ends in told if ends and (ends[0].place or ends[1].place)]
    if not sources:
        return tuple([(level, own[level]) for level in LEVELS if level in own])
    places = [[ends[n].place for ends in sources] for n in (0, 1)]
    for n in range(len(sources)):
        for of_end in places:
            if of_end[n] and not levels_apart(own, joined(of_end)):
                return tuple(joined((own, *of_end)).items())
        if any(of_end[n] for of_end in places):
            break
    return tuple(joined([own]).items())
