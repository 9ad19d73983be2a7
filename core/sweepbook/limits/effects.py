"""What an interpretation does: a closed set of effects, as plain values for the judge to apply."""

from dataclasses import dataclass

from sweepbook.limits.formulas import Floats, evaluate
from sweepbook.limits.model import RelaxedWhen


@dataclass(frozen=True, slots=True)
class ExcludePoints:
    """Points of some parameters are for information only where a companion is below or above.

    Attributes:
        parameters: whose points are left out.
        companion: parameter whose measured value is the condition.
        pairs: whose companion counts for a parameter between two pairs: that of the "disturbed"
            pair, of "either" or of "both"; "own" where the companion has the same pairs. For a
            parameter of one pair it is always that pair's.
        when: "below" or "above" the threshold; the threshold itself leaves nothing out.
        threshold_db: in dB.
    """

    parameters: tuple[str, ...]
    companion: str
    pairs: str
    when: str
    threshold_db: float


@dataclass(frozen=True, slots=True)
class RelaxLimit:
    """Apply the `relaxed_when` of this id where the table has one.

    Attributes:
        relaxation: its id in the table.
        pairs: whose companion must be below: "disturbed", "either" or "both".
    """

    relaxation: str
    pairs: str


@dataclass(frozen=True, slots=True)
class RoundLimit:
    """Limits in dB are rounded to so many decimals, a half up, before anything is compared."""

    decimals: int


@dataclass(frozen=True, slots=True)
class RoundMeasured:
    """Measured and computed values in dB are rounded so before they are compared."""

    decimals: int


Effect = ExcludePoints | RelaxLimit | RoundLimit | RoundMeasured


@dataclass(frozen=True, slots=True)
class Exclusion:
    """An exclusion that is switched on, with the id of its interpretation."""

    id: str
    companion: str
    pairs: str
    when: str
    threshold_db: float


@dataclass(frozen=True, slots=True)
class Relaxation:
    """A relaxation that is switched on, with the id of its interpretation."""

    id: str
    companion: str
    at_mhz: float
    below_db: float
    pairs: str
    data: RelaxedWhen

    def amount_db(self, frequency_mhz: Floats) -> Floats:
        """What to take off a minimum limit where the condition holds.

        Args:
            frequency_mhz: [n].

        Returns:
            [n] in dB, 0 outside the relaxed range.
        """
        inside = (frequency_mhz >= self.data.from_mhz) & (frequency_mhz <= self.data.to_mhz)
        amount = evaluate(self.data.amount, frequency_mhz)
        amount[~inside] = 0.0
        return amount
