"""What the sheets are and how they are set up: headers, filters, print, formats, further sheets."""

import re
from pathlib import Path

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.utils import get_column_letter
from xlsxwriter import Workbook as Writer

from sweepbook.cli import wording
from sweepbook.findings import Finding, Severity
from sweepbook.judging.assessment import Judgement, Outcome, Recomputed
from sweepbook_plugins.report import figures
from sweepbook_plugins.xlsx.book import fill
from sweepbook_plugins.xlsx.file import OPTIONS

from .making import assessment, delivery, document, many, margin, record, rows, written

SHEETS = [
    "Summary", "Links", "To retest", "History", "Margins", "Findings", "Instruments", "Corrections",
    "Columns", "About",
]  # fmt: skip
TABLES = SHEETS[1:-1]
NUMBER = re.compile(r"^0(\.0{2,6}|E\+00)?_W$")


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Workbook:
    return written(tmp_path_factory.mktemp("xlsx") / "few.xlsx", many(3))


def test_the_sheets_stand_in_order(book: Workbook) -> None:
    assert book.sheetnames == SHEETS


@pytest.mark.parametrize("name", TABLES)
def test_headers_stay_and_filters_reach_over_all_rows(book: Workbook, name: str) -> None:
    sheet = book[name]
    row, column = sheet.max_row, get_column_letter(sheet.max_column)
    assert sheet.freeze_panes in {"B2", "E2"}
    assert sheet.auto_filter.ref == f"A1:{column}{max(row, 2)}"


@pytest.mark.parametrize("name", SHEETS)
def test_each_sheet_prints_across_a_page(book: Workbook, name: str) -> None:
    sheet = book[name]
    assert sheet.page_setup.orientation == "landscape"
    pages = None if name == "Summary" else 0  # xlsxwriter leaves out the one page that is usual
    assert (sheet.page_setup.fitToWidth or 1, sheet.page_setup.fitToHeight) == (1, pages)
    setup = sheet.sheet_properties.pageSetUpPr
    assert setup
    assert setup.fitToPage
    on_paper = name in TABLES and name != "Margins"
    assert sheet.print_title_rows == ("$1:$1" if on_paper else None)


def test_margins_are_for_the_screen_and_columns_without_anything_are_narrow(
    tmp_path: Path,
) -> None:
    """So that a workbook of 67 tests takes 26 pages and no longer 109 (measured)."""
    found = (Finding("REC002", Severity.WARNING, "$", "no time", {}),)
    book = written(tmp_path / "x.xlsx", [assessment(findings=found)])
    assert book["Margins"].print_area == "'Margins'!$A$1:$M$1"
    assert "for the screen" in str(getattr(book["Margins"].oddHeader, "left").text)  # noqa: B009
    findings = book["Findings"]
    titles = {cell.value: get_column_letter(n) for n, cell in enumerate(findings[1], 1)}
    widths = {name: findings.column_dimensions[at].width for name, at in titles.items()}
    assert findings.print_area == f"'Findings'!$A$1:$G${findings.max_row}"
    assert 6 <= widths["Accepted by"] < 14
    assert widths["What was found"] > 50


@pytest.mark.parametrize("name", TABLES)
def test_numbers_have_a_format_and_texts_the_format_of_text(book: Workbook, name: str) -> None:
    cells = [cell for row in book[name].iter_rows(min_row=2) for cell in row]
    for cell in cells:
        if cell.value is None:
            continue
        if isinstance(cell.value, str):
            assert cell.number_format == "@"
        else:
            assert NUMBER.match(cell.number_format), cell.coordinate


def test_counts_have_no_decimals_and_figures_two(book: Workbook) -> None:
    titles = [cell.value for cell in book["Margins"][1]]
    row = dict(zip(titles, book["Margins"][2], strict=True))
    assert row["Points evaluated"].number_format == "0_W"
    assert row["Worst margin"].number_format == "0.00_W"
    assert row["Worst margin at, MHz"].number_format == "0.00_W"


