"""The shapes a limit may have: a closed set of plain values, never an expression to be run.

`f` is the frequency in MHz throughout. Values are in the parameter's unit.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Term:
    """`c * f**p`."""

    c: float
    p: float


@dataclass(frozen=True, slots=True)
class Part:
    """`times * (sum of its terms)`, with what it stands for: so much cable, so many connections."""

    what: str
    times: float
    terms: tuple[Term, ...]


@dataclass(frozen=True, slots=True)
class Sum:
    """The sum of its parts: insertion loss, delay."""

    parts: tuple[Part, ...]


@dataclass(frozen=True, slots=True)
class LogLine:
    """`a + b * log10(f / f0_mhz)`."""

    a: float
    b: float
    f0_mhz: float


@dataclass(frozen=True, slots=True)
class Weighted:
    """A line in a voltage sum, taken `weight` times."""

    what: str
    weight: float
    line: LogLine


@dataclass(frozen=True, slots=True)
class VoltageSum:
    """`-20 * log10(sum of weight * 10**(-line / 20))`: crosstalk of cable and connections."""

    lines: tuple[Weighted, ...]


@dataclass(frozen=True, slots=True)
class Constant:
    """The same value at every frequency."""

    value: float


@dataclass(frozen=True, slots=True)
class DifferenceOf:
    """The limit of one parameter of the same table less that of another, caps applied first."""

    minuend: str
    subtrahend: str


@dataclass(frozen=True, slots=True)
class Amount:
    """A value with a unit."""

    value: float
    unit: str


@dataclass(frozen=True, slots=True)
class GreaterOf:
    """The greater of amounts in different units, e.g. 3 percent or 0.2 ohm."""

    of: tuple[Amount, ...]


@dataclass(frozen=True, slots=True)
class Unknown:
    """No formula that could be used, only what is recalled of it and what is missing."""

    recalled: str
    missing: str


Shape = Sum | LogLine | VoltageSum | Constant | DifferenceOf | GreaterOf | Unknown
