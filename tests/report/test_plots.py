"""The plots of the demo's page, read as a person with a ruler reads them.

Margins and frequencies come from the demo's model (truth.json), which shares no code with what
judges and draws; points for information and clipped ones are counted in the records themselves.
"""

import json
import math
import re
from bisect import bisect_left
from itertools import pairwise
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from tests.program import DEMO, run

from .reading import parsed, sheets, text

FAILED = "1A-P1-03"
Point = tuple[float, float]


@pytest.fixture(scope="module")
def page(demo_book: Path, tmp_path_factory: pytest.TempPathFactory) -> Any:
    target = tmp_path_factory.mktemp("plots") / "report.html"
    done = run("export", demo_book, "--to", "report", "-o", target, "--plots", "open")
    assert done.exit_code == 0, done.output
    return parsed(target)


class Plot(NamedTuple):
    """One plot: its title, what it says of itself, and its picture."""

    title: str
    said: str
    picture: Any


def plots(sheet: Any) -> dict[str, Plot]:
    found = [
        Plot(text(figure.find(".//strong")), text(figure.find("figcaption")), figure.find("svg"))
        for figure in sheet.xpath(".//figure")
    ]
    return {plot.title: plot for plot in found}


def points(path: str) -> list[list[Point]]:
    """The strokes of a path of M, l and h: SVG 2, 9.3."""
    strokes = []
    for stroke in path.split("M")[1:]:
        start, _, rest = stroke.removesuffix("h0").partition("l")
        x, y = map(float, start.split())
        steps = list(map(float, re.findall(r"-?\d+", rest)))
        line = [(x, y)]
        for right, down in zip(steps[::2], steps[1::2], strict=True):
            x, y = x + right, y + down
            line.append((x, y))
        strokes.append(line)
    return strokes


def axis(plot: Plot, look: str, across: str) -> list[tuple[float, float]]:
    """Marks of an axis: place and figure; what names the axis is no mark."""
    marks = [
        (float(mark.get(across)), float(mark.text))
        for mark in plot.picture.findall(f"text[@class='{look}']")
        if mark.get(across) and not mark.text.startswith("frequency")
    ]
    assert len(marks) >= 2
    return marks


def megahertz(plot: Plot, x: float) -> float:
    """Off the outermost marks, on a logarithmic scale."""
    (left, first), *_, (right, last) = axis(plot, "f", "x")
    return float(first * (last / first) ** ((x - left) / (right - left)))


def value(plot: Plot, y: float) -> float:
    (low, least), *_, (high, most) = axis(plot, "v", "y")
    return least + (most - least) * (y - low) / (high - low)


def per_unit(plot: Plot) -> float:
    """What one unit of the picture is worth in dB."""
    return abs(value(plot, 1.0) - value(plot, 0.0))


def line_at(strokes: list[list[Point]], x: float) -> float:
    """The height of a line at a place."""
    line = strokes[0]
    after = max(1, min(bisect_left([p[0] for p in line], x), len(line) - 1))
    (x0, y0), (x1, y1) = line[after - 1], line[after]
    return y0 if x1 == x0 else y0 + (y1 - y0) * (x - x0) / (x1 - x0)


def curve(plot: Plot, look: str) -> list[list[Point]]:
    (path,) = plot.picture.findall(f"path[@class='{look}']")
    return points(path.get("d"))


def worst(of: list[dict[str, Any]]) -> dict[str, Any]:
    return min(of, key=lambda entry: float(entry["margin_db"]))


