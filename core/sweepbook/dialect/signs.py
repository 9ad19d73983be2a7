"""Curves with a sign that physics contradicts, told by the others of their parameters."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from sweepbook.dialect.raw import Fault, RawCurve


class OtherSign(Fault):
    """Most values of a curve lie below 0 dB, and what to do rests on the others of its parameter.

    Args:
        curve: the curve.
        negative: whether the export is said to write it with the opposite sign.
    """

    def __init__(self, curve: RawCurve, *, negative: bool) -> None:
        parameter = curve.name.parameter
        change = "take it out of" if negative else "add it to"
        self.parameter = parameter
        self.found = f"most values of '{curve.name}' would be below 0 dB"
        super().__init__(
            curve.place_of(0), f"{self.found}; for {parameter}, {change} signs.negative"
        )

    def beside(self, others: int) -> Fault:
        """The same where so many curves of its parameter have the sign that the dialect says."""
        return Fault(
            self.place,
            f"{self.found}, while {others} other curve{'s' if others > 1 else ''} of "
            f"{self.parameter} {'are' if others > 1 else 'is'} the other way, as signs.negative "
            "says: a sign was turned in the export, or this is no such curve; export it again",
        )


def told(faults: Sequence[Fault], sweeps: Sequence[Mapping[str, Any]]) -> Iterator[Fault]:
    """Yield faults, those of a sign told by the other curves of their parameters.

    Args:
        faults: of the curves of one test.
        sweeps: the curves that are right.
    """
    right = Counter(sweep["parameter"] for sweep in sweeps)
    wrong = Counter(of.parameter for of in faults if isinstance(of, OtherSign))
    for fault in faults:
        if isinstance(fault, OtherSign) and wrong[fault.parameter] < right[fault.parameter]:
            yield fault.beside(right[fault.parameter])
        else:
            yield fault
