"""Curves on the same frequencies, worked on at once."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

import numpy as np

from sweepbook_plugins.report.axis import Axis, axis
from sweepbook_plugins.report.panel import Trace
from sweepbook_plugins.report.scale import Scale
from sweepbook_plugins.report.thin import Counts, Floats


@dataclass(frozen=True, slots=True, eq=False)
class Bundle:
    """Some curves of a plot on the same frequencies.

    Attributes:
        traces: the curves.
        points: their frequencies in MHz, the bytes of float64.
        value: of each at each, [m, n].
    """

    traces: tuple[Trace, ...]
    points: bytes
    value: Floats

    def placed(self, field: Scale) -> "Placed":
        """The curves in a field."""
        return Placed(self.traces, axis(self.points, field.without_values()), field.y(self.value))


@dataclass(frozen=True, slots=True, eq=False)
class Placed:
    """Some curves in a field: their axis, and the height of each at each point, [m, n]."""

    traces: tuple[Trace, ...]
    axis: Axis
    y: Counts


def bundles(traces: Sequence[Trace]) -> list[Bundle]:
    """The curves of a plot in their order, those on the same frequencies together."""
    found = []
    for points, group in groupby(traces, key=lambda trace: trace.frequency_mhz.tobytes()):
        together = tuple(group)
        found.append(Bundle(together, points, np.stack([trace.value for trace in together])))
    return found
