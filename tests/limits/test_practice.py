"""Practice figures say that no document sets them, and a project can bring its own."""

import json
from importlib.resources import files
from pathlib import Path

import pytest

from sweepbook.errors import SweepbookError
from sweepbook.limits.practice import Practice

SHIPPED = files("sweepbook_schemas").joinpath("practice.json").read_text("utf-8")


def test_the_figures_are_those_of_the_trade() -> None:
    """30 days, 12 months, NVP 0.55 to 0.90, 10 MHz: common practice, no source."""
    practice = Practice.load()
    assert practice.value("field_reference_days") == 30
    assert practice.value("calibration_months") == 12
    assert (practice.value("nvp_lowest"), practice.value("nvp_highest")) == (0.55, 0.9)
    assert practice.value("delay_judged_at_mhz") == 10
    assert practice.value("shortest_test_s") > 0


def test_each_figure_says_that_it_is_practice_measured_on_a_model_or_recalled() -> None:
    for figure in Practice.load().figures.values():
        known = ("common practice, no source", "measured on a model; no source")
        assert figure.source in known or "recalled" in figure.source
        assert figure.why


def test_conductors_by_the_formula_of_the_american_wire_gauge() -> None:
    """d = 0.127 mm * 92^((36 - n) / 39), ASTM B258; the formula is recalled."""
    practice = Practice.load()
    for name, gauge in (("conductor_thickest_mm", 22), ("conductor_thinnest_mm", 28)):
        assert practice.value(name) == pytest.approx(0.127 * 92 ** ((36 - gauge) / 39), abs=5e-5)


def test_a_project_brings_its_own(tmp_path: Path) -> None:
    own = tmp_path / "practice.json"
    own.write_text(SHIPPED.replace('"value": 30', '"value": 7'), "utf-8")
    practice = Practice.load(own)
    assert practice.value("field_reference_days") == 7
    assert practice.sha256 != Practice.load().sha256


@pytest.mark.parametrize("text", ["", "{}", "[]", SHIPPED.replace('"value": 30', '"value": "30"')])
def test_what_holds_no_figures_is_refused(text: str, tmp_path: Path) -> None:
    own = tmp_path / "practice.json"
    own.write_text(text, "utf-8")
    with pytest.raises(SweepbookError, match=r"practice\.json holds no practice figures"):
        Practice.load(own)


def test_a_file_that_is_not_there_is_named(tmp_path: Path) -> None:
    with pytest.raises(SweepbookError, match=r"gone\.json holds no practice figures"):
        Practice.load(tmp_path / "gone.json")


def test_a_file_that_lacks_or_adds_a_figure_is_refused(tmp_path: Path) -> None:
    document = json.loads(SHIPPED)
    document["figures"]["shortest_tset_s"] = document["figures"].pop("shortest_test_s")
    own = tmp_path / "practice.json"
    own.write_text(json.dumps(document), "utf-8")
    with pytest.raises(SweepbookError, match="shortest_test_s, shortest_tset_s"):
        Practice.load(own)


def test_an_unknown_figure_is_refused_with_those_that_are_known() -> None:
    with pytest.raises(SweepbookError, match="no practice figure 'x'") as caught:
        Practice.load().value("x")
    assert "calibration_months" in caught.value.todo
