"""The command, on the demo's book: what its schedule plants is found, and nothing else."""

import json
import shlex
import shutil
from pathlib import Path

import openpyxl
import pytest

from sweepbook.schedule import document
from sweepbook_demo import schedule as planted
from tests.program import DEMO, DIALECTS, run

SCHEDULE = DEMO / "schedule.csv"


def test_what_the_demo_plants_in_its_schedule_is_found(demo_book: Path) -> None:
    result = run("reconcile", demo_book, "--schedule", SCHEDULE, "--json")
    assert result.exit_code == 1
    told = json.loads(result.stdout)
    assert list(document.problems(told)) == []
    states = {item["label"]: item["state"] for item in told["links"]}
    near = {
        item["label"]: [miss["label"] for miss in item["near_misses"]] for item in told["links"]
    }
    assert states[planted.UNTESTED] == "untested"
    assert states[planted.NOT_SCHEDULED] == "not on the schedule"
    remarks = {item["label"]: item["remarks"] for item in told["links"] if item["remarks"]}
    assert list(remarks) == ["1A-P1-02", "05-31"]
    assert "calibration due 2023-02-02, tested 2023-03-07" in str(remarks["05-31"])
    assert "termination RR-20 at the far end (the schedule: termination RR-02)" in str(remarks)
    for tested, scheduled in planted.NEAR_MISS.items():
        assert states[scheduled] == "untested"
        assert near[scheduled] == [tested]
        assert near[tested] == [scheduled]
    for label in planted.LESSER_LIMIT:
        assert states[label] == "tested to a lesser limit"
    for label in planted.OTHER_CONFIGURATION:
        assert states[label] == "other configuration"
    assert told["summary"]["untested"] == 2
    assert told["summary"]["not on the schedule"] == 2
    assert told["summary"]["passed on retest"] == 1
    assert sum(told["summary"].values()) == len(told["links"]) == 28


