"""Files that scikit-rf writes are read as scikit-rf reads and converts them."""

from pathlib import Path
from typing import Any

import numpy as np
import pytest
import skrf

from .making import (
    BALANCED,
    COMMENTS,
    ONE_PAIR,
    PAIRS,
    SINGLE,
    model,
    network,
    read,
    single_ended,
    text,
    values,
)

KHZ = [*range(1_000, 6_000, 150), *(7_000 + 1_000 * round(1.3**n) for n in range(6, 24))]
COUNTS = {"insertion_loss": 8, "return_loss": 8, "next": 12, "fext": 24, "propagation_delay": 4}


@pytest.fixture(scope="module")
def link() -> skrf.Network:
    return model(KHZ)


def held(document: dict[str, Any], s: Any) -> None:
    """Every sweep is the S-parameter of its name; ports near first, pairs by contacts."""
    place = {
        (end, pair): 4 * (end == "far") + at
        for end in ("near", "far")
        for at, pair in enumerate(PAIRS)
    }
    seen: dict[str, int] = {}
    for sweep in document["results"]["sweeps"]:
        name, pairs = sweep["parameter"], sweep["pairs"]
        seen[name] = seen.get(name, 0) + 1
        if name == "propagation_delay":
            continue
        end = sweep["end"]
        other = {"near": "far", "far": "near"}[end] if name in ("insertion_loss", "fext") else end
        theirs = s[:, place[end, pairs[-1]], place[other, pairs[0]]]
        assert values(document, name, end, *pairs) == pytest.approx(theirs, abs=1e-9), sweep
        assert sweep["complex"]["reference_ohm"] == 100.0
        assert sweep["complex"]["time_convention"] == "exp(+jwt)"
    assert seen == COUNTS


@pytest.mark.parametrize("form", ["ri", "ma", "db"])
@pytest.mark.parametrize("version", ["1.0", "2.0"])
def test_balanced_ports(form: str, version: str, link: skrf.Network, tmp_path: Path) -> None:
    ending = "s8p" if version == "1.0" else "ts"
    written = text(link, form, comments="", version=version, skrf_comment=False)
    written = written.replace("[Network Data]\n", f"{COMMENTS}[Network Data]\n")
    written = written if version == "2.0" else COMMENTS + written
    (tmp_path / f"again.{ending}").write_text(written)
    again = skrf.Network(str(tmp_path / f"again.{ending}"))
    document = read(tmp_path, f"x.{ending}", written, BALANCED).document
    held(document, again.s)
    held(document, link.s)
    form_kept = {"ri": "real-imaginary", "ma": "magnitude-phase", "db": "db-phase"}[form]
    assert {s["complex"]["form"] for s in document["results"]["sweeps"][:52]} == {form_kept}
    axis = document["results"]["grids"][0]["frequency_mhz"]
    assert axis.tolist() == [khz / 1000 for khz in KHZ]


@pytest.mark.parametrize(
    ("form", "unit"), [("ri", "Hz"), ("ma", "kHz"), ("db", "MHz"), ("ri", "GHz")]
)
def test_single_ended_ports(form: str, unit: str, link: skrf.Network, tmp_path: Path) -> None:
    whole = single_ended(link)
    whole.frequency.unit = unit
    document = read(
        tmp_path, "x.s16p", text(whole, form, format_spec_freq="{:.9g}"), SINGLE
    ).document
    held(document, link.s)
    whole.se2gmm(8, z0_mm=np.array([100.0] * 8 + [25.0] * 8))
    held(document, whole.s[:, :8, :8])
    axis = document["results"]["grids"][0]["frequency_mhz"]
    assert axis.tolist() == [khz / 1000 for khz in KHZ]
    assert {s["complex"]["form"] for s in document["results"]["sweeps"][:52]} == {"real-imaginary"}


@pytest.mark.parametrize("ohm", [75.0, 25.0])
def test_another_reference_of_single_ended_ports_is_converted(
    ohm: float, link: skrf.Network, tmp_path: Path
) -> None:
    whole = single_ended(link)
    whole.renormalize(ohm)
    result = read(tmp_path, "x.s16p", text(whole), SINGLE)
    held(result.document, link.s)
    told = f"converted from a reference of {ohm:g} ohm to 50 ohm"
    assert told in result.document["resolved"]["notes"]


