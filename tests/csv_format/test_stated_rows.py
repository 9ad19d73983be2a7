"""What is stated in rows below a table, a cell for each of its columns."""

from pathlib import Path
from typing import Any

import pytest

from sweepbook.dialect.load import BadDialect
from tests.reading import sweep

from .dialects import CURVES, FIGURES, changed
from .reading import read

STATED = changed(
    changed(CURVES, "[fields]", '[csv.curves.figures]\nverdict = "Verdict"\n'
    'worst_margin.margin = "Margin"\nworst_margin.frequency = "Margin at"\n[fields]'),
    'fail = "FAIL"', 'fail = ["FAIL", "bad"]',
)  # fmt: skip
TABLE = """Link,A
MHz,IL 1-2,RL 1-2 A,RL 1-2 B
1,1.9,30,31
100,19.4,12,14
Verdict,PASS,FAIL,
Margin,1.25,-0.50,2
Margin at,100,100,1
"""


def items(document: dict[str, Any]) -> list[tuple[str, str | None, str | None, float | None]]:
    return [
        (
            of["parameter"],
            of.get("end"),
            of.get("verdict"),
            of.get("worst_margin", {}).get("margin_db"),
        )
        for of in document["stated"]["items"]
    ]


def test_rows_below_a_table_of_curves_state_something_of_each(tmp_path: Path) -> None:
    document = read(tmp_path, TABLE, STATED).document
    assert sweep(document, "return_loss far 1-2")["value_db"].tolist() == [31.0, 14.0]
    assert items(document) == [
        ("insertion_loss", None, "pass", 1.25),
        ("return_loss", "near", "fail", -0.5),
        ("return_loss", "far", None, 2.0),
    ]
    margin = document["stated"]["items"][1]["worst_margin"]
    assert (margin["as_stated"], margin["decimals"]) == ("-0.50", 2)
    assert margin["frequency_mhz"] == 100.0
    assert "extra" not in document


def test_they_may_stand_above_the_points_and_between_them(tmp_path: Path) -> None:
    lines = TABLE.splitlines(keepends=True)
    moved = "".join([*lines[:2], *lines[4:6], lines[2], lines[6], lines[3]])
    document = read(tmp_path, moved, STATED).document
    assert items(document) == items(read(tmp_path, TABLE, STATED).document)


@pytest.mark.parametrize("by_column", [False, True])
def test_a_row_of_verdicts_may_be_called_nothing(by_column: bool, tmp_path: Path) -> None:
    dialect = changed(STATED, 'verdict = "Verdict"', 'verdict = ""')
    content = TABLE.replace("Verdict,", ",")
    if by_column:
        dialect = changed(dialect, "[csv.curves]", '[csv.curves]\ntest = "Link"')
        head, *rows = content.splitlines()[1:]
        content = "\n".join([f"Link,{head}", *(f"A,{row}" for row in rows), ""])
    document = read(tmp_path, content, dialect).document
    assert items(document) == items(read(tmp_path, TABLE, STATED).document)


def test_each_of_several_tests_has_its_own(tmp_path: Path) -> None:
    dialect = changed(STATED, "[csv.curves]", '[csv.curves]\ntest = "Link"')
    points = "".join(f"A,{mhz},{mhz / 10:.1f}\n" for mhz in range(1, 30))
    content = f"Link,MHz,IL 1-2\n{points}A,Verdict,PASS\nB,1,2.0\nB,Verdict,bad\n"
    documents = [of.document for of in read(tmp_path, content, dialect).records]
    assert [of["stated"]["items"][0]["verdict"] for of in documents] == ["pass", "fail"]
    assert len(sweep(documents[0], "insertion_loss 1-2")["value_db"]) == 29
    assert [of.get("extra") for of in documents] == [None, None]


def test_what_is_stated_of_an_unknown_column_is_kept(tmp_path: Path) -> None:
    content = TABLE.replace("RL 1-2 B", "Hum").replace("FAIL,", "FAIL,loud")
    result = read(tmp_path, content, STATED)
    extra = result.records[0].document["extra"]
    assert (extra["Verdict/Hum"], extra["Margin/Hum"]) == ("loud", "2")


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("PASS", "fine", ["line 5, column 'IL 1-2'", "'fine' is no declared verdict"]),
        ("1.25", "much", ["line 6, column 'IL 1-2'", "'much'"]),
        ("Margin at", "Verdict", ["the verdict of 'insertion_loss 1-2' comes a second time"]),
    ],
)
def test_what_cannot_be_read_there_loses_the_test(
    old: str, new: str, told: list[str], tmp_path: Path
) -> None:
    message = read(tmp_path, TABLE.replace(old, new), STATED).lost
    assert all(text in message for text in told), message


@pytest.mark.parametrize(
    ("figures", "told"),
    [
        ('verdict = "V"\nworst_value.value = "V"', "csv.curves.figures: 'V' stands for two"),
        ('verdict = "1st"', "csv.curves.figures: '1st' begins as a frequency does"),
        ('value = "V"', "csv.curves.figures"),
    ],
)
def test_rows_that_cannot_be_told_apart_are_refused(
    figures: str, told: str, tmp_path: Path
) -> None:
    dialect = changed(CURVES, "[fields]", f"[csv.curves.figures]\n{figures}\n[fields]")
    with pytest.raises(BadDialect) as raised:
        read(tmp_path, "", dialect)
    assert any(told in of for of in raised.value.problems), raised.value.problems


BELOW = changed(
    changed(FIGURES, "[[csv.sections.rows.figures]]", '[csv.sections.rows]\nkind = "Pair"\n'
    'other_kinds = "Limit"\n[[csv.sections.rows.figures]]\nkind = ["1-2", "3-6"]'),
    '[fields]',
    '[[csv.sections.rows.figures]]\nkind = "Result"\nverdict = "{parameter} ({unit})"\n[fields]',
) + '[words.verdicts]\npass = "ok"\nfail = "bad"\n'  # fmt: skip


def test_a_row_below_a_table_of_figures_is_a_verdict_of_each_column(tmp_path: Path) -> None:
    content = "Link;A\n[Figures]\nPair;Length (m);Loop (ohm)\n1-2;62.1;9.3\n3-6;62.4;9.4\n"
    document = read(tmp_path, f"{content}Limit;100;25\nResult;ok;bad\n", BELOW).document
    found = [(of["parameter"], of["pairs"]) for of in document["results"]["scalars"]]
    assert found == [
        ("length", ["1-2"]),
        ("dc_loop_resistance", ["1-2"]),
        ("length", ["3-6"]),
        ("dc_loop_resistance", ["3-6"]),
    ]
    assert [(of["parameter"], of["verdict"]) for of in document["stated"]["items"]] == [
        ("length", "pass"),
        ("dc_loop_resistance", "fail"),
    ]
    assert document["extra"] == {"Limit": "100 25"}


def test_what_stands_in_such_rows_under_other_frequencies_is_kept(tmp_path: Path) -> None:
    content = "Link,A\nMHz,IL 1-2,MHz,IL 3-6\n1,1.9,1,1.8\nVerdict,PASS,Verdict,PASS\n"
    content += "Margin,1.2,at worst,1.4\n"
    document = read(tmp_path, content, STATED).document
    assert len(document["stated"]["items"]) == 2
    assert document["extra"] == {"Margin/MHz": "at worst"}
