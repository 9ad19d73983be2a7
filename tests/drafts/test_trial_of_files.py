"""A trial shows the first test with curves, and tells of all tests what one of them cannot."""

import json
from pathlib import Path

from tests.csv_format.dialects import CURVES
from tests.program import run

FAILED = "Link,A\nLimit,house rule\nResult,FAIL\n"
SWEPT = "Link,B\nLimit,hall rule\nResult,PASS\nMHz,IL 1-2\n1,1.9\n2,2.7\n"
DIALECT = CURVES.replace("[csv.curves]", 'test.first_line = "Link"\n[csv.curves]')


def tried(folder: Path, content: str, *options: str, dialect: str = DIALECT) -> str:
    (folder / "d.toml").write_text(dialect, encoding="utf-8")
    (folder / "e.csv").write_text(content, encoding="utf-8")
    return " ".join(
        run("dialect", "try", folder / "d.toml", folder / "e.csv", *options).stdout.split()
    )


def test_the_first_test_with_curves_is_shown_and_the_others_counted(tmp_path: Path) -> None:
    said = tried(tmp_path, FAILED + SWEPT)
    assert "The first test with curves that" in said
    assert "1 test without any before it label B " in said
    assert "The first test that" in tried(tmp_path, SWEPT + FAILED)
    alone = tried(tmp_path, FAILED)
    assert "The first test that" in alone
    assert "label A " in alone


def test_as_many_tests_as_asked_for_come_in_the_order_of_the_file(tmp_path: Path) -> None:
    parts = [FAILED, SWEPT, FAILED.replace("k,A", "k,C"), SWEPT.replace("k,B", "k,D")]
    shown = []
    for count in "1234":
        document = json.loads(tried(tmp_path, "".join(parts), "--tests", count, "--json"))
        shown.append("".join(one["label"] for one in document["tests"]))
        assert document["tests_read"] == 4
    assert shown == ["B", "BD", "ABD", "ABCD"]


def test_names_of_limits_are_told_of_all_tests(tmp_path: Path) -> None:
    said = tried(tmp_path, SWEPT + FAILED)
    assert 'add "PATH" = "hall rule"' in said
    assert 'add "PATH" = "house rule"' in said
    assert "house rule" not in said.partition("Next changes")[0]


def test_a_key_found_nothing_only_where_no_test_has_it(tmp_path: Path) -> None:
    of_one = tried(tmp_path, FAILED)
    assert "found nothing in this test: d.toml, line" in of_one
    assert "words.parameters.insertion_loss" in of_one
    of_all = tried(tmp_path, FAILED + SWEPT)
    assert "found nothing in any of the 2 tests read" in of_all
    assert "words.parameters.insertion_loss" not in of_all


def test_what_tests_say_by_other_words_is_told_once(tmp_path: Path) -> None:
    dialect = DIALECT.replace("{parameter} {pairs} {end}", "{parameter} {pairs}")
    swept = SWEPT.replace("\nMHz", "\nMargin IL 1-2,3.1\nSide IL 1-2,A\nMHz")
    other = swept.replace("1-2,A", "1-2,B").replace("k,B", "k,C")
    said = tried(tmp_path, swept + other, "--tests", "2", dialect=dialect)
    assert said.count("the end of the worst margin of insertion loss: add worst_margin.end") == 1


def test_a_label_that_tests_share_is_doubted_where_another_key_tells_them_apart(
    tmp_path: Path,
) -> None:
    def of(names: str, key: str = "Outlet") -> str:
        tests = (
            SWEPT.replace("B\n", f"{name}\n{key},TO-{at}\nRun,{at}\nDay,4\n", 1)
            for at, name in enumerate(names)
        )
        return tried(tmp_path, "".join(tests))

    said = of("XXYX")
    assert "The label 'X' is that of 3 of 4 tests, while 'Outlet' is another in each" in said
    assert "('TO-0', 'TO-1'); if that is the label, write link.label = \"Outlet\"" in said
    at = DIALECT[: DIALECT.index("link.label")].count("\n") + 1
    assert f"d.toml, line {at}, fields.link.label: The label" in said
    for names in ("XX", "XXYZ", "WXYZ"):
        assert "is another in each" not in of(names)


def test_what_waits_for_a_label_is_shown_meanwhile(tmp_path: Path) -> None:
    """And which key is another in each test; no other command reads a test so."""
    dialect = DIALECT.replace('link.label = "Link"', 'link.label = "TO-BE-SETTLED"')
    assert dialect != DIALECT
    said = tried(
        tmp_path, "".join(SWEPT.replace("k,B", f"k,{of}") for of in "BCD"), dialect=dialect
    )
    assert "label TO-BE-SETTLED" in said
    assert "insertion_loss 1 - 1 to 2 1.9 to 2.7 dB" in said
    assert "Put a word in place of 'TO-BE-SETTLED' behind `link.label =`" in said
    assert "'Link' is another in each ('B', 'C')" in said
    assert 'if that is the label, write link.label = "Link"' in said
    shown = run("show", "--dialect", tmp_path / "d.toml", tmp_path / "e.csv")
    assert shown.exit_code == 3
    assert "there is no label: no text under 'TO-BE-SETTLED'" in " ".join(shown.output.split())
