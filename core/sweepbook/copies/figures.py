"""From which figures on two curves, or two tests, are taken for one measurement."""

from dataclasses import dataclass
from functools import lru_cache

from sweepbook.limits.practice import Practice


@dataclass(frozen=True, slots=True)
class Figures:
    """The practice figures of the same names, after `copy_`.

    Attributes:
        fingerprint_db: root mean square of the differences of two fingerprints up to which the
            sweeps are held against each other.
        apart_db: difference up to which two readings, their curves' offset taken off, may be one.
        points_share: share of the points of two curves that has to be so near.
        curves_share: share of the curves of two tests that has to agree.
        structure_db: ripple that a curve must have to be known by it.
        least_points: `twin_points`, points that two curves must share.
    """

    fingerprint_db: float
    apart_db: float
    points_share: float
    curves_share: float
    structure_db: float
    least_points: int

    @staticmethod
    @lru_cache(maxsize=8)
    def of(practice: Practice) -> "Figures":
        """Take them from the practice figures, once a run.

        Raises:
            SweepbookError: one is not there.
        """
        return Figures(
            fingerprint_db=practice.value("copy_fingerprint_db"),
            apart_db=practice.value("copy_apart_db"),
            points_share=practice.value("copy_points_share"),
            curves_share=practice.value("copy_curves_share"),
            structure_db=practice.value("copy_structure_db"),
            least_points=int(practice.value("twin_points")),
        )
