"""Pictures of limit lines: what is written on them, and that nothing else changes their bytes."""

import json
import re
import struct
import sys
from pathlib import Path
from xml.etree import ElementTree

import pytest
from click.testing import CliRunner, Result

from sweepbook.cli import main

SIX, SIX_A = "tia-568.2-d/cat6/channel", "tia-568.2-d/cat6a/channel"
SVG = "{http://www.w3.org/2000/svg}"


def _run(*arguments: str | Path) -> Result:
    return CliRunner().invoke(main, ["limits", "plot", *map(str, arguments)])


def _texts(picture: Path) -> list[str]:
    root = ElementTree.parse(picture).getroot()
    return ["".join(text.itertext()) for text in root.iter(f"{SVG}text")]


def test_axes_lines_and_grades_are_named(tmp_path: Path) -> None:
    target = tmp_path / "next.svg"
    result = _run(SIX, SIX_A, "--parameter", "next", "-o", target)
    assert result.exit_code == 0, result.output
    said = _texts(target)
    assert {"frequency, MHz", "limit, dB", "cat6/channel (A)", "cat6a/channel (B)"} <= set(said)
    assert any("at least" in text for text in said)
    small = " ".join(said)
    assert "ANSI/TIA-568.2-D, Category 6, channel; ANSI/TIA-568.2-D, Category 6A, channel." in small
    assert "not drawn" not in small, "one parameter was asked for"


def test_what_has_no_line_over_frequency_is_named(tmp_path: Path) -> None:
    """The TIA states propagation delay at 10 MHz alone, the ISO over the whole range."""
    target = tmp_path / "all.svg"
    told = " ".join(_run(SIX_A, "-o", target).output.split())
    assert "Not drawn, since a single figure is no line: Propagation delay; Length;" in told
    assert "Single figures, not drawn: Propagation delay; Length;" in " ".join(_texts(target))
    told = " ".join(_run("iso-11801-1-2017/class-ea/channel", "-o", target).output.split())
    assert "Propagation delay" not in told
    assert any(text.startswith("Propagation delay, at most") for text in _texts(target))


def test_a_contract_and_its_base_are_told_apart(tmp_path: Path) -> None:
    own = tmp_path / "own.json"
    contract = {
        "schema": "urn:sweepbook:limits-0",
        "path": "hall/cat6a/channel",
        "title": "Hall",
        "document": "Hall",
        "edition": "1",
        "published_year": 2024,
        "based_on": SIX_A,
        "adjustments": [{"parameters": ["next"], "tighter_by": 3, "unit": "dB", "source": "c"}],
        "sources": {"c": "Clause 1"},
    }
    own.write_text(json.dumps(contract), "utf-8")
    target = tmp_path / "both.svg"
    result = _run("hall/cat6a/channel", SIX_A, "--limits", own, "--parameter", "next", "-o", target)
    assert result.exit_code == 0, result.output
    assert {"hall/cat6a/channel (B)", f"{SIX_A} (B)"} <= set(_texts(target))
    styles = re.findall(r'style="([^"]*stroke-width: 1\.6[^"]*)"', target.read_text("utf-8"))
    assert len(styles) == 2
    assert ["dasharray" in style for style in styles] == [False, True]
    assert len({re.findall(r"stroke: (#\w+)", style)[0] for style in styles}) == 2


def test_the_axis_names_the_frequency_where_the_limit_ends(tmp_path: Path) -> None:
    target = tmp_path / "eltctl.svg"
    result = _run("iso-11801-1-2017/class-ea/channel", "--parameter", "eltctl", "-o", target)
    assert result.exit_code == 0, result.output
    assert {"1", "4", "10", "30"} <= set(_texts(target))


def test_without_matplotlib_it_says_what_to_install(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "matplotlib", None)
    result = _run(SIX, "-o", tmp_path / "x.svg")
    assert result.exit_code == 3
    assert "pip install matplotlib" in result.stderr
    assert list(tmp_path.iterdir()) == []


def test_the_same_tables_give_the_same_bytes(tmp_path: Path) -> None:
    one, two = tmp_path / "1.svg", tmp_path / "2.svg"
    for target in (one, two):
        assert _run(SIX_A, "-o", target).exit_code == 0
    assert one.read_bytes() == two.read_bytes()


def test_a_png_has_a_panel_for_each_parameter(tmp_path: Path) -> None:
    one, two = tmp_path / "1.png", tmp_path / "2.png"
    _run(SIX, "--parameter", "next", "-o", one)
    _run(SIX, "--parameter", "next", "--parameter", "psnext", "-o", two)
    sizes = [struct.unpack(">II", picture.read_bytes()[16:24]) for picture in (one, two)]
    assert sizes[1] == (2 * sizes[0][0], sizes[0][1])


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        ((SIX, "-o", "x.jpg"), "none of .svg, .png"),
        ((SIX, "--parameter", "length", "-o", "x.svg"), "No limit over frequency"),
        (("Cat 12", "-o", "x.svg"), "No limit table goes by"),
        ((*(f"iso-11801-1-2017/class-{c}/channel" for c in "def"),
          *(f"tia-568.2-d/cat{c}/channel" for c in ("5e", "6", "6a")),
          "iso-11801-1-2017/class-ea/channel", "-o", "x.svg"), "do not go into one picture"),
    ],
)  # fmt: skip
def test_what_cannot_be_drawn_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, arguments: tuple[str, ...], told: str
) -> None:
    monkeypatch.chdir(tmp_path)
    result = _run(*arguments)
    assert result.exit_code == 3
    assert told in " ".join(result.stderr.split())
    assert list(tmp_path.iterdir()) == []
