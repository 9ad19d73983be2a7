"""One Touchstone file to the one test that it holds, still without a label."""

from collections.abc import Iterator

import numpy as np

from sweepbook.dialect.model import Dialect
from sweepbook.dialect.raw import Fault, RawTest
from sweepbook.dialect.reading import broken_off
from sweepbook.source import Source, UnreadableSource
from sweepbook_plugins.touchstone import checks, port_checks, texts
from sweepbook_plugins.touchstone.curves import GRID, Sweeps, delays_of
from sweepbook_plugins.touchstone.data import Data
from sweepbook_plugins.touchstone.ends import hold_ends
from sweepbook_plugins.touchstone.heading import heading
from sweepbook_plugins.touchstone.layout import Layout, layout_of
from sweepbook_plugins.touchstone.lines import Lines
from sweepbook_plugins.touchstone.network import network
from sweepbook_plugins.touchstone.points import points
from sweepbook_plugins.touchstone.ports import wiring

MODES_LEFT = "common mode and mode conversion are in the source only"


def tests(source: Source, dialect: Dialect) -> Iterator[RawTest]:
    """Yield the test of a file; what speaks against it is among its faults."""
    layout = layout_of(dialect)
    test = RawTest("the whole file")
    try:
        with source.open() as stream:
            lines = Lines(stream)
            try:
                _fill(test, source.file_name, lines, layout)
            finally:
                test.locator = f"lines 1-{lines.last}" if lines.last else "the whole file"
    except Fault as fault:
        test.faults.append(fault)
    except UnreadableSource as error:
        test.faults.append(broken_off(error))
    yield test


def _fill(test: RawTest, name: str, lines: Lines, layout: Layout) -> None:
    """Read the file into the test.

    Raises:
        Fault: a line cannot be taken, or the data contradict each other or the dialect.
        UnreadableSource: the file is damaged.
    """
    head = heading(lines)
    found = texts.PORTS_IN_NAME.search(name)
    given = Data(points(lines, head, int(found[1]) if found else None))
    wires = wiring(given, layout)
    net = network(given, wires)
    test.notes += checks.axis(net.frequency_mhz, net.lines, head.options.unit)
    if layout.conductors and not head.modes:
        test.notes += port_checks.conductors(net, wires.ports)
    test.notes += port_checks.connected(net, wires.ports)
    delays = delays_of(net, wires.ports)
    hold_ends(net, wires.ports, delays)
    sweeps, left_out = Sweeps(net, given, layout, delays).all()
    for _ in lines:
        pass  # comments behind the data are kept as well
    texts.take(test, name, lines.comments, head, layout)
    test.grids = [{"id": GRID, "frequency_mhz": np.array(net.frequency_mhz)}]
    test.sweeps = sweeps
    test.assumed = [*wires.notes, *given.points.left_out, *left_out]
    if layout.besides:
        pairs = ", ".join(sorted(layout.besides))
        test.assumed.append(f"{name}: what is of {pairs} alone is taken from another file")
    if layout.conductors:
        test.assumed.append(MODES_LEFT)
