"""The port map of a dialect laid upon the ports of a file: which rows make a balanced port."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from sweepbook.dialect.raw import Fault
from sweepbook_plugins.touchstone.data import Data
from sweepbook_plugins.touchstone.layout import BalancedPort, Layout
from sweepbook_plugins.touchstone.modes import F64

BALANCED_OHM = 100.0
"""Nominal differential impedance of balanced cabling, which its limits refer to: common to
ISO/IEC 11801-1 and ANSI/TIA-568.2-D (recalled)."""
_HALF = 1.0 / math.sqrt(2.0)


@dataclass(frozen=True)
class Wiring:
    """How balanced ports come out of a file's.

    Attributes:
        ports: m balanced ports, in the order of the map.
        rows: float64[m, n], T of Sdd = T S T'.
        before, after: float64[n], reference impedance of the file's ports and the one wanted.
        notes: what was assumed, in words.
    """

    ports: tuple[BalancedPort, ...]
    rows: F64
    before: F64
    after: F64
    notes: tuple[str, ...]

    @property
    def converted(self) -> bool:
        """Whether the reference impedance changes."""
        return not np.allclose(self.before, self.after, rtol=1e-9, atol=0.0)

    @property
    def chosen(self) -> list[int] | None:
        """Positions of the balanced ports among the file's, where they need nothing but that."""
        plain = (self.rows == 1.0).sum(axis=1) == 1
        if self.converted or not plain.all() or not ((self.rows != 0.0).sum(axis=1) == 1).all():
            return None
        return [int(at) for at in self.rows.argmax(axis=1)]


def wiring(data: Data, layout: Layout) -> Wiring:
    """Lay the map upon the file.

    Raises:
        Fault: they contradict each other.
    """
    missing = [port for port in layout.numbers if port > data.ports]
    if missing:
        raise Fault(
            "",
            f"touchstone.ports names port {missing[0]}, the file has {data.ports} ports; change "
            "the map, or see that this is the file it is for",
        )
    if data.heading.modes and not layout.conductors:
        raise Fault(
            "",
            "the file has [Mixed-Mode Order], which counts single-ended ports: write two ports a "
            "pair in touchstone.ports, as in 1-2 = [1, 2]",
        )
    before = _references(data, layout)
    rows = np.zeros((len(layout.ports), data.ports))
    after = before.copy()
    for at, entry in enumerate(layout.ports):
        for position, weight in _row(data, entry):
            rows[at, position] = weight
            after[position] = BALANCED_OHM if abs(weight) == 1.0 else BALANCED_OHM / 2.0
    notes = tuple(_notes(data, layout, before, after))
    return Wiring(layout.ports, rows, before, after, notes)


def _row(data: Data, entry: BalancedPort) -> list[tuple[int, float]]:
    """Positions of a balanced port among the file's rows, each with its weight."""
    if len(entry.ports) == 1:
        return [(entry.ports[0] - 1, 1.0)]
    if not data.heading.modes:
        first, second = entry.ports
        return [(first - 1, _HALF), (second - 1, -_HALF)]
    place = {(mode.kind, mode.ports): at for at, mode in enumerate(data.heading.modes)}
    if ("D", entry.ports) in place:
        return [(place["D", entry.ports], 1.0)]
    if ("D", entry.ports[::-1]) in place:
        return [(place["D", entry.ports[::-1]], -1.0)]
    try:
        first, second = (place["S", (port,)] for port in entry.ports)
    except KeyError as error:
        listed = " ".join(
            f"{mode.kind}{','.join(map(str, mode.ports))}" for mode in data.heading.modes
        )
        ports = " and ".join(map(str, entry.ports))
        raise Fault(
            "",
            f"touchstone.ports joins ports {ports} to {entry}, and [Mixed-Mode Order] ({listed}) "
            "does not; change the map",
        ) from error
    return [(first, _HALF), (second, -_HALF)]


def _references(data: Data, layout: Layout) -> F64:
    """Reference impedance of each row of the file: float64[n].

    A differential mode refers to twice, a common mode to half the impedance of its two ports
    (Touchstone 2.0, recalled).

    Raises:
        Fault: two conductors of a pair refer to different impedances, or balanced ports to another
            one than 100 ohm without the dialect saying so.
    """
    heading = data.heading
    single = heading.reference_ohm or (heading.options.reference_ohm,) * data.ports
    pairs = [entry.ports for entry in layout.ports if len(entry.ports) == 2]
    for first, second in [*pairs, *(mode.ports for mode in heading.modes if mode.kind != "S")]:
        if single[first - 1] != single[second - 1]:
            raise Fault(
                "",
                f"ports {first} and {second} make one balanced port and refer to "
                f"{single[first - 1]:g} and {single[second - 1]:g} ohm; measure both at one",
            )
    if heading.modes:
        scale = {"D": 2.0, "C": 0.5, "S": 1.0}
        return np.array([scale[mode.kind] * single[mode.ports[0] - 1] for mode in heading.modes])
    before = np.array(single)
    if layout.conductors:
        return before
    named = [port - 1 for port in layout.numbers]
    if layout.reference_ohm is not None:
        before[named] = layout.reference_ohm
    elif not np.allclose(before[named], BALANCED_OHM, rtol=1e-9, atol=0.0):
        raise Fault(
            "",
            f"the file says that its ports refer to {before[named[0]]:g} ohm, and balanced ports "
            "of cabling refer to 100 ohm. Declare touchstone.reference_ohm: 100 where the file "
            "does not say it right, else what they refer to; then they are converted to 100",
        )
    return before


def _notes(data: Data, layout: Layout, before: F64, after: F64) -> Iterator[str]:
    changed = ~np.isclose(before, after, rtol=1e-9, atol=0.0)
    if changed.any():
        shown = ", ".join(f"{ohm:g}" for ohm in dict.fromkeys(before[changed].tolist()))
        wanted = ", ".join(f"{ohm:g}" for ohm in dict.fromkeys(after[changed].tolist()))
        yield f"converted from a reference of {shown} ohm to {wanted} ohm"
    if layout.reference_ohm is not None:
        yield (
            f"balanced ports refer to {layout.reference_ohm:g} ohm as the dialect declares, the "
            f"file says R {data.heading.options.reference_ohm:g}"
        )
    if layout.conductors:
        yield "differential from single-ended: Sdd = T S T', rows of T (1, -1)/sqrt 2 a pair"
    unused = sorted(set(range(1, data.ports + 1)) - set(layout.numbers))
    if unused:
        listed = ", ".join(map(str, unused[:8]))
        yield f"touchstone.ports does not name port {listed}; they are not read"
