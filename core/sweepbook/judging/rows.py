"""What is asked of every measured curve whatever it is of: asked once, of all curves together."""

from dataclasses import dataclass

import numpy as np

from sweepbook.cached import cached_property
from sweepbook.judging.derive import F64


@dataclass(frozen=True, eq=False)
class Rows:
    """Values of curves on one axis, one below the other.

    Attributes:
        value: float64[r, n]; NaN where a curve has no point.
    """

    value: F64

    @cached_property
    def least(self) -> list[float]:
        """The least value of each; no number where one is none, infinite without any point."""
        found: list[float] = np.minimum.reduce(self.value, axis=1, initial=np.inf).tolist()
        return found

    @cached_property
    def most(self) -> list[float]:
        """The greatest value of each, likewise."""
        found: list[float] = np.maximum.reduce(self.value, axis=1, initial=-np.inf).tolist()
        return found

    @cached_property
    def steepest(self) -> list[float]:
        """The greatest step of each from one point to the next; 0 without any."""
        with np.errstate(invalid="ignore", over="ignore"):
            step = np.abs(self.value[:, 1:] - self.value[:, :-1])
        found: list[float] = np.maximum.reduce(step, axis=1, initial=0.0).tolist()
        return found

    @cached_property
    def at_most(self) -> list[int]:
        """At how many points each has its greatest value."""
        most = np.array(self.most).reshape(-1, 1)
        found: list[int] = np.count_nonzero(self.value == most, axis=1).tolist()
        return found
