"""What the readings that are on do to a limit table, taken together."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from sweepbook.limits.effects import (
    ExcludePoints,
    Exclusion,
    Relaxation,
    RelaxLimit,
    RoundLimit,
    RoundMeasured,
)
from sweepbook.limits.model import LimitTable
from sweepbook.limits.readings import Interpretation


class Effects(NamedTuple):
    """What readings do to one table.

    Attributes:
        exclusions, relaxations: by parameter.
        companions: the parameters that their conditions are about.
        limit_decimals, measured_decimals: what limits and values in dB are rounded to.
    """

    exclusions: Mapping[str, tuple[Exclusion, ...]]
    relaxations: Mapping[str, tuple[Relaxation, ...]]
    companions: frozenset[str]
    limit_decimals: int | None
    measured_decimals: int | None

    @staticmethod
    def of(entries: Sequence[Interpretation], table: LimitTable) -> "Effects":
        """Take them together; of two that round, the first one does."""
        exclusions: dict[str, tuple[Exclusion, ...]] = {}
        relaxations: dict[str, tuple[Relaxation, ...]] = {}
        limit_decimals: list[int] = []
        measured_decimals: list[int] = []
        for entry in entries:
            match entry.effect:
                case ExcludePoints(parameters, companion, pairs, when, threshold_db):
                    one = Exclusion(entry.id, companion, pairs, when, threshold_db)
                    for name in dict.fromkeys(parameters):
                        exclusions[name] = (*exclusions.get(name, ()), one)
                case RelaxLimit(relaxation, pairs):
                    for name, limit in table.parameters.items():
                        data = limit.relaxed_when
                        if data is not None and data.id == relaxation:
                            what = data.companion, data.at_mhz, data.below_db
                            relaxed = Relaxation(entry.id, *what, pairs, data)
                            relaxations[name] = (*relaxations.get(name, ()), relaxed)
                case RoundLimit(decimals):
                    limit_decimals.append(decimals)
                case RoundMeasured(decimals):
                    measured_decimals.append(decimals)
        rounded = (next(iter(places), None) for places in (limit_decimals, measured_decimals))
        companions = {one.companion for several in exclusions.values() for one in several}
        companions |= {one.companion for several in relaxations.values() for one in several}
        return Effects(exclusions, relaxations, frozenset(companions), *rounded)
