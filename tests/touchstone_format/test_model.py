"""A link of the demo's model as 16 single-ended ports has the margins of the model's own curves."""

from pathlib import Path
from typing import Any

import numpy as np
import pytest
import skrf

from sweepbook.judging.assessment import Assessment
from sweepbook.judging.judge import judge
from sweepbook.judging.settings import JudgeSettings
from sweepbook.limits.interpretations import Interpretations
from sweepbook.record.model import Record
from sweepbook_demo.curves import combinations, ordered
from sweepbook_demo.grid import standard_grid_khz
from sweepbook_demo.instrument import phase_delay_ns
from tests.reading import LIBRARY

from .making import BALANCED, PAIRS, SINGLE, losses, model, read, single_ended, text

LIMIT = LIBRARY.tables["tia-568.2-d/cat6a/permanent-link"]


def plain(net: skrf.Network) -> Record:
    """A record of the losses that the model itself has, unrounded."""
    at = {pair: place for place, pair in enumerate(PAIRS)}
    f, s = net.f / 1e6, net.s
    named: list[tuple[str, str | None, list[str], Any]] = []
    for pair in PAIRS:
        near, far = at[pair], 4 + at[pair]
        named.append(("insertion_loss", None, [pair], losses(s[:, far, near])))
        named.append(("return_loss", "near", [pair], losses(s[:, near, near])))
        named.append(("return_loss", "far", [pair], losses(s[:, far, far])))
        delay = phase_delay_ns(s[:, far, near], f)
        named.append(("propagation_delay", None, [pair], delay))
    for end, shift in (("near", 0), ("far", 4)):
        for one, two in combinations():
            curve = losses(s[:, shift + at[two], shift + at[one]])
            named.append(("next", end, [one, two], curve))
    for one, two in ordered():
        named.append(("fext", "far", [one, two], losses(s[:, 4 + at[two], at[one]])))
    sweeps = []
    for parameter, side, pairs, values in named:
        kind = "delay_ns" if parameter == "propagation_delay" else "value_db"
        sweep = {"parameter": parameter, "pairs": pairs, "grid": "g1", "decimals": 9, kind: values}
        sweeps.append(sweep | ({"end": side} if side else {}))
    return Record.build(
        link={"label": "A-17"},
        test={},
        results={"grids": [{"id": "g1", "frequency_mhz": f}], "sweeps": sweeps},
        origin=[{"sha256": "0" * 64, "name": "model", "locator": ""}],
    )


def judged(record: Record) -> Assessment:
    return judge(record, LIMIT, JudgeSettings(Interpretations.load()))


def test_every_margin_is_that_of_the_model(tmp_path: Path) -> None:
    net = model()
    spec = {"format_spec_A": "{:.6e}", "format_spec_B": "{:.6e}"}
    written = text(single_ended(net), "ri", **spec)
    read_back = read(tmp_path, "link.s16p", written, SINGLE)
    assert read_back.document["results"]["sweeps"][0]["resolution"] < 1e-5
    ours, theirs = judged(read_back.records[0]), judged(plain(net))

    def key(margin: Any) -> tuple[Any, ...]:
        pairs = sorted(margin.pairs) if margin.parameter == "next" else margin.pairs
        return margin.parameter, margin.end, tuple(pairs)

    known = {key(margin): margin for margin in theirs.margins}
    assert len(theirs.margins) == len(known) > 60
    compared = 0
    for margin in ours.margins:
        other = known.get(key(margin)) or known[(margin.parameter, None, margin.pairs)]
        assert margin.worst_margin_db == pytest.approx(other.worst_margin_db, abs=2e-3), key(margin)
        assert margin.worst_margin_mhz == other.worst_margin_mhz
        compared += 1
    assert compared == len(ours.margins)
    assert ours.recomputed == theirs.recomputed


def test_delays_are_those_of_the_model(tmp_path: Path) -> None:
    net = model(standard_grid_khz(31_250).tolist())
    document = read(tmp_path, "link.s8p", text(net), BALANCED).document
    delays = {
        sweep["pairs"][0]: sweep["delay_ns"]
        for sweep in document["results"]["sweeps"]
        if sweep["parameter"] == "propagation_delay"
    }
    for place, pair in enumerate(PAIRS):
        theirs = phase_delay_ns(net.s[:, 4 + place, place], net.f / 1e6)
        assert delays[pair] == pytest.approx(theirs, abs=1e-6)
        assert 150.0 < float(np.median(delays[pair])) < 250.0
