"""What the open specification says, on files written by hand.

The examples are made after those of the Touchstone 1.1 and 2.0 specifications (IBIS Open Forum)
from memory; their text was not at hand, and no number here is quoted from it.
"""

import json
import zipfile
from pathlib import Path

import numpy as np
import pytest

from sweepbook_plugins.touchstone.digits import Digits, decimals_of, digits_of
from sweepbook_plugins.touchstone.options import NotOptions, Options, parse
from tests.program import run

from .making import COMMENTS, HEAD, ONE_PAIR, read, values

TWO_PORT_1 = f"""{COMMENTS}# GHz S MA R 100
! freq magS11 angS11 magS21 angS21 magS12 angS12 magS22 angS22
0.1  0.3926 -0.1211  0.4 -45.0  0.4 -45.0  0.3517 -0.3054   ! the first
0.2  0.3517 -0.3054  0.2 -90.0  0.2 -90.0  0.3419  0.3336
"""
TWO_PORT_2 = """! by hand
[Version] 2.0
# GHz S MA R 50
[Number of Ports] 2
[two-port data order] 21_12
[Number of Frequencies] 2
[Number of Noise Frequencies] 1
[Reference]
100 100
[Begin Information]
[Link] A-17
Free words
[Limit] Cat 6A PL
[End Information]
[Network Data]
0.1  0.3926 -0.1211  0.4 -45.0  0.4 -45.0  0.3517 -0.3054   ! the first
0.2  0.3517 -0.3054
     0.2 -90.0  0.2 -90.0  0.3419  0.3336
[Noise Data]
0.1 1 2 3 4
[End]
anything at all
"""


def four_ports(matrix: str) -> str:
    """Two coupled pairs with ports 1, 2 near and 3, 4 far; the halves of one symmetric matrix."""
    elements = {
        (1, 1): "0.10 0.01",
        (2, 1): "0.02 0.00",
        (2, 2): "0.11 0.02",
        (3, 1): "0.70 -0.30",
        (3, 2): "0.01 0.02",
        (3, 3): "0.12 0.03",
        (4, 1): "0.03 0.01",
        (4, 2): "0.60 -0.40",
        (4, 3): "0.04 0.05",
        (4, 4): "0.13 0.04",
    }
    rows = [
        "  ".join(
            elements[max(row, column), min(row, column)]
            for column in range(
                row if matrix == "Upper" else 1, 1 + (row if matrix == "Lower" else 4)
            )
        )
        for row in range(1, 5)
    ]
    body = "\n   ".join(rows)
    return f"""[Version] 2.0
{COMMENTS}# MHz S RI R 100
[Number of Ports] 4
[Number of Frequencies] 1
[Matrix Format] {matrix}
[Network Data]
100 {body}
[End]
"""


TWO_PAIRS = f"""{HEAD.replace("small", "two-pairs")}
[touchstone.ports]
near.1-2 = 1
near.3-6 = 2
far.1-2 = 3
far.3-6 = 4
"""


@pytest.mark.parametrize(("name", "content"), [("x.s2p", TWO_PORT_1), ("x.ts", TWO_PORT_2)])
def test_a_two_port_of_either_version(name: str, content: str, tmp_path: Path) -> None:
    document = read(tmp_path, name, content, ONE_PAIR).document
    assert document["link"]["label"] == "A-17"
    assert document["results"]["grids"][0]["frequency_mhz"].tolist() == [100.0, 200.0]
    (loss, *_) = [
        sweep["complex"]
        for sweep in document["results"]["sweeps"]
        if (sweep["parameter"], sweep["end"]) == ("insertion_loss", "far")
    ]
    assert loss["form"] == "magnitude-phase"
    assert loss["magnitude"].tolist() == [0.4, 0.2]
    assert loss["phase_deg"].tolist() == [-45.0, -90.0]
    assert loss["s_parameter"] == "S21"
    assert values(document, "return_loss", "far", "1-2") == pytest.approx(
        np.array([0.3517, 0.3419]) * np.exp(1j * np.radians([-0.3054, 0.3336]))
    )


def test_information_keywords_are_texts(tmp_path: Path) -> None:
    document = read(tmp_path, "x.ts", TWO_PORT_2, ONE_PAIR).document
    assert document["test"]["limit"]["as_stated"] == "Cat 6A PL"
    assert document["extra"]["information"] == "Free words"
    assert document["extra"]["comments"] == "by hand\nthe first"


@pytest.mark.parametrize("matrix", ["Lower", "Upper"])
def test_half_a_matrix_is_mirrored_and_each_number_comes_once(matrix: str, tmp_path: Path) -> None:
    half = read(tmp_path, "x.ts", four_ports(matrix), TWO_PAIRS).document
    full = read(tmp_path, "x.ts", four_ports("Full"), TWO_PAIRS).document
    assert values(half, "fext", "far", "1-2", "3-6").tolist() == [0.03 + 0.01j]
    assert values(half, "fext", "far", "3-6", "1-2").tolist() == [0.01 + 0.02j]
    assert values(half, "next", "far", "1-2", "3-6").tolist() == [0.04 + 0.05j]
    named = {(s["parameter"], s["end"], *s["pairs"]) for s in half["results"]["sweeps"]}
    assert len(half["results"]["sweeps"]) == len(named) == 4 + 2 + 2 + 2
    assert len(full["results"]["sweeps"]) == 4 + 4 + 2 + 4
    for sweep in half["results"]["sweeps"]:
        name = (sweep["parameter"], sweep["end"], *sweep["pairs"])
        assert values(half, *name).tolist() == values(full, *name).tolist()


