"""Words and places that the doubts about a record share."""

from sweepbook.judging import phrases
from sweepbook.judging.curves import Curves, Key
from sweepbook.judging.working import Discredited


def taken_along(parameter: str) -> Discredited:
    """What an impossible figure of a parameter takes with it: the skew is made from the delays."""
    if parameter == "propagation_delay":
        return (parameter, ()), ("delay_skew", ())
    return ((parameter, ()),)


def curve_of(key: Key) -> str:
    """What a curve is of."""
    return phrases.subject(key.parameter, key.end, key.pairs)


def path_of(curves: Curves, row: int) -> str:
    """JSON path of the first sweep of a curve."""
    return f"$.results.sweeps[{curves.sweeps[row][0]}]"


def shown(value: float) -> str:
    """A figure as the source has it, near enough."""
    return f"{value:g}"
