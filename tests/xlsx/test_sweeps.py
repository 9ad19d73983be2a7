"""The sheet of a chosen test: its own figures, native charts, and the worst margin of each."""

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import Result
from openpyxl import Workbook, load_workbook
from openpyxl.chart import ScatterChart

from sweepbook_plugins.xlsx.fields import title
from tests.program import run

from .making import assessment, document, record, written

LABEL = "1A-P1-03"


@pytest.fixture(scope="module")
def done(demo_book: Path, tmp_path_factory: pytest.TempPathFactory) -> tuple[Result, Path]:
    target = tmp_path_factory.mktemp("sweeps") / "w.xlsx"
    words = ("--sweeps", LABEL, "--sweeps", "nowhere")
    return run("export", demo_book, "--to", "xlsx", "-o", target, *words), target


@pytest.fixture(scope="module")
def workbook(done: tuple[Result, Path]) -> Workbook:
    return load_workbook(done[1])


@pytest.fixture(scope="module")
def audit(demo_book: Path) -> dict[str, Any]:
    records = json.loads(run("check", demo_book, "--json").stdout)["records"]
    (found,) = [record for record in records if record["label"] == LABEL]
    return dict(found)


@pytest.fixture(scope="module")
def cells(workbook: Workbook) -> dict[tuple[int, int], Any]:
    sheet = workbook[f"Sweeps {LABEL}"]
    return {
        (c.row, c.column): c.value for row in sheet.iter_rows() for c in row if c.value is not None
    }


def columns(cells: dict[tuple[int, int], Any], heading: str) -> dict[str, list[Any]]:
    """The figures of a block by the titles of its columns."""
    (start,) = [
        at for (row, at), text in cells.items() if row == 3 and str(text).startswith(heading)
    ]
    found: dict[str, list[Any]] = {}
    at = start
    while (title := cells.get((4, at))) is not None:
        last = max(row for row, column in cells if column == at)
        found[str(title)] = [cells.get((row, at)) for row in range(5, last + 1)]
        at += 1
    return found


def test_the_figures_are_those_of_the_record(
    cells: dict[tuple[int, int], Any], demo_book: Path
) -> None:
    record = json.loads(run("show", demo_book, LABEL, "--json").stdout)
    (sweep,) = [
        one
        for one in record["results"]["sweeps"]
        if (one["parameter"], one.get("end"), one["pairs"]) == ("next", "near", ["3-6", "4-5"])
    ]
    block = columns(cells, "NEXT, near end, dB")
    assert block["3-6/4-5"][: len(sweep["value_db"])] == sweep["value_db"]
    assert len(block) == 2 + 6  # frequency, limit, and the combinations of four pairs
    assert block["Frequency, MHz"][0] == 1


def test_the_worst_margins_are_those_of_the_judgement(
    cells: dict[tuple[int, int], Any], audit: dict[str, Any]
) -> None:
    block = columns(cells, "Where each plot is nearest")
    rows = list(
        zip(*(block[name] for name in ("Plot", "Frequency, MHz", "Worst margin")), strict=True)
    )
    worst: dict[str, tuple[float, float]] = {}
    for margin in audit["margins"]:
        name = title(margin["parameter"])
        plot = f"{name}, {margin['end']} end" if margin["end"] else name
        told = (margin["worst_margin_db"], margin["worst_margin_mhz"])
        worst[plot] = min(worst.get(plot, told), told)
    assert [plot for plot, _, _ in rows] == list(worst)
    assert [db for _, _, db in rows] == pytest.approx([db for db, _ in worst.values()])
    assert [mhz for _, mhz, _ in rows] == [mhz for _, mhz in worst.values()]


def test_each_group_has_a_native_chart_with_units_on_a_logarithmic_axis(workbook: Workbook) -> None:
    charts: list[Any] = getattr(workbook[f"Sweeps {LABEL}"], "_charts")  # noqa: B009
    assert len(charts) > 10
    for chart in charts:
        assert isinstance(chart, ScatterChart)
        assert chart.x_axis.scaling.logBase == 10
        titles = [_text(axis.title) for axis in (chart.x_axis, chart.y_axis)]
        assert titles[0] == "Frequency, MHz"
        assert titles[1].endswith((", dB", ", ns"))
    (near,) = [one for one in charts if _text(one.title).startswith("NEXT, near end")]
    assert _text(near.title) == "NEXT, near end: -7.19 dB at 207 MHz, 3-6/4-5"
    assert len(near.series) == 6 + 2  # the curves, the limit, and the worst point
    point = near.series[-1]
    assert point.marker.symbol == "diamond"
    assert point.xVal.numRef.f.count("$") == 2 or ":" not in point.xVal.numRef.f


def _text(title: Any) -> str:
    return "".join(run.t for part in title.tx.rich.p for run in part.r or ())


def test_what_is_not_there_is_told_and_stops_nothing(done: tuple[Result, Path]) -> None:
    assert done[0].exit_code == 0
    assert "No test is of the link nowhere, so --sweeps adds no sheet of it." in done[0].stdout
    assert "27 tests written" in done[0].stdout


def test_another_format_takes_no_sweeps(demo_book: Path, tmp_path: Path) -> None:
    refused = run("export", demo_book, "--to", "tables", "-o", tmp_path / "t", "--sweeps", LABEL)
    assert refused.exit_code == 3
    assert "takes no --sweeps" in refused.stderr


def test_sheets_of_one_label_are_told_apart_by_the_day(tmp_path: Path) -> None:
    tests = []
    for started in ("2026-03-02T07:30:00Z", "2026-03-05T09:00:00+01:00"):
        parts = document("A-1")
        parts["test"]["started"] = {"rfc3339": started}
        tests.append(assessment(record(parts)))
    found = written(tmp_path / "w.xlsx", tests, asked={"sweeps": "A-1"})
    names = ["Sweeps A-1 2026-03-02", "Sweeps A-1 2026-03-05"]
    assert [name for name in found.sheetnames if name.startswith("Sweeps")] == names
    assert str(found[names[0]]["A2"].value).startswith("Tested 2026-03-02 07:30: upheld; ")
    alone = written(tmp_path / "w.xlsx", tests[:1], asked={"sweeps": "A-1"})
    assert "Sweeps A-1" in alone.sheetnames