def test_a_ring_lies_at_the_worst_margin_by_the_ruler(page: Any) -> None:
    """Of each plot in dB: the frequency below the ring, and its distance from the limit."""
    names = {"NEXT": "next", "PSNEXT": "psnext", "return loss": "return_loss", "ACR-F": "acr_f",
             "PSACR-F": "psacr_f", "insertion loss": "insertion_loss"}  # fmt: skip
    read = json.loads((DEMO / "truth.json").read_text(encoding="utf-8"))["links"]
    seen = 0
    for link in read:
        here = sheets(page)[link["label"]]
        if len(here) > 1 or not plots(here[0]):
            continue
        for title, plot in plots(here[0]).items():
            name, _, end = title.partition(" at the ")
            if name not in names:
                continue
            of = [
                entry
                for entry in link["margins"]
                if entry["parameter"] == names[name] and entry.get("end", "") == end[:-4].strip()
            ]
            ring = plot.picture.find("circle[@class='worst']")
            x, y = float(ring.get("cx")), float(ring.get("cy"))
            off = abs(value(plot, y) - value(plot, line_at(curve(plot, "limit"), x)))
            near = [
                entry
                for entry in of
                if abs(float(entry["margin_db"])) == pytest.approx(off, abs=3.5 * per_unit(plot))
                and float(entry["frequency_mhz"]) == pytest.approx(megahertz(plot, x), rel=0.006)
            ]
            least = float(worst(of)["margin_db"])
            assert near, (link["label"], title)
            assert min(float(entry["margin_db"]) for entry in near) <= least + 0.005
            seen += 1
    assert seen > 60


def test_the_curve_that_stands_out_goes_through_its_ring(page: Any) -> None:
    for plot in plots(sheets(page)[FAILED][0]).values():
        ring = plot.picture.find("circle[@class='worst']")
        at = (float(ring.get("cx")), float(ring.get("cy")))
        lines = [p for p in plot.picture.findall("path") if "worst" in (p.get("class") or "")]
        every = [point for path in lines for stroke in points(path.get("d")) for point in stroke]
        assert at in every or any(math.dist(at, point) <= 1.5 for point in every)


def _record(book: Path, label: str) -> dict[str, Any]:
    shown = run("show", book, label, "--json")
    document: dict[str, Any] = json.loads(shown.output)
    return document


def test_points_for_information_are_dotted_and_named(page: Any, demo_book: Path) -> None:
    """Return loss below 3 dB of insertion loss of the same pair: ANSI/TIA-568.2-D, recalled."""
    record = _record(demo_book, FAILED)
    sweeps = record["results"]["sweeps"]
    plot = plots(sheets(page)[FAILED][0])["return loss at the near end"]
    (name,) = (text(t) for t in plot.picture.findall("text[@class='name worst']"))
    (loss,) = (s for s in sweeps if s["parameter"] == "insertion_loss" and s["pairs"] == [name])
    (grid,) = (g for g in record["results"]["grids"] if g["id"] == loss["grid"])
    at = _frequencies(grid)
    last = max(f for f, value in zip(at, loss["value_db"], strict=True) if value < 3.0)
    (note,) = plot.picture.findall("path[@class='note']")
    end = float(re.findall(r"H(\d+)", note.get("d"))[0])
    assert megahertz(plot, end) == pytest.approx(last, rel=0.01)
    assert text(plot.picture.find("text[@class='said']")) == "for information"
    (dotted,) = plot.picture.findall("path[@class='worst dotted']")
    assert points(dotted.get("d"))[0][-1][0] == pytest.approx(end, abs=1)


def _frequencies(grid: dict[str, Any]) -> list[float]:
    if "frequency_mhz" in grid:
        return [float(f) for f in grid["frequency_mhz"]]
    runs = grid["runs"]
    return [float(r["start"]) + n * float(r["step"]) for r in runs for n in range(r["count"])]


def test_clipped_points_are_marked_and_counted(page: Any, demo_book: Path) -> None:
    plot = plots(sheets(page)[FAILED][0])["NEXT at the near end"]
    clipped = [
        bound
        for sweep in _record(demo_book, FAILED)["results"]["sweeps"]
        if sweep["parameter"] == "next" and sweep.get("end") == "near"
        for bound in sweep.get("bounds", ())
    ]
    count = sum(bound["to"] - bound["from"] + 1 for bound in clipped)
    assert count > 10
    assert f"more than drawn, marked by strokes upwards: {count} points" in plot.said
    marks = [m for path in plot.picture.findall("path[@class='clip']") for m in path.get("d")]
    assert 0 < marks.count("v") <= count