def test_the_lines_name_place_and_reason_and_fit_the_terminal(
    demo_book: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    result = run("reconcile", demo_book, "--schedule", SCHEDULE)
    assert result.exit_code == 1
    assert "passed (" not in result.stdout
    assert "1A-P1-03  Main House / 1 / TR-1A / K1 / P1 / 03" in result.stdout
    assert "Local codes" in " ".join(result.stdout.split())
    assert max(map(len, result.stdout.splitlines())) <= 80
    assert "passed (" in run("reconcile", demo_book, "--schedule", SCHEDULE, "--all").stdout


def test_a_mended_link_retested_under_a_label_near_to_its_own_is_told_with_the_way_out(
    demo_book: Path, tmp_path: Path
) -> None:
    book = shutil.copytree(demo_book, tmp_path / "book")
    held = json.loads(run("compare", book, "PW-1-02", "--json").stdout)
    retest = held["comparisons"][0]["later"]["record_id"]
    by = ("--who", "K. Orme", "--why", "as typed on site")
    assert run("correct", book, retest, "label", "PW 1 O2", *by).exit_code == 0
    said = " ".join(run("reconcile", book, "--schedule", SCHEDULE).stdout.split())
    command = "sweepbook correct BOOK 'PW 1 O2' label PW-1-02"
    assert said.count(command) == 2  # at the link and at the test
    assert run("correct", book, *shlex.split(command)[3:], *by).exit_code == 0
    told = json.loads(run("reconcile", book, "--schedule", SCHEDULE, "--json").stdout)
    states = {item["label"]: item["state"] for item in told["links"]}
    assert states["PW-1-02"] == "passed on retest"


def test_nothing_open_is_exit_code_zero(demo_book: Path, tmp_path: Path) -> None:
    own = tmp_path / "own.csv"
    own.write_text("label,limit\n1A-P1-01,Cat 6A permanent link\n")
    export = DEMO / "exports" / "heron-1A-P1-01.csv"
    result = run("reconcile", export, *DIALECTS, "--schedule", own)
    assert result.exit_code == 0
    assert "Nothing is open." in result.stdout


def test_without_a_known_limit_the_first_line_says_so_and_gives_the_way_out(
    demo_book: Path, tmp_path: Path
) -> None:
    own = tmp_path / "own.csv"
    own.write_text("Label,Floor,To be tested to\n1A-P1-01,1,Cat 6A channel\n")
    result = run("reconcile", demo_book, "--schedule", own)
    said = " ".join(result.stdout.split())
    assert said.startswith("own.csv asks for no limit that is known as one, so links pass by")
    option = "limit=To be tested to"
    assert f'--column "{option}"' in said.partition(" not on the schedule")[0]
    assert "1 passed by whatever limit they were tested to" in said
    result = run("reconcile", demo_book, "--schedule", own, "--column", option, "--json")
    told = json.loads(result.stdout)
    assert told["schedule"]["asks_for_limits"] is True
    states = {item["label"]: item["state"] for item in told["links"]}
    assert states["1A-P1-01"] == "other configuration"


def test_a_limit_that_is_not_known_is_told_at_once(demo_book: Path, tmp_path: Path) -> None:
    own = tmp_path / "own.csv"
    own.write_text("Label,Limit\nZ-1,Class Zeta\n")
    told = json.loads(run("reconcile", demo_book, "--schedule", own, "--json").stdout)
    assert list(document.problems(told)) == []
    (strange,) = told["schedule"]["limits_not_known"]
    assert (strange["line"], "'Class Zeta'" in strange["message"]) == (2, True)
    result = run("export", demo_book, "--schedule", own, "--to", "xlsx", "-o", tmp_path / "o.xlsx")
    assert result.exit_code == 1
    assert "own.csv, line 2: No limit table goes by 'Class Zeta'" in result.stderr
    sheet = openpyxl.load_workbook(tmp_path / "o.xlsx")["Schedule"]
    titles = [cell.value for cell in sheet[1]]
    assert sheet[2][titles.index("Limit asked for")].value == "Class Zeta"


@pytest.mark.parametrize(
    ("columns", "told"),
    [
        (["label"], "not of the form"),
        (["colour=red"], "is no role"),
        (["limit=Spec"], "'Spec'"),
    ],
)
def test_a_wrong_column_is_told(demo_book: Path, columns: list[str], told: str) -> None:
    options = [f"--column={column}" for column in columns]
    result = run("reconcile", demo_book, "--schedule", SCHEDULE, *options)
    assert result.exit_code == 3
    assert told in result.stderr


def test_an_export_with_the_schedule_has_a_sheet_of_where_each_link_stands(
    demo_book: Path, tmp_path: Path
) -> None:
    target = tmp_path / "o.xlsx"
    result = run("export", demo_book, "--schedule", SCHEDULE, "--to", "xlsx", "-o", target)
    assert result.exit_code == 0
    sheet = openpyxl.load_workbook(target)["Schedule"]
    told = {row[0]: row[1] for row in sheet.iter_rows(min_row=2, values_only=True)}
    assert len(told) == 28
    assert told[planted.UNTESTED] == "untested"
    assert told[planted.NOT_SCHEDULED] == "not on the schedule"
    assert told["1A-P1-01"] == "passed"


def test_an_export_tells_the_rows_that_could_not_be_taken(demo_book: Path, tmp_path: Path) -> None:
    own = tmp_path / "own.csv"
    own.write_text("label,limit\n1A-P1-01,\n,Cat 6\n")
    target = tmp_path / "o.json"
    result = run("export", demo_book, "--schedule", own, "--to", "json", "-o", target)
    assert result.exit_code == 1
    assert "own.csv, line 3: This row has no label" in result.stderr


def test_titles_that_come_again_are_no_fault(demo_book: Path, tmp_path: Path) -> None:
    own = tmp_path / "own.csv"
    own.write_text("Label,Floor\n1A-P1-01,1\nLabel,Floor\n1A-P1-02,1\n")
    result = run("reconcile", demo_book, "--schedule", own, "--json")
    told = json.loads(result.stdout)
    assert list(document.problems(told)) == []
    assert (told["schedule"]["links"], told["schedule"]["titles_again"]) == (2, 1)
    assert told["schedule"]["faults"] == []
    result = run("reconcile", demo_book, "--schedule", own)
    assert "Titles that come again were passed over: 1." in " ".join(result.stdout.split())


def test_a_schedule_is_not_written_over(demo_book: Path, tmp_path: Path) -> None:
    own = tmp_path / "own.csv"
    own.write_bytes(SCHEDULE.read_bytes())
    result = run("export", demo_book, "--schedule", own, "--to", "json", "-o", own)
    assert result.exit_code == 3
    assert own.read_bytes() == SCHEDULE.read_bytes()


def test_columns_of_no_schedule_are_told(demo_book: Path, tmp_path: Path) -> None:
    target = tmp_path / "o.json"
    result = run("export", demo_book, "--column", "label=Tag", "--to", "json", "-o", target)
    assert result.exit_code == 3
    assert "--schedule FILE" in result.stderr
