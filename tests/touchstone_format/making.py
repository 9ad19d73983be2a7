"""Touchstone files of links for the tests beside it: of the demo's model, written by scikit-rf."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any

import numpy as np
import skrf
from numpy.typing import NDArray

from sweepbook.dialect.model import Dialect
from sweepbook_demo.grid import standard_grid_khz
from sweepbook_demo.plan import permanent_link
from sweepbook_demo.plant import Piece, solve
from sweepbook_plugins.touchstone import sweeps
from tests.reading import Result, read_by

Real = NDArray[np.float64]
Complex = NDArray[np.complex128]

PAIRS = ("1-2", "3-6", "4-5", "7-8")
HEAD = """
schema = "urn:sweepbook:dialect-0"
name = "small"
title = "An analyser"
format = "touchstone"
[fields]
link.label = "Link"
test.limit = "Limit"
[limits]
"tia-568.2-d/cat6a/permanent-link" = "Cat 6A PL"
"""
SINGLE = (
    HEAD.replace("small", "single-ended")
    + """
[touchstone.ports.near]
1-2 = [1, 2]
3-6 = [3, 4]
4-5 = [5, 6]
7-8 = [7, 8]
[touchstone.ports.far]
1-2 = [9, 10]
3-6 = [11, 12]
4-5 = [13, 14]
7-8 = [15, 16]
"""
)
BALANCED = (
    HEAD.replace("small", "balanced")
    + """
[touchstone.ports.near]
1-2 = 1
3-6 = 2
4-5 = 3
7-8 = 4
[touchstone.ports.far]
1-2 = 5
3-6 = 6
4-5 = 7
7-8 = 8
"""
)
ONE_PAIR = (
    HEAD.replace("small", "one-pair")
    + """
[touchstone.ports]
near.1-2 = 1
far.1-2 = 2
"""
)
COMMENTS = "! Link: A-17\n! Limit: Cat 6A PL\n"


def read(folder: Path, name: str, content: str | bytes, dialect: str | Dialect) -> Result:
    """Write a file, read it by a dialect, and sort what comes."""
    return read_by(sweeps.read, sweeps.check_dialect, folder / name, content, dialect)


def model(
    khz: Sequence[int] | None = None, pieces: Sequence[Piece] = permanent_link(40.0), seed: int = 7
) -> skrf.Network:
    """The eight balanced ports of a link of the demo's model, near ones first, 100 ohm each."""
    frequency = (standard_grid_khz() if khz is None else np.asarray(khz)) / 1000.0
    s = solve(pieces, frequency, seed).whole()
    return network(frequency, s, 100.0)


def network(frequency_mhz: Real, s: Complex, ohm: float | Sequence[float]) -> skrf.Network:
    """A network of scikit-rf."""
    axis = skrf.Frequency.from_f(frequency_mhz, unit="MHz")
    return skrf.Network(frequency=axis, s=s, z0=ohm, name="link")


def single_ended(balanced: skrf.Network, conversion: float = 0.01) -> skrf.Network:
    """A network of two single-ended ports of 50 ohm for each balanced one, by scikit-rf.

    The common mode loses more, comes later and is reflected more, and some of the differential
    mode turns into it. Conductors of a balanced port follow one another.
    """
    ports = balanced.nports
    later = np.exp(-2j * np.pi * balanced.f * 10e-9)[:, None, None]
    common = 0.7 * balanced.s * later + 0.1 * np.eye(ports)
    mixed = np.zeros((balanced.f.size, 2 * ports, 2 * ports), dtype=np.complex128)
    mixed[:, :ports, :ports] = balanced.s
    mixed[:, ports:, ports:] = common
    random = np.random.RandomState(3)
    turned = conversion * random.standard_normal((ports, ports))
    mixed[:, :ports, ports:] = turned
    mixed[:, ports:, :ports] = turned.T
    made = network(balanced.f / 1e6, mixed, [100.0] * ports + [25.0] * ports)
    assert np.linalg.norm(mixed, ord=2, axis=(1, 2)).max() < 1.0 + 1e-6
    made.gmm2se(ports, z0_se=50.0)
    return made


def text(net: skrf.Network, form: str = "ri", comments: str = COMMENTS, **more: Any) -> str:
    """What scikit-rf writes, below some comments."""
    written = net.write_touchstone(return_string=True, form=form, **more)
    return comments + str(written)


def losses(s: Complex) -> Real:
    """-20 log10 |S|."""
    made: Real = -20.0 * np.log10(np.abs(s))
    return made


def values(document: dict[str, Any], parameter: str, end: str, *pairs: str) -> Complex:
    """Complex values of the only sweep of this name."""
    (data,) = [
        one["complex"]
        for one in document["results"]["sweeps"]
        if (one["parameter"], one.get("end"), tuple(one["pairs"])) == (parameter, end, pairs)
    ]
    if "real" in data:
        return np.asarray(data["real"] + 1j * data["imaginary"])
    size = data["magnitude"] if "magnitude" in data else 10.0 ** (data["magnitude_db"] / 20.0)
    return np.asarray(size * np.exp(1j * np.radians(data["phase_deg"])))