MIXED = """[Version] 2.0
! Link: A-17
# MHz S RI R 50
[Number of Ports] 4
[Number of Frequencies] 1
[Reference] 50 50 50 50
[Mixed-Mode Order] {}
[Network Data]
100 {}
[End]
"""
ROWS = {
    "D1,2": "0.10 0.00  0.50 -0.20  0.01 0.00  0.02 0.00",
    "D3,4": "0.50 -0.20  0.20 0.00  0.03 0.00  0.04 0.00",
    "C1,2": "0.01 0.00  0.03 0.00  0.30 0.00  0.05 0.00",
    "C3,4": "0.02 0.00  0.04 0.00  0.05 0.00  0.40 0.00",
}
CONDUCTORS = f"{HEAD}[touchstone.ports]\nnear.4-5 = [1, 2]\nfar.4-5 = [3, 4]\n"


def mixed(order: str = "D1,2 D3,4 C1,2 C3,4") -> str:
    return MIXED.format(order, "\n   ".join(ROWS.values()))


def test_mixed_mode_data_are_taken_as_they_stand(tmp_path: Path) -> None:
    """A differential mode refers to twice 50 ohm (recalled)."""
    document = read(tmp_path, "x.ts", mixed(), CONDUCTORS).document
    assert values(document, "insertion_loss", "far", "4-5").tolist() == [0.5 - 0.2j]
    assert values(document, "return_loss", "far", "4-5").tolist() == [0.2]
    data = document["results"]["sweeps"][0]["complex"]
    assert data["reference_ohm"] == 100.0
    assert [entry["port"] for entry in data["port_map"]] == [1, 2]
    notes = document["resolved"]["notes"]
    assert not any("converted" in note for note in notes)


def test_a_pair_counted_the_other_way_round_turns_its_sign(tmp_path: Path) -> None:
    document = read(tmp_path, "x.ts", mixed("D1,2 D4,3 C1,2 C4,3"), CONDUCTORS).document
    assert values(document, "insertion_loss", "far", "4-5").tolist() == [-0.5 + 0.2j]
    assert values(document, "return_loss", "far", "4-5").tolist() == [0.2]


def test_mixed_mode_ports_that_the_map_joins_otherwise(tmp_path: Path) -> None:
    result = read(tmp_path, "x.ts", mixed("D1,3 D2,4 C1,3 C2,4"), CONDUCTORS)
    assert "joins ports 1 and 2 to 4-5 near, and [Mixed-Mode Order] (D1,3" in result.lost
    balanced = f"{HEAD}[touchstone.ports]\nnear.4-5 = 1\nfar.4-5 = 2\n"
    assert "write two ports a pair" in read(tmp_path, "x.ts", mixed(), balanced).lost
    wrong = read(tmp_path, "x.ts", mixed("D1,2 D1,4 C1,2 C3,4"), CONDUCTORS).lost
    assert "do not name each port from 1 to 4 once" in wrong
    uneven = mixed().replace("[Reference] 50 50 50 50", "[Reference] 50 60 50 50")
    assert "refer to 50 and 60 ohm" in read(tmp_path, "x.ts", uneven, CONDUCTORS).lost


@pytest.mark.parametrize(
    ("line", "options"),
    [
        ("#", Options("GHz", "S", "MA", 50.0)),
        ("# ghz s ma r 50", Options("ghz", "S", "MA", 50.0)),
        ("# R 75 DB Hz", Options("Hz", "S", "DB", 75.0)),
        ("#KHz RI", Options("KHz", "S", "RI", 50.0)),
    ],
)
def test_option_lines_and_their_defaults(line: str, options: Options) -> None:
    assert parse(line)._replace(text="#") == options
    with pytest.raises(NotOptions):
        parse(f"{line} R")


def test_the_last_digit_of_fixed_decimals_and_of_significant_digits() -> None:
    fixed = digits_of(["0.123456", "-0.000012", "0.900000"])
    assert fixed == Digits(6, 6)
    assert [fixed.step(size) for size in (0.9, 0.01, 1e-6)] == [1e-6] * 3
    floating = digits_of(["1.2345e-01", "9.8765E-05", "-4.0e-3"])
    assert floating.significant == 5
    steps = [floating.step(size) for size in (0.5, 0.05, 9e-5)]
    assert steps == pytest.approx([1e-5, 1e-6, 1e-9])
    assert [decimals_of(step) for step in (1e-6, 2e-6, 1e-30, 0.5)] == [6, 5, 15, 0]


def test_a_name_tells_what_its_template_names(tmp_path: Path) -> None:
    table = '[touchstone]\nfile_name = "{link:characters}_{day:8 digits}"\n[touchstone.ports]'
    dialect = ONE_PAIR.replace("[touchstone.ports]", table).replace('"Link"', '"link"')
    content = TWO_PORT_1.replace("Link: A-17", "by hand")
    document = read(tmp_path, "B-4_20260304.s2p", content, dialect).document
    assert document["link"]["label"] == "B-4"
    assert document["extra"]["day"] == "20260304"
    result = read(tmp_path, "B-4.s2p", content, dialect)
    assert "'B-4' does not fit touchstone.file_name: at character 4" in result.lost


def test_a_file_in_an_archive_goes_by_its_own_name(tmp_path: Path) -> None:
    table = '[touchstone]\nfile_name = "{link:characters}"\n[touchstone.ports]'
    dialect = ONE_PAIR.replace("[touchstone.ports]", table).replace('"Link"', '"link"')
    (tmp_path / "d.toml").write_text(dialect)
    with zipfile.ZipFile(tmp_path / "floor.zip", "w") as archive:
        archive.writestr("east/B-4.s2p", TWO_PORT_1)
    result = run("show", "--json", "--dialect", tmp_path / "d.toml", tmp_path / "floor.zip")
    assert json.loads(result.stdout)["link"]["label"] == "B-4"
