"""Every figure and word in the sheets is that of the assessment, and of its type."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from openpyxl import Workbook

from sweepbook.judging.assessment import (
    Judgement,
    Margin,
    Origin,
    Outcome,
    Recomputed,
    ScalarMargin,
)
from sweepbook.record.model import Record

from .making import assessment, document, figure, many, margin, record, rows, written

COUNT = 600
OF_CURVE = {
    "Worst margin": "worst_margin_db",
    "Worst margin at, MHz": "worst_margin_mhz",
    "Limit at worst margin": "limit_at_worst_margin_db",
    "Worst value": "worst_value_db",
    "Worst value at, MHz": "worst_value_mhz",
    "Limit at worst value": "limit_at_worst_value_db",
    "Points evaluated": "points_evaluated",
    "Points for information": "points_for_information",
    "True margin at least": "margin_low_db",
    "True margin at most": "margin_high_db",
    "End": "end",
    "Parameter": "parameter",
}
OF_FIGURE = {
    "Worst margin": "margin",
    "Limit at worst margin": "limit",
    "Worst value": "value",
    "True margin at least": "margin_low",
    "True margin at most": "margin_high",
    "Unit": "unit",
}
WORKED_OUT = {
    "Worst margin", "Limit at worst margin", "Limit at worst value", "True margin at least",
    "True margin at most",
}  # fmt: skip
TITLES = {"next": "NEXT", "dc_loop_resistance": "DC loop resistance"}


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Workbook:
    return written(tmp_path_factory.mktemp("xlsx") / "many.xlsx", many(COUNT))


def same(cell: object, value: Any, *, worked_out: bool = False) -> None:
    """A number as a number, a text as a text, nothing as nothing; six decimals of some."""
    if isinstance(value, float | int):
        assert isinstance(cell, float | int)
        assert cell == value or (worked_out and cell == pytest.approx(value, rel=0, abs=5e-7))
    else:
        assert cell == TITLES.get(value, value)


def parts() -> Iterator[tuple[str, Margin | ScalarMargin]]:
    for each in many(COUNT):
        both: tuple[Margin | ScalarMargin, ...] = (*each.margins, *each.scalars)
        for part in both:
            yield each.record.label, part


def test_each_curve_and_figure_is_a_row_with_its_numbers(book: Workbook) -> None:
    for row, (label, part) in zip(rows(book, "Margins"), parts(), strict=True):
        assert row["Link"] == label
        names = OF_CURVE if isinstance(part, Margin) else OF_FIGURE
        for heading, name in names.items():
            same(row[heading], getattr(part, name), worked_out=heading in WORKED_OUT)


def test_each_record_is_a_row_with_its_worst_curve(book: Workbook) -> None:
    for row, each in zip(rows(book, "Links"), many(COUNT), strict=True):
        assert row["Link"] == each.record.label
        assert row["Record"] == each.record.record_id
        worst = min(each.margins, key=lambda one: one.worst_margin_db or 0)
        same(row["Worst margin"], worst.worst_margin_db, worked_out=True)
        same(row["Margin at, MHz"], worst.worst_margin_mhz)
        assert row["Margin pairs"] == "/".join(worst.pairs)


def test_margins_may_be_of_the_worst_curve_of_each_parameter_alone(tmp_path: Path) -> None:
    near = margin(worst_margin_db=3.0)
    far = margin(end="far", worst_margin_db=-0.5, outcome=Outcome.FAIL)
    less = margin(pairs=("1-2", "7-8"), worst_margin_db=-0.7, outcome=Outcome.UNDECIDED)
    gone = margin(parameter="psnext", worst_margin_db=None, outcome=Outcome.NOT_EVALUATED)
    entries = [assessment(margins=(near, far, less, gone), scalars=(figure(), figure(margin=-9.0)))]
    found = {
        which: [
            (row["Parameter"], row["Worst margin"])
            for row in rows(
                written(tmp_path / f"{which}.xlsx", entries, asked={"margins": which}), "Margins"
            )
        ]
        for which in ("all", "worst", "none")
    }
    assert len(found["all"]) == 6
    assert [margin for _, margin in found["worst"]] == [-0.5, None, -9.0]
    assert found["none"] == []


def test_a_fail_by_a_figure_shows_its_margin_in_its_unit(tmp_path: Path) -> None:
    delay = ScalarMargin(
        "propagation_delay", "required", "4-5", Outcome.FAIL, 560.0, 498.0, -62.0, "ns",
        Origin.AS_EXPORTED, "B",
    )  # fmt: skip
    row = one(tmp_path, "Links", scalars=(delay,))
    shown = [row[name] for name in ("Worst margin", "Unit", "Margin pairs", "Margin at, MHz")]
    assert shown == [-62.0, "ns", "4-5", None]


def one(tmp_path: Path, sheet: str, of: Record | None = None, **changes: object) -> dict[str, Any]:
    """The only row of a sheet for one assessment."""
    (row,) = rows(written(tmp_path / "one.xlsx", [assessment(of, **changes)]), sheet)
    return row


def test_a_link_shows_what_was_stated_and_what_was_found_side_by_side(tmp_path: Path) -> None:
    row = one(
        tmp_path,
        "Links",
        judgement=Judgement.OVERTURNED,
        recomputed=Recomputed.FAIL,
        stated="pass*",
        reason="It fails.",
    )
    shown = [row[name] for name in ("Judgement", "Stated verdict", "Sweeps say", "Why")]
    assert shown == ["overturned", "pass*", "fail", "It fails."]


def test_a_link_shows_what_the_record_says(tmp_path: Path) -> None:
    row = one(tmp_path, "Links")
    assert row["Near floor"] == "1"
    assert row["Near port"] == "03"
    assert row["Far space"] == "Reading Room"
    assert row["Far termination"] == "RR-03"
    assert row["Length of shortest pair, m"] == 61.8
    assert row["Limit as stated"] == "House limit"
    assert row["Configuration"] == "permanent-link"
    assert row["Test started"] == "2026-03-04T09:12:40+01:00"
    assert row["Operator"] == "op-17"
    assert (row["Near instrument"], row["Far instrument"]) == ("N-1", "F-1")
    assert (row["Source file"], row["Place in the source"]) == ("a.csv", "lines 1-9")


def test_what_is_not_known_stays_empty(tmp_path: Path) -> None:
    parts = document()
    parts["test"], parts["results"] = {}, {}
    row = one(
        tmp_path,
        "Links",
        record(parts),
        limit_path=None,
        stated=None,
        grade=None,
        margins=(),
        scalars=(),
    )
    assert row["Limit"] == "no limit table"
    assert row["Stated verdict"] == "none"
    empty = ("Worst margin", "Margin of", "Operator", "Length of shortest pair, m")
    assert [row[name] for name in empty] == [None] * 4


def test_a_curve_without_a_point_has_no_figures(tmp_path: Path) -> None:
    nothing = margin(
        outcome=Outcome.NOT_EVALUATED,
        worst_margin_db=None,
        worst_margin_mhz=None,
        points_evaluated=0,
    )
    row = one(tmp_path, "Margins", margins=(nothing,), scalars=())
    assert row["Outcome"] == "not evaluated"
    assert row["Worst margin"] is None
    assert row["Points evaluated"] == 0


def test_units_stand_in_the_row(tmp_path: Path) -> None:
    entry = assessment(
        margins=(margin(), margin(parameter="propagation_delay", end=None, pairs=("1-2",))),
        scalars=(figure(parameter="wire_map", unit="faults", pair=None),),
    )
    found = rows(written(tmp_path / "units.xlsx", [entry]), "Margins")
    assert [row["Unit"] for row in found] == ["dB", "ns", "faults"]


def test_a_number_that_is_none_is_shown_as_a_word(tmp_path: Path) -> None:
    row = one(tmp_path, "Margins", margins=(margin(worst_value_db=float("inf")),), scalars=())
    assert row["Worst value"] == "inf"


def test_figures_that_were_worked_out_have_six_decimals_and_stated_ones_all(tmp_path: Path) -> None:
    stated = 40.123456789
    entry = assessment(
        margins=(
            margin(
                worst_margin_db=2.8413400000000003 - 1.93,
                limit_at_worst_margin_db=1.9313400000000003,
                worst_value_db=stated,
                worst_value_mhz=0.123456789,
            ),
            margin(parameter="acr_f", worst_value_db=stated, worst_margin_db=-4e-9),
            margin(parameter="acr_f", worst_value_db=stated, origin=Origin.AS_EXPORTED),
        ),
        scalars=(
            figure(value=stated, margin=0.1 + 0.2),
            figure(parameter="delay_skew", value=stated, origin=Origin.RECOMPUTED),
        ),
    )
    found = rows(written(tmp_path / "w.xlsx", [entry]), "Margins")
    values = [row["Worst value"] for row in found]
    assert values == [stated, 40.123457, stated, stated, 40.123457]
    assert found[0]["Worst value at, MHz"] == 0.123456789
    assert [found[0][name] for name in ("Worst margin", "Limit at worst margin")] == [
        0.91134, 1.93134
    ]  # fmt: skip
    assert found[1]["Worst margin"] == -4e-09  # its sign is not lost
    assert found[3]["Worst margin"] == 0.3
