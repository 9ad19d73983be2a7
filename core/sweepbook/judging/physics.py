"""What no cable can do: the speed of light, and the resistance and loss of solid copper.

Formulas, all of them of handbooks: a wave in an insulation of relative permittivity e runs at
c / sqrt(e); a round wire at direct current has rho / (pi d^2 / 4) a metre; at a skin depth of
delta = sqrt(rho / (pi f mu0)) below d / 2 the current runs in a ring of that depth, so that the
resistance is rho / (pi delta (d - delta)); a line of loop resistance R' and impedance Z loses
(10 / ln 10) R' / Z dB a metre by it, whatever its insulation loses besides.
"""

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from sweepbook.judging.curves import F64
from sweepbook.limits.axes import axis_bytes
from sweepbook.limits.practice import Practice

LIGHT_M_PER_NS = 0.299_792_458  # speed of light in vacuum, exact by definition of the metre
MU_0 = 4e-7 * math.pi  # magnetic constant in H/m; since 2019 true to a few parts in 10^10
DB_PER_LOOP = 10.0 / math.log(10.0)


@dataclass(frozen=True, slots=True)
class Bounds:
    """What a cable may be made of; by the practice figures of the same names.

    Attributes:
        nvp_lowest, nvp_highest: plausible velocity as a part of that of light.
        permittivity_highest: of any insulation.
        copper_ohm_mm2_per_m: resistivity.
        conductor_thickest_mm, conductor_thinnest_mm: diameter of a conductor.
        link_shortest_m: length that no link is below.
        impedance_ohm: of the cabling.
        copper_share: how much less than copper's a reading may be before copper contradicts it.
        loss_times_most, loss_times_spread, loop_times_most: how many times that of thin copper a
            loss or a loop is only by another unit, and how steady that is over frequency.
        loss_offset_db: what noise and the field reference may leave on a loss.
        return_loss_highest_db, crosstalk_highest_db: what no tester reads throughout a sweep.
        twin_points: points at which two measurements are never the same.
        twin_values: different values through which two losses or delays never run alike.
        twin_share, twin_digits: share of points at which twins are the same, but for one offset of
            so many last digits.
        level_rise_db: by how much a loss must have to rise where it is level to be no reading.
        next_orders_db: how far NEXT in the other order of its pairs may be off at most points.
        step_values: different values by which a step coarser than the last digit is told.
        missing_points, missing_points_apart, missing_step_db, missing_zero_db: when one value at
            several points is no reading.
        reciprocity_below_db: FEXT up to which two directions are compared.
        pair_order_db, pair_order_times: how far apart two losses are and how many times better an
            order of pairs fits where ACR-F tells the order.
        delay_at_mhz: where a swept delay is read to be held against a length.
    """

    nvp_lowest: float
    nvp_highest: float
    permittivity_highest: float
    copper_ohm_mm2_per_m: float
    conductor_thickest_mm: float
    conductor_thinnest_mm: float
    link_shortest_m: float
    impedance_ohm: float
    copper_share: float
    loss_offset_db: float
    loss_times_most: float
    loss_times_spread: float
    loop_times_most: float
    delay_at_mhz: float
    return_loss_highest_db: float
    crosstalk_highest_db: float
    twin_points: int
    twin_values: int
    twin_share: float
    twin_digits: float
    level_rise_db: float
    next_orders_db: float
    step_values: int
    missing_points: int
    missing_points_apart: int
    missing_step_db: float
    missing_zero_db: float
    reciprocity_below_db: float
    pair_order_db: float
    pair_order_times: float

    @staticmethod
    @lru_cache(maxsize=8)
    def of(practice: Practice) -> "Bounds":
        """Take them from the practice figures, once a run.

        Raises:
            SweepbookError: a figure is not there.
        """
        return Bounds(
            practice.value("nvp_lowest"),
            practice.value("nvp_highest"),
            practice.value("permittivity_highest"),
            practice.value("copper_resistivity"),
            practice.value("conductor_thickest_mm"),
            practice.value("conductor_thinnest_mm"),
            practice.value("link_shortest_m"),
            practice.value("impedance_ohm"),
            practice.value("copper_share"),
            practice.value("loss_offset_db"),
            practice.value("loss_times_most"),
            practice.value("loss_times_spread"),
            practice.value("loop_times_most"),
            practice.value("delay_judged_at_mhz"),
            practice.value("return_loss_highest_db"),
            practice.value("crosstalk_highest_db"),
            int(practice.value("twin_points")),
            int(practice.value("twin_values")),
            practice.value("twin_share"),
            practice.value("twin_digits"),
            practice.value("level_rise_db"),
            practice.value("next_orders_db"),
            int(practice.value("step_values")),
            int(practice.value("missing_points")),
            int(practice.value("missing_points_apart")),
            practice.value("missing_step_db"),
            practice.value("missing_zero_db"),
            practice.value("reciprocity_below_db"),
            practice.value("pair_order_db"),
            practice.value("pair_order_times"),
        )

    def highest_db(self, parameter: str) -> float:
        """What no tester reads of a loss at every point of a sweep, in dB."""
        if parameter == "return_loss":
            return self.return_loss_highest_db
        return self.crosstalk_highest_db

    @property
    def slowest(self) -> float:
        """The least velocity in any insulation, as a part of that of light."""
        return float(1.0 / math.sqrt(self.permittivity_highest))

    def loop_ohm_per_m(self, diameter_mm: float) -> float:
        """Resistance of two conductors in series at direct current, in ohm a metre."""
        return 2.0 * self.copper_ohm_mm2_per_m / (math.pi * diameter_mm**2 / 4.0)

    def least_loss_db_per_m(self, frequency_mhz: F64, diameter_mm: float) -> F64:
        """Loss by the resistance of a conductor alone, float64[n] in dB a metre."""
        of = self.copper_ohm_mm2_per_m, diameter_mm, self.impedance_ohm
        return np.frombuffer(_least_loss(*of, axis_bytes(frequency_mhz)), dtype=np.float64)


@lru_cache(maxsize=64)
def _least_loss(
    ohm_mm2_per_m: float, diameter_mm: float, impedance_ohm: float, axis: bytes
) -> bytes:
    """Kept, since the links of a job share their axes."""
    frequency_hz = np.frombuffer(axis, dtype=np.float64) * 1e6
    rho, d = ohm_mm2_per_m * 1e-6, diameter_mm * 1e-3
    with np.errstate(divide="ignore"):
        depth = np.minimum(np.sqrt(rho / (math.pi * frequency_hz * MU_0)), d / 2.0)
    loop = 2.0 * rho / (math.pi * depth * (d - depth))
    return (DB_PER_LOOP * loop / impedance_ohm).tobytes()
