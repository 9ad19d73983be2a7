"""Which practice figures a job may set: those of rules, and none that a judgement rests on."""

import math
from collections.abc import Iterator, Mapping
from typing import cast

from sweepbook.judging.physics import Bounds
from sweepbook.limits.practice import Practice


class _Noting:
    """Notes which figures are asked for."""

    def __init__(self) -> None:
        self.names: set[str] = set()

    def value(self, name: str) -> float:
        self.names.add(name)
        return 1.0


def of_judgements() -> frozenset[str]:
    """Names of the figures by which judging tells what no link can have."""
    noting = _Noting()
    Bounds.of(cast("Practice", noting))
    return frozenset(noting.names)


def faults(figures: Mapping[str, object]) -> Iterator[str]:
    """What is wrong with figures that a job sets, a line each."""
    fixed = of_judgements()
    for name, value in figures.items():
        if name in fixed:
            yield f"{name} bears on judgements, which no job can change"
        elif not _is_plain(value):
            yield f"{name} must be a number above 0"


def _is_plain(value: object) -> bool:
    if isinstance(value, bool) or not isinstance(value, int | float):
        return False
    return 0 < value <= 10**12 and math.isfinite(value)
