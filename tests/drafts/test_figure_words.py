"""What a figure is by its name and its texts. The names are common practice, no source."""

from collections.abc import Mapping, Sequence
from pathlib import Path

import pytest

from sweepbook.draft.figure_words import role_of, together

from .drafting import curves, draft_of, read, written
from .links import link, wide

NUMBERS = ("45.25", "231.5")


@pytest.mark.parametrize(
    ("name", "role"),
    [
        ("{parameter} worst margin (dB)", "worst_margin.margin"),
        ("MargindB", "worst_margin.margin"),
        ("Worst margin (MHz)", "worst_margin.frequency"),
        ("Worst margin at", "worst_margin.frequency"),
        ("marginAtFreq", "worst_margin.frequency"),
        ("Schlechteste Reserve bei", "worst_margin.frequency"),
        ("Worst (kHz)", "worst_value.frequency"),
        ("Worst value (dB)", "worst_value.value"),
        ("Worst value at near end (dB)", "worst_value.value"),
        ("Limit at worst margin (dB)", None),
        ("Grenzwert bei schlechtester Reserve", None),
        ("Limit (dB)", None),
        ("Frequency at worst margin", "worst_margin.frequency"),
        ("Accuracy (dB)", "accuracy"),
        ("MHz", "frequency"),
        ("{parameter} (m)", "value"),
        ("Worst end", None),
    ],
)
def test_a_number_by_its_name(name: str, role: str | None) -> None:
    assert role_of(name, NUMBERS) == role


@pytest.mark.parametrize(
    ("name", "role"),
    [
        ("Limit (dB)", "worst_margin.limit"),
        ("Limit at worst margin (dB)", "worst_margin.limit"),
        ("Limit (MHz)", None),
        ("At (MHz)", "worst_margin.frequency"),
        ("Value at worst margin (dB)", None),
        ("Value", None),
    ],
)
def test_a_number_beside_a_margin(name: str, role: str | None) -> None:
    assert role_of(name, NUMBERS, "worst_margin") == role


@pytest.mark.parametrize(
    ("name", "texts", "role"),
    [
        ("NEXT margin result", ("PASS", "FAIL"), "verdict"),
        ("NEXT margin", ("PASS", "FAIL"), "verdict"),
        ("NEXT limit check", ("PASS", "n/a"), "verdict"),
        ("NEXT worst end", ("F", "F"), None),
        ("NEXT margin", ("main", "remote"), None),
        ("NEXT margin", ("3.1", "n/a", "-"), "worst_margin.margin"),
        ("Screened", ("yes", "no"), None),
        ("Passed", ("yes", "no"), "verdict"),
        ("Result", ("bueno", "malo"), "verdict"),
        ("Remark", ("bueno", "malo"), None),
    ],
)
def test_texts_that_are_no_numbers(name: str, texts: Sequence[str], role: str | None) -> None:
    assert role_of(name, texts) == role


@pytest.mark.parametrize(
    ("named", "roles"),
    [
        (
            {"At MHz": ("100", "250"), "Margin": ("3.1", "0.2"), "Limit": ("30", "25")},
            {
                "worst_margin.frequency": "At MHz",
                "worst_margin.margin": "Margin",
                "worst_margin.limit": "Limit",
            },
        ),
        (
            {"Worst": ("31", "26"), "MHz": ("100", "250"), "Limit": ("30", "25")},
            {
                "worst_value.value": "Worst",
                "worst_value.frequency": "MHz",
                "worst_value.limit": "Limit",
            },
        ),
        (
            {"Margin": ("3", "1"), "MHz": ("9", "8"), "Worst": ("31", "26"), "At": ("7", "6")},
            {
                "worst_margin.margin": "Margin",
                "worst_margin.frequency": "MHz",
                "worst_value.value": "Worst",
                "worst_value.frequency": "At",
            },
        ),
        (
            {"Margin": ("3.1", "0.2"), "Worst MHz": ("100", "250")},
            {"worst_margin.margin": "Margin", "worst_margin.frequency": "Worst MHz"},
        ),
        (
            {"Value at worst margin (dB)": ("33", "25"), "Worst margin (dB)": ("3.1", "0.2")},
            {"worst_margin.margin": "Worst margin (dB)"},
        ),
        (
            {"Margin": ("3.1", ""), "Value": ("", "41.0"), "MHz": ("100", "")},
            {"worst_margin.margin": "Margin", "value": "Value", "worst_margin.frequency": "MHz"},
        ),
        ({"Limit": ("30", "25"), "Margin MHz": ("100", "250")}, {}),
        ({"Status": ("A", "A"), "Verdict": ("pass", "fail")}, {"verdict": "Verdict"}),
    ],
)
def test_figures_side_by_side(named: Mapping[str, Sequence[str]], roles: Mapping[str, str]) -> None:
    assert together({name: (name, texts) for name, texts in named.items()}) == roles


def test_rows_below_curves_in_any_order(tmp_path: Path) -> None:
    """Figures of no calculation, for the reading alone."""
    one = link("W-1", 40.0)
    text = wide(one, "insertion_loss", "return_loss")
    count = text.splitlines()[-1].count(";")
    below = {
        "Worst margin at": [f"{2300 + at}" for at in range(count)],
        "Limit at worst margin": [f"{30 + at},5" for at in range(count)],
        "Value at worst margin": [f"{40 + at},7" for at in range(count)],
        "Worst margin": [f"{10 + at},2" for at in range(count)],
    }
    text += "".join(";".join([name, *cells]) + "\n" for name, cells in below.items())
    records, problems = read(tmp_path / "export.csv", draft_of(tmp_path, text))
    assert problems == []
    document = records[0].document
    assert curves(document) == written(one, "insertion_loss", "return_loss")
    margins = [of["worst_margin"] for of in document["stated"]["items"] if "worst_margin" in of]
    assert [
        (float(of["margin_db"]), float(of["limit_db"]), float(of["frequency_mhz"]))
        for of in margins
    ] == [(10.2 + at, 30.5 + at, (2300 + at) / 1000) for at in range(count)]
    assert "Value at worst margin" in str(document["extra"])


def test_a_value_at_a_margin_is_no_margin(tmp_path: Path) -> None:
    """Figures of no calculation, for the reading alone."""
    one = link("W-1", 40.0)
    head, _, points = wide(one, "insertion_loss").partition("\n\n")
    stated = [("1-2", "41,7", "12,2", "30,5", "2300"), ("3-6", "42,7", "13,2", "31,5", "2301")]
    titles = "Value at worst margin;Worst margin;Limit at worst margin;kHz"
    rows = "\n".join(f"Attenuation;{';'.join(cells)}" for cells in stated)
    text = f"{head}\n\nQuantity;Pair;{titles}\n{rows}\n\n{points}"
    records, problems = read(tmp_path / "export.csv", draft_of(tmp_path, text))
    assert problems == []
    document = records[0].document
    assert curves(document) == written(one, "insertion_loss")
    assert [
        (*of["pairs"], *(float(of["worst_margin"][key]) for key in ("margin_db", "limit_db")))
        for of in document["stated"]["items"]
    ] == [("1-2", 12.2, 30.5), ("3-6", 13.2, 31.5)]