@pytest.mark.parametrize(
    ("value", "shown"),
    [(0.002, "0.002"), (-0.0041, "-0.004"), (0.0, "0.00"), (3e-5, "0.00003"), (0.0051, "0.01")],
)
def test_a_margin_near_zero_shows_its_side_of_the_limit(
    value: float, shown: str, tmp_path: Path
) -> None:
    """Judging is by unrounded values (ours; the standards leave it open): 0.00 tells no verdict."""
    near = margin(worst_margin_db=value, outcome=Outcome.PASS if value >= 0.0 else Outcome.FAIL)
    book = written(tmp_path / "near.xlsx", [assessment(margins=(near,))])
    for sheet in ("Links", "Margins"):
        titles = [cell.value for cell in book[sheet][1]]
        cell = dict(zip(titles, book[sheet][2], strict=True))["Worst margin"]
        assert cell.value == value
        assert NUMBER.match(cell.number_format)
        decimals = cell.number_format.removesuffix("_W").partition(".")[2]
        assert f"{cell.value:.{len(decimals)}f}" == shown
    text = shown if shown.startswith("-") else f"+{shown}"
    assert figures.signed(value, "dB") == wording.signed(value) == text


@pytest.mark.parametrize("name", TABLES)
def test_no_title_is_cut(book: Workbook, name: str) -> None:
    """No word is wider than its column, and the row is high enough; 5 to 6 points a letter."""
    sheet = book[name]
    height = sheet.row_dimensions[1].height
    for number, cell in enumerate(sheet[1], 1):
        points = sheet.column_dimensions[get_column_letter(number)].width * 5.25
        assert max(len(word) for word in str(cell.value).split()) * 6 <= points + 6
        needed = 1 + len(str(cell.value)) * 5 // points
        assert needed * 11 <= height + 11


def test_a_delivery_of_nothing_has_all_sheets(tmp_path: Path) -> None:
    book = written(tmp_path / "none.xlsx", [])
    assert book.sheetnames == SHEETS
    for name in set(TABLES) - {"Columns"}:
        assert rows(book, name) == []
        assert book[name].auto_filter.ref.startswith("A1:")


def test_what_is_over_a_full_sheet_goes_on_another(tmp_path: Path) -> None:
    target = tmp_path / "full.xlsx"
    handed = delivery(many(7))
    with Writer(str(target), OPTIONS) as writer:
        fill(writer, handed, most_rows=4)
    book = load_workbook(target)
    links = [name for name in book.sheetnames if name.startswith("Links")]
    assert links == ["Links", "Links 2", "Links 3"]
    assert [len(rows(book, name)) for name in links] == [3, 3, 1]
    found = [row["Link"] for name in links for row in rows(book, name)]
    assert found == [each.record.label for each in many(7)]
    margins = [name for name in book.sheetnames if name.startswith("Margins")]
    assert sum(len(rows(book, name)) for name in margins) == 28
    for name in (*links, *margins):
        sheet = book[name]
        assert sheet.freeze_panes
        assert sheet.auto_filter.ref.endswith(str(sheet.max_row))
    told = {row[0].value: row[2].value for row in book["Summary"].iter_rows()}
    where = "it goes on in the sheets Links 2 to Links 3, behind the others."
    assert told["Links"] == f"3 sheets: {where}"
    assert f"Links has more rows than a sheet takes: {where}" in handed.remarks
    assert any(said.startswith("--margins worst") for said in handed.remarks)


def test_the_limit_of_rows_is_that_of_the_programs() -> None:
    """1,048,576: the limit that office programs state for .xlsx; 2 to the 20th."""
    from sweepbook_plugins.xlsx.table import MOST_ROWS

    assert MOST_ROWS == 2**20


def test_a_tint_goes_with_its_word_and_stands_on_no_other_cell(tmp_path: Path) -> None:
    entries = [
        assessment(record(document(f"L{n}")), judgement=judgement, recomputed=recomputed)
        for n, (judgement, recomputed) in enumerate(
            [(j, r) for j in Judgement for r in Recomputed], start=1
        )
    ]
    book = written(tmp_path / "tints.xlsx", entries)
    tints: dict[str, set[str]] = {}
    for name in TABLES:
        for row in book[name].iter_rows(min_row=2):
            for cell in row:
                if cell.fill.fill_type:
                    tints.setdefault(cell.fill.fgColor.rgb, set()).add(str(cell.value))
    assert sorted(map(sorted, tints.values())) == [
        ["fail", "overturned"],
        ["pass", "upheld"],
        ["undecided", "unproven"],
    ]