def test_unequal_references_of_version_2_are_converted(link: skrf.Network, tmp_path: Path) -> None:
    whole = single_ended(link)
    whole.renormalize([50.0] * 8 + [75.0] * 8)
    held(
        read(
            tmp_path,
            "x.ts",
            text(whole, version="2.0", comments="").replace(
                "[Network Data]\n", f"{COMMENTS}[Network Data]\n"
            ),
            SINGLE,
        ).document,
        link.s,
    )


def test_balanced_ports_of_another_reference_are_converted_where_the_dialect_says_it(
    link: skrf.Network, tmp_path: Path
) -> None:
    at_50 = link.copy()
    at_50.renormalize(50.0)
    result = read(tmp_path, "x.s8p", text(at_50), BALANCED)
    assert "its ports refer to 50 ohm" in result.lost
    assert "touchstone.reference_ohm" in result.lost
    declared = BALANCED.replace("[touchstone.ports.near]", "{}\n[touchstone.ports.near]")
    table = "[touchstone]\nreference_ohm = 50"
    held(read(tmp_path, "x.s8p", text(at_50), declared.format(table)).document, link.s)
    untrue = text(link).replace("R 100.0", "R 50")
    assert untrue != text(link)
    table = "[touchstone]\nreference_ohm = 100"
    held(read(tmp_path, "x.s8p", untrue, declared.format(table)).document, link.s)


def test_two_ports_have_s21_before_s12_in_version_1(tmp_path: Path) -> None:
    """An isolator shows it: what goes from 1 to 2 does not come back (scikit-rf writes it)."""
    f = np.array([1.0, 2.0, 100.0])
    s = np.zeros((3, 2, 2), dtype=np.complex128)
    s[:, 1, 0], s[:, 0, 1] = 0.9, 0.2
    isolator = network(f, s, 100.0)
    for version in ("1.0", "2.0"):
        result = read(tmp_path, "x.s2p", text(isolator, version=version), ONE_PAIR)
        (record,) = result.records
        assert "not what they are the other way" in result.problems[0].message
        document = record.document
        assert values(document, "insertion_loss", "far", "1-2").real.tolist() == [0.9] * 3
        assert values(document, "insertion_loss", "near", "1-2").real.tolist() == [0.2] * 3


def test_four_single_ended_ports_are_one_pair(link: skrf.Network, tmp_path: Path) -> None:
    pair = single_ended(link).subnetwork([2, 3, 10, 11])
    dialect = ONE_PAIR.replace("near.1-2 = 1", "near.3-6 = [1, 2]")
    dialect = dialect.replace("far.1-2 = 2", "far.3-6 = [3, 4]")
    document = read(tmp_path, "x.s4p", text(pair), dialect).document
    assert values(document, "insertion_loss", "far", "3-6") == pytest.approx(link.s[:, 5, 1])
    assert values(document, "return_loss", "near", "3-6") == pytest.approx(link.s[:, 1, 1])
    names = [sweep["parameter"] for sweep in document["results"]["sweeps"]]
    assert names.count("return_loss") == names.count("insertion_loss") == 2
    assert "next" not in names


def test_a_matrix_of_random_ports_keeps_its_order(tmp_path: Path) -> None:
    """No link, so that every S-parameter differs from every other: passive by its small size."""
    random = np.random.RandomState(5)
    s = 0.03 * (random.standard_normal((3, 8, 8)) + 1j * random.standard_normal((3, 8, 8)))
    for at in range(4):
        s[:, 4 + at, at] = s[:, at, 4 + at] = 0.5 + 0.01 * at
    s = (s + s.transpose(0, 2, 1)) / 2.0
    s[:, 1, 0] += 0.01
    net = network(np.array([1.0, 50.0, 100.0]), s.astype(np.complex128), 100.0)
    document = read(tmp_path, "x.s8p", text(net, "ma"), BALANCED).document
    assert values(document, "next", "near", "1-2", "3-6") == pytest.approx(s[:, 1, 0])
    assert values(document, "fext", "far", "1-2", "7-8") == pytest.approx(s[:, 7, 0])
    assert values(document, "fext", "near", "7-8", "1-2") == pytest.approx(s[:, 0, 7])
