"""S-parameters of balanced ports to the grid and the sweeps of a record."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from sweepbook_plugins.touchstone.data import Data
from sweepbook_plugins.touchstone.delay import Delay, phase_delay
from sweepbook_plugins.touchstone.digits import decimals_of
from sweepbook_plugins.touchstone.layout import BalancedPort, Layout
from sweepbook_plugins.touchstone.network import Network
from sweepbook_plugins.touchstone.ports import BALANCED_OHM

GRID = "g1"
_FORMS = {
    "RI": ("real-imaginary", "real", "imaginary"),
    "MA": ("magnitude-phase", "magnitude", "phase_deg"),
    "DB": ("db-phase", "magnitude_db", "phase_deg"),
}


@dataclass(frozen=True)
class Sweeps:
    """Makes the sweeps of one file.

    Attributes:
        net: its S-parameters.
        data: what the file says of them.
        layout: the port map, and the plane.
        delays: of each pair that has both ends, or why there is none.
    """

    net: Network
    data: Data
    layout: Layout
    delays: Mapping[str, Delay | str]

    def all(self) -> tuple[list[dict[str, Any]], list[str]]:
        """The sweeps of a record, and what had to be left out, in words."""
        besides = self.layout.besides
        turned = {delay.turned for delay in self.delays.values() if isinstance(delay, Delay)}
        convention = ("exp(-jwt)" if turned.pop() else "exp(+jwt)") if len(turned) == 1 else ""
        made = [
            self._sweep(parameter, end, pairs, to, of, convention)
            for parameter, end, pairs, to, of in self._named()
            if len(pairs) > 1 or pairs[0] not in besides
        ]
        left: dict[str, list[str]] = {}
        for pair, to, of in through(self.layout.ports):
            delay = self.delays[pair]
            if pair in besides:
                continue
            if isinstance(delay, Delay):
                made.append(self._delay(pair, to, of, delay))
            else:
                left.setdefault(delay, []).append(pair)
        return made, [
            f"no propagation delay of {', '.join(pairs)}: {why}" for why, pairs in left.items()
        ]

    def _named(self) -> Iterator[tuple[str, str, list[str], int, int]]:
        """Parameter, end, pairs, row and column of each S-parameter that is a curve.

        NEXT is the same in both orders of its pairs, and comes once. Where the file has half of a
        matrix, so does what mirrors it.
        """
        ports = self.layout.ports
        half = self.data.heading.matrix != "full"
        for of, driven in enumerate(ports):
            for to, received in enumerate(ports):
                across = driven.end != received.end
                if across and half and driven.end == "far":
                    continue
                if not across and to < of:
                    continue
                name = _parameter(driven, received)
                pairs = [driven.pair, received.pair]
                yield name, received.end, pairs[: 1 + (pairs[0] != pairs[1])], to, of

    def _sweep(
        self, parameter: str, end: str, pairs: list[str], to: int, of: int, convention: str
    ) -> dict[str, Any]:
        """One sweep with its complex values."""
        net = self.net
        sweep: dict[str, Any] = {"parameter": parameter, "end": end, "pairs": pairs, "grid": GRID}
        if net.first is not None and net.second is not None:
            form, one, two = _FORMS[self.data.heading.options.form]
            values = {one: net.first[:, to, of].copy(), two: net.second[:, to, of].copy()}
            largest = np.abs(net.s[:, to, of] if one == "real" else values[one]).max()
            sweep["decimals"] = decimals_of(self.data.digits[0].step(float(largest)))
        else:
            form, one, two = _FORMS["RI"]
            values = {one: net.s[:, to, of].real.copy(), two: net.s[:, to, of].imag.copy()}
            sweep |= _resolution(float(np.sqrt(2.0) * net.off[to, of]))
        sweep["complex"] = {"form": form, **values, **self._beside(to, of, convention)}
        return sweep

    def _beside(self, to: int, of: int, convention: str) -> dict[str, Any]:
        """What the complex values refer to."""
        ports = self.layout.ports
        if self.net.first is None or self.layout.conductors:
            name = f"Sdd{_numbers(to + 1, of + 1)}"
        else:
            name = f"S{_numbers(ports[to].ports[0], ports[of].ports[0])}"
        found: dict[str, Any] = {"s_parameter": name}
        if convention:
            found["time_convention"] = convention
        found["reference_ohm"] = BALANCED_OHM
        if self.layout.plane:
            found["plane"] = self.layout.plane
        mode = "single-ended" if self.layout.conductors else "differential"
        found["port_map"] = [
            {"port": number, "end": port.end, "pair": port.pair, "mode": mode}
            for port in (ports[at] for at in sorted({to, of}))
            for number in port.ports
        ]
        return found

    def _delay(self, pair: str, to: int, of: int, delay: Delay) -> dict[str, Any]:
        """The sweep of a propagation delay."""
        size = np.abs(self.net.s[:, to, of])
        off_ns = self.net.off[to, of] / size / (2e-3 * np.pi * self.net.frequency_mhz)
        return {
            "parameter": "propagation_delay",
            "pairs": [pair],
            "grid": GRID,
            **_resolution(2.0 * float(off_ns.max())),
            "delay_ns": delay.delay_ns,
        }


def through(ports: tuple[BalancedPort, ...]) -> Iterator[tuple[str, int, int]]:
    """Pair, row and column of each transmission from near to far."""
    for of, near in enumerate(ports):
        for to, far in enumerate(ports):
            if near.pair == far.pair and (near.end, far.end) == ("near", "far"):
                yield near.pair, to, of


def delays_of(net: Network, ports: tuple[BalancedPort, ...]) -> dict[str, Delay | str]:
    """The phase delay of each pair that has both ends, or why it cannot be told."""
    return {
        pair: phase_delay(net.frequency_mhz, net.s[:, to, of]) for pair, to, of in through(ports)
    }


def _parameter(driven: BalancedPort, received: BalancedPort) -> str:
    if driven.end == received.end:
        return "return_loss" if driven.pair == received.pair else "next"
    return "insertion_loss" if driven.pair == received.pair else "fext"


def _numbers(to: int, of: int) -> str:
    return f"{to}{of}" if max(to, of) < 10 else f"{to},{of}"


def _resolution(step: float) -> dict[str, Any]:
    """The members that say how exactly computed values are known."""
    return {"decimals": decimals_of(step), "resolution": step}
