"""Figures of a test that has no curves, in one of several tables for the files of all tests."""

import json
from pathlib import Path
from typing import Any

import pytest

from sweepbook.record.model import Record
from tests.program import run

from .test_several import FILES, LISTED, read

LIST = "Test,Cable\nT17,A-17\nT18,A-18\nT99,A-99\n"
ROWS = "Test,Pair,Length\nT17,1-2,62\nT18,1-2,61\nT99,1-2,60\n"
FIGURES = """[[join]]
other = "rows.csv"
key = "{}"
other_key = "Test"
[join.csv]
layout = "figure-per-row"
rows.test = "Test"
rows.figures = [{ name = { Pair = "{pairs}" }, value = "{parameter}" }]
"""
NAMES = LISTED.replace("[join]", "[[join]]").replace(
    'rows.figures = [{ value = "{parameter} {pairs}" }]\n', ""
)
DIALECT = NAMES.replace("[fields]", f"{FIGURES}[fields]")


def _lengths(document: dict[str, Any]) -> list[float]:
    return [of["length_m"] for of in document["results"].get("scalars", [])]


def _with_tables(tests: str = LIST, rows: str = ROWS) -> dict[str, str]:
    return {**FILES, "tests.csv": tests, "rows.csv": rows}


def _told(records: list[Record]) -> dict[str, list[float]]:
    return {record.label: _lengths(record.document) for record in records}


def test_they_are_of_the_test_that_another_table_names(tmp_path: Path) -> None:
    records, problems = read(tmp_path, _with_tables(), DIALECT)
    assert _told(records) == {"A-17": [62.0], "A-18": [61.0], "A-99": [60.0]}
    assert len(problems) == 1
    assert "so this test is read without them" in problems[0]


def test_the_order_of_the_tables_does_not_count(tmp_path: Path) -> None:
    head, first, rest = NAMES.partition('other = "tests.csv"')
    table, fields, rest = rest.partition("[fields]")
    figures = FIGURES.removeprefix("[[join]]\n")
    swapped = f"{head}{figures}[[join]]\n{first}{table}{fields}{rest}"
    assert swapped.index("rows.csv") < swapped.index("tests.csv")
    records, problems = read(tmp_path, _with_tables(), swapped)
    assert _told(records) == {"A-17": [62.0], "A-18": [61.0], "A-99": [60.0]}
    assert len(problems) == 1


@pytest.mark.parametrize(
    ("tests", "rows", "told"),
    [
        (LIST, f"{ROWS}T77,1-2,5\n", "rows.csv: lines 5-5: no test with curves has 'T77'"),
        (LIST, f"{ROWS}T99,1-2,5\n", "rows.csv, line 5, column 'Length': the value of"),
        (
            LIST.replace("T99,A-99\n", ""),
            ROWS,
            "rows.csv: lines 4-4: no test with curves has 'T99'",
        ),
        (LIST.replace("A-99", ""), ROWS, "rows.csv: lines 4-4: no test with curves has 'T99'"),
    ],
)
def test_what_no_table_names_is_told_as_before(
    tests: str, rows: str, told: str, tmp_path: Path
) -> None:
    _, problems = read(tmp_path, _with_tables(tests, rows), DIALECT)
    assert any(told in problem for problem in problems), problems


def test_a_name_alone_tells_the_test_beside_its_tables(tmp_path: Path) -> None:
    """Files of the form that hold other parts of the tests by their names are no curves of any."""
    whole = DIALECT.replace('"{}_{parameter}.csv"', '"{}.csv"', 1)
    whole = whole.replace('name = "{pairs}"', 'name = "{parameter} {pairs}"')
    whole = whole.replace('verdict = "{}_{parameter}.csv/Result"', "")
    curves = {f"T1{at}.csv": f"MHz,IL 1-2\n1,1.{at}\n100,19.4\n" for at in (7, 8)}
    tables = {name: of for name, of in _with_tables().items() if name not in FILES}
    records, problems = read(tmp_path, curves | tables, whole)
    assert _told(records) == {"A-17": [62.0], "A-18": [61.0], "A-99": [60.0]}
    assert len(problems) == 1


def test_a_table_that_misspells_a_key_takes_no_test_in(tmp_path: Path) -> None:
    """Curves of T18 are left without a row, so T99 may well be theirs."""
    records, problems = read(tmp_path, _with_tables(LIST.replace("T18,A-18\n", "")), DIALECT)
    assert "A-99" not in _told(records)
    assert any("'T99'" in problem for problem in problems)


def test_a_book_holds_them_once_and_says_of_which_files_they_are(tmp_path: Path) -> None:
    (tmp_path / "mine.toml").write_text(DIALECT, encoding="utf-8")
    (tmp_path / "job").mkdir()
    for name, text in _with_tables().items():
        (tmp_path / "job" / name).write_text(text, encoding="utf-8")
    given = ("gather", tmp_path / "book", tmp_path / "job", "--dialect", tmp_path / "mine.toml")
    first = run(*given).output
    assert "3 tests, 3 new" in first
    found = [json.loads(of.read_bytes()) for of in (tmp_path / "book").glob("records/*/*")]
    (bare,) = [of for of in found if of["link"]["label"] == "A-99"]
    assert _lengths(bare) == [60.0]
    (origin,) = bare["origin"]
    assert (origin["name"], origin["joined"][0]["name"]) == ("tests.csv", "rows.csv")
    again = run(*given).output
    assert "0 new" in again


def test_entries_that_tests_may_share_are_told_in_one_line(tmp_path: Path) -> None:
    more = "".join(f"T{at},1-2,5\n" for at in range(70, 75))
    shared = DIALECT.replace('other = "rows.csv"', 'other = "rows.csv"\nshared = true')
    records, problems = read(tmp_path, _with_tables(rows=f"{ROWS}{more}"), shared)
    assert _told(records) == {"A-17": [62.0], "A-18": [61.0], "A-99": [60.0]}
    (told,) = [of for of in problems if of.startswith("rows.csv")]
    assert "'T70', 'T71', 'T72' and 2 more" in told
