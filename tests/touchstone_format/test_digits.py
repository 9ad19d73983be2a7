"""The true loss lies where the digits of the file say: rounded data against those not rounded."""

from pathlib import Path

import pytest
import skrf

from sweepbook.judging.measured import measured

from .making import BALANCED, PAIRS, SINGLE, losses, model, read, single_ended, text

KHZ = [*range(1_000, 6_000, 150), *(7_000 + 1_000 * round(1.3**n) for n in range(6, 24))]
FIXED = {"ri": "{:.5f}", "ma": "{:.5f}", "db": "{:.2f}"}
PLACE = {
    (end, pair): 4 * (end == "far") + at for end in ("near", "far") for at, pair in enumerate(PAIRS)
}


@pytest.fixture(scope="module")
def link() -> skrf.Network:
    return model(KHZ)


@pytest.mark.parametrize("form", ["ri", "ma", "db"])
@pytest.mark.parametrize("digits", ["fixed", "{:.3e}", "{:.5g}"])
@pytest.mark.parametrize("ports", ["balanced", "single-ended", "single-ended at 75 ohm"])
def test_the_true_loss_lies_in_its_interval(
    form: str, digits: str, ports: str, link: skrf.Network, tmp_path: Path
) -> None:
    net = link if ports == "balanced" else single_ended(link)
    if ports.endswith("75 ohm"):
        net.renormalize(75.0)
    spec = FIXED[form] if digits == "fixed" else digits
    angle = "{:.2f}" if form != "ri" and digits == "fixed" else spec
    written = text(net, form, format_spec_A=spec, format_spec_B=angle)
    name, dialect = ("x.s8p", BALANCED) if ports == "balanced" else ("x.s16p", SINGLE)
    curves, unread = measured(read(tmp_path, name, written, dialect).document)
    assert unread == {}
    widths = []
    for parameter in ("insertion_loss", "return_loss", "next", "fext"):
        for row, key in enumerate(curves[parameter].keys):
            assert key.end is not None
            across = parameter in ("insertion_loss", "fext")
            other = {"near": "far", "far": "near"}[key.end] if across else key.end
            true = losses(link.s[:, PLACE[key.end, key.pairs[-1]], PLACE[other, key.pairs[0]]])
            one = curves[parameter].curve(row)
            assert (one.low <= true + 1e-9).all(), key
            assert (true - 1e-9 <= one.high).all(), key
            if parameter == "insertion_loss":
                widths.append(float((one.high - one.low).max()))
    delays = curves["propagation_delay"]
    assert (delays.low < delays.high).all()
    # No wider than it has to be: four numbers of four digits are known to some tenths of a dB.
    assert max(widths) < (0.5 if digits == "{:.3e}" else 0.15)
