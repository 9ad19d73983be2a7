"""A trial shows one of several tests that are read alike, and a line of each other one."""

import json
from pathlib import Path

import pytest

from tests.csv_format.dialects import CURVES
from tests.program import run

DIALECT = f'{CURVES}[dates]\nforms = ["YYYY-MM-DD hh:mm"]\nzone = "+00:00"\n'
SWEPT = "Link,{}\nDate,2026-03-0{} 10:00\nResult,{}\nHouse,x\nMHz,IL 1-2\n1,1.9\n2,2.{}\n"


def tried(folder: Path, contents: list[str], *options: str) -> str:
    (folder / "d.toml").write_text(DIALECT, encoding="utf-8")
    files = [folder / f"e{number}.csv" for number in range(len(contents))]
    for file, content in zip(files, contents, strict=True):
        file.write_text(content, encoding="utf-8")
    return run("dialect", "try", folder / "d.toml", *files, *options).stdout


def four() -> list[str]:
    found = [SWEPT.format(label, at, "PASS", at) for at, label in enumerate("ABCD", 1)]
    found[2] = found[2].replace("PASS", "FAIL")
    return found


def test_tests_that_are_read_alike_take_a_line_each(tmp_path: Path) -> None:
    said = tried(tmp_path, four())
    assert said.count("insertion_loss") == 1
    assert "3 more tests with the same curves, figures and keys left over" in said
    lines = [line.split() for line in said.splitlines()]
    assert ["C", "2026-03-03T10:00:00+00:00", "FAIL", "->", "fail", "e2.csv"] in lines
    assert ["D", "2026-03-04T10:00:00+00:00", "PASS", "->", "pass", "e3.csv"] in lines


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("IL 1-2", "RL 1-2 A"),
        ("\n2,2.3", "\n3,2.3"),
        ("House", "Hall"),
        ("Link", "Limit,Cat 6A PL TIA 568.2-D\nLink"),
        ("Result,FAIL\n", ""),
        ("Date", "Day"),
    ],
)
def test_one_that_is_read_otherwise_is_shown(old: str, new: str, tmp_path: Path) -> None:
    contents = four()
    assert old in contents[2]
    contents[2] = contents[2].replace(old, new)
    said = tried(tmp_path, contents)
    assert "2 more tests" in said
    assert "Test 3 that small-curves reads, in e2.csv\n" in said


def test_all_are_shown_where_several_of_a_file_are_asked_for(tmp_path: Path) -> None:
    said = tried(tmp_path, four(), "--tests", "2")
    assert said.count("insertion_loss") == 4
    assert "more tests" not in said
    told = json.loads(tried(tmp_path, four(), "--json"))
    assert [one["label"] for one in told["tests"]] == [*"ABCD"]


def test_no_more_lines_than_a_screen_holds(tmp_path: Path) -> None:
    said = tried(tmp_path, [SWEPT.format(f"L{at}", 1, "PASS", 1) for at in range(20)])
    assert "19 more tests" in said
    assert "and 7 more\n" in said


def test_keys_that_end_alike_are_told_together(tmp_path: Path) -> None:
    sheets = "".join(f"Sheet {of}/Note,n{of}\n" for of in range(5))
    said = tried(tmp_path, [four()[0].replace("House,x\n", sheets)])
    assert "Left over, 5 keys in extra:\n    Sheet 0/Note: n0\n" in said
    assert "and 4 more that end in /Note" in said
    few = tried(tmp_path, [four()[0].replace("House,x\n", "P/Note,1\nQ/Note,2\nR/Note,3\n")])
    assert "R/Note: 3" in few