def test_axes_have_units_and_each_curve_its_name_at_its_end(page: Any) -> None:
    for plot in plots(sheets(page)[FAILED][0]).values():
        words = [text(t) for t in plot.picture.findall("text")]
        assert "frequency, MHz" in words
        assert any(word.endswith(", dB") for word in words)
        names = [t for t in plot.picture.findall("text") if "name" in (t.get("class") or "")]
        looks = ("worst", "fails", "other")
        curves = {c.get("class").split()[0] for c in plot.picture.findall("path")} & set(looks)
        assert curves <= {t.get("class").split()[1] for t in names}
        places = sorted(float(t.get("y")) for t in names)
        assert all(two - one >= 40 for one, two in pairwise(places))
        assert plot.picture.get("role") == "img"
        assert plot.picture.get("aria-label") == plot.said


@pytest.mark.parametrize(
    ("asked", "drawn"),
    [
        (("--plots", "none"), set()),
        (("--plots", "none", "--plots-of", "1A-P1-02"), {"1A-P1-02"}),
        (("--plots", "failed"), {"1A-P1-04"}),
        ((), {"1A-P1-04", "2A-P1-08"}),
        (("--plots", "all"), {"1A-P1-02", "1A-P1-04", "2A-P1-08"}),
    ],
)
def test_plots_are_of_the_tests_asked_for(
    tmp_path: Path, asked: tuple[str, ...], drawn: set[str]
) -> None:
    """A pass, a fail that was stated as a pass, and one that is not proved."""
    names = ("heron-1A-P1-02.csv", "heron-1A-P1-04.csv", "heron-2A-P1-08.csv.gz")
    files = [DEMO / "exports" / name for name in names]
    target = tmp_path / "x.html"
    dialects = [f"--dialect={path}" for path in sorted((DEMO / "dialects").glob("*.toml"))]
    done = run("convert", *files, *dialects, "--to", "report", "-o", target, *asked)
    assert done.exit_code == 0, done.output
    found = {label: here for label, here in sheets(parsed(target)).items() if plots(here[0])}
    assert set(found) == drawn


def test_a_label_without_a_test_and_a_format_without_plots_are_told(
    demo_book: Path, tmp_path: Path
) -> None:
    done = run("export", demo_book, "--to", "xlsx", "-o", tmp_path / "x.xlsx", "--plots", "all")
    assert done.exit_code == 3
    assert "takes no --plots" in done.output
    target = tmp_path / "x.html"
    asked = ("--plots", "none", "--plots-of", "X-9")
    done = run("export", demo_book, "--to", "report", "-o", target, *asked)
    said = " ".join(done.output.split())
    assert "No test is of the link X-9" in said
    assert (
        f"Plots are drawn of 0 of 27 tests; the page has {target.stat().st_size / 1e6:.1f} MB"
        in said
    )


def test_the_words_beside_the_worst_point_lie_on_neither_limit_nor_curve(page: Any) -> None:
    """A letter is taken as half as wide as high, of the lettering of a screen: common practice."""
    seen = crossed = 0
    for of_label in sheets(page).values():
        for plot in (one for sheet in of_label for one in plots(sheet).values()):
            for said in plot.picture.xpath("text[contains(@class, 'said mid')]"):
                wide, x, y = 13.5 * len(said.text), float(said.get("x")), float(said.get("y"))
                left = x - wide if said.get("class").endswith("end") else x
                assert 132 <= left < left + wide <= 1086
                assert 22 <= y <= 524
                for look in ("worst", "limit"):
                    for stroke in (one for one in curve(plot, look) if len(one) > 1):
                        xs = [left + wide * part / 20 for part in range(21)]
                        inside = [at for at in xs if stroke[0][0] <= at <= stroke[-1][0]]
                        seen += 1
                        crossed += any(abs(line_at([stroke], at) - y) < 13 for at in inside)
    assert seen > 100
    assert crossed <= seen // 50
