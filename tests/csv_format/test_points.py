"""One row a point: small files written by hand, several tests a file."""

from pathlib import Path

import pytest

from tests.reading import axis, sweep

from .dialects import POINTS, changed
from .reading import read

HEAD = "Site;Mill\nTest;What;Pair;End;MHz;dB;Text\n"
ONE = "1;Link;;;;;007\n1;IL;1-2;;1;1.9;\n1;IL;1-2;;2;2.5;\n"
TWO = "2;Link;;;;;008\n2;IL;3-6;;1;1.8;\n"


def test_two_tests(tmp_path: Path) -> None:
    result = read(tmp_path, HEAD + ONE + TWO, POINTS)
    assert result.problems == []
    first, second = (record.document for record in result.records)
    assert sweep(first, "insertion_loss 1-2")["value_db"].tolist() == [1.9, 2.5]
    assert axis(first, sweep(first, "insertion_loss 1-2")) == [1.0, 2.0]
    assert sweep(second, "insertion_loss 3-6")["value_db"].tolist() == [1.8]
    assert [record.label for record in result.records] == ["007", "008"]
    locators = [record.document["origin"][0]["locator"] for record in result.records]
    assert locators == ["Test 1, lines 3-5", "Test 2, lines 6-7"]


def test_the_preamble_counts_for_every_test(tmp_path: Path) -> None:
    result = read(tmp_path, HEAD + ONE + TWO, POINTS)
    assert [record.document["extra"] for record in result.records] == [{"Site": "Mill"}] * 2


def test_curves_may_take_turns_row_by_row(tmp_path: Path) -> None:
    rows = "1;Link;;;;;A\n1;IL;1-2;;1;1.9;\n1;IL;3-6;;1;1.8;\n1;IL;1-2;;2;2.5;\n1;IL;3-6;;2;2.4;\n"
    document = read(tmp_path, HEAD + rows, POINTS).document
    assert sweep(document, "insertion_loss 1-2")["value_db"].tolist() == [1.9, 2.5]
    assert sweep(document, "insertion_loss 3-6")["value_db"].tolist() == [1.8, 2.4]


def test_a_figure_has_no_frequency_and_a_property_no_name(tmp_path: Path) -> None:
    rows = f"{ONE}1;Length;1-2;;;62.1;\n1;Result;;;;;PASS\n1;Humidity;;;;;45\n"
    document = read(tmp_path, HEAD + rows, POINTS).document
    assert document["results"]["scalars"][0]["length_m"] == 62.1
    assert document["stated"]["overall"] == {"verdict": "pass", "as_stated": "PASS"}
    assert document["extra"] == {"Site": "Mill", "Humidity": "45"}


def test_a_word_for_missing_in_the_frequency_is_no_frequency(tmp_path: Path) -> None:
    document = read(tmp_path, HEAD + ONE + "1;Length;1-2;;--;62.1;\n", POINTS).document
    assert document["results"]["scalars"][0]["length_m"] == 62.1


def test_what_stands_beside_a_figure_is_kept(tmp_path: Path) -> None:
    document = read(tmp_path, HEAD + ONE + "1;Length;1-2;;;62.1;short\n", POINTS).document
    assert document["extra"]["Length 1-2/Text"] == "short"


def test_an_unknown_curve_is_kept_and_told_once(tmp_path: Path) -> None:
    rows = f"{ONE}1;TCL;1-2;A;1;40;\n1;TCL;1-2;A;2;39;\n"
    result = read(tmp_path, HEAD + rows, POINTS)
    assert [problem.lost_record for problem in result.problems] == [False]
    assert "'TCL 1-2 A'" in result.problems[0].message
    assert result.records[0].document["extra"]["TCL 1-2 A"] == "1 40\n2 39"


def test_a_name_that_many_tests_have_and_nobody_knows_is_told_of_the_first(tmp_path: Path) -> None:
    rows = f"{ONE}1;TCL;1-2;A;1;40;\n{TWO}2;TCL;1-2;A;1;39;\n"
    rows += "3;Link;;;;;009\n3;IL;1-2;;1;1.7;\n3;TCTL;1-2;A;1;39;\n"
    result = read(tmp_path, HEAD + rows, POINTS)
    assert [problem.place for problem in result.problems] == ["line 6", "line 12"]
    assert "'TCTL 1-2 A'" in result.problems[1].message
    kept = [record.document["extra"] for record in result.records]
    assert [extra.get("TCL 1-2 A") for extra in kept] == ["1 40", "1 39", None]


def test_a_test_that_comes_back_is_told_and_makes_no_second_record(tmp_path: Path) -> None:
    result = read(tmp_path, HEAD + ONE + TWO + "1;IL;1-2;;3;3.0;\n" + "2;IL;3-6;;2;2.0;\n", POINTS)
    assert [record.label for record in result.records] == ["007", "008"]
    first, second = result.problems
    assert "'1' stood in lines 3-5 already" in first.message
    assert "csv.rows.test" in first.message
    assert (first.place, second.place) == ("Test 1, lines 8-8", "Test 2, lines 9-9")
    assert first.lost_record


def test_columns_without_a_role(tmp_path: Path) -> None:
    titles = "Link;Limit;What;Pair;End;MHz;dB;Limit line\n"
    rows = "A;6A;IL;1-2;;1;1.9;3.0\nA;6A;IL;1-2;;2;2.5;3.5\nB;6A;IL;1-2;;1;1.7;3.0\n"
    dialect = changed(POINTS, 'test = "Test"', 'test = ["Link"]')
    dialect = changed(dialect, '[csv.rows.property]\nkey = "What"\nvalue = "Text"\n', "")
    dialect = changed(dialect, "[fields]", '[fields]\ntest.limit = "Limit"')
    result = read(tmp_path, titles + rows, dialect)
    assert result.problems == []
    first, second = (record.document for record in result.records)
    assert first["test"]["limit"] == {"as_stated": "6A"}
    assert first["extra"] == {"Limit line": "3.0\n3.5"}
    assert second["extra"] == {"Limit line": "3.0"}
    assert [record.label for record in result.records] == ["A", "B"]


def test_columns_that_repeat_in_rows_without_points(tmp_path: Path) -> None:
    titles = "Link;Test;What;Pair;End;MHz;dB;Text;Note\n"
    rows = "A;1;Length;1-2;;;62.1;;\n;1;Length;3-6;;;63.1;;n\nB;2;Length;1-2;;;50.0;;\n"
    result = read(tmp_path, titles + rows, POINTS)
    assert result.problems == []
    assert [record.label for record in result.records] == ["A", "B"]
    assert result.records[0].document["extra"] == {"Note": "n"}


def test_a_column_of_figures_that_is_filled_beside_points(tmp_path: Path) -> None:
    rows = "1;Link;;;;;A\n1;IL;1-2;;1;1.9;x\n1;IL;1-2;;2;2.5;y\n1;IL;1-2;;3;2.5;y\n"
    document = read(tmp_path, HEAD + rows, POINTS).document
    assert document["extra"]["Text"] == "x\ny\ny"


def test_a_field_that_changes_within_a_test(tmp_path: Path) -> None:
    titles = "Test;Link;What;Pair;End;MHz;dB;Text\n"
    rows = "1;A;IL;1-2;;1;1.9;\n1;B;IL;1-2;;2;2.5;\n"
    message = read(tmp_path, titles + rows, POINTS).lost
    assert "line 3, column 'Link': 'A' becomes 'B' within one test" in message
    assert "csv.rows.test" in message


def test_a_file_with_one_test_needs_no_key(tmp_path: Path) -> None:
    dialect = changed(POINTS, 'test = "Test"\n', "")
    rows = "What;Pair;End;MHz;dB;Text\nLink;;;;;A\nIL;1-2;;1;1.9;\n"
    assert read(tmp_path, rows, dialect).document["origin"][0]["locator"] == "lines 1-3"


def test_a_file_without_titles(tmp_path: Path) -> None:
    columns = 'columns = ["Test", "What", "Pair", "End", "MHz", "dB", "Text"]'
    dialect = changed(POINTS, 'delimiter = ";"', f'delimiter = ";"\n{columns}')
    result = read(tmp_path, "Site;Mill\n" + ONE + TWO, dialect)
    assert [record.label for record in result.records] == ["007", "008"]
    assert result.records[0].document["extra"] == {"Site": "Mill"}


def test_kinds_of_rows_by_a_column(tmp_path: Path) -> None:
    dialect = changed(POINTS, 'test = "Test"', 'test = "Test"\nkind = "Row"')
    dialect = changed(dialect, "[csv.rows.point]", '[csv.rows.point]\nkind = ["p", "q"]')
    dialect = changed(dialect, "[[csv.rows.figures]]", '[[csv.rows.figures]]\nkind = "f"')
    dialect = changed(dialect, "[csv.rows.property]", '[csv.rows.property]\nkind = "i"')
    titles = "Row;Test;What;Pair;End;MHz;dB;Text\n"
    rows = "i;1;Link;;;;;A\np;1;IL;1-2;;1;1.9;\nq;1;IL;1-2;;2;2.5;\nf;1;Length;1-2;;;62.1;\n"
    document = read(tmp_path, titles + rows, dialect).document
    assert sweep(document, "insertion_loss 1-2")["value_db"].tolist() == [1.9, 2.5]
    assert document["results"]["scalars"][0]["length_m"] == 62.1
    result = read(tmp_path, titles + rows + "z;1;IL;1-2;;3;3.0;\n", dialect)
    assert "nothing is known by the name" in result.problems[0].message


def test_the_kind_of_a_property_may_be_its_key(tmp_path: Path) -> None:
    """One column says of a row what kind it is and, of a property, which one; a list of wires is
    found by its name, and the word for an open wire may stand alone."""
    dialect = changed(POINTS, 'test = "Test"', 'test = "Test"\nkind = "What"')
    for table, kind in (("[csv.rows.point]", "IL"), ("[[csv.rows.figures]]", "Length")):
        dialect = changed(dialect, table, f'{table}\nkind = "{kind}"')
    own = '[csv.rows.property]\nkind = ["Link", "Pins", "Note"]'
    dialect = changed(dialect, "[csv.rows.property]", own)
    dialect = changed(dialect, "[fields]", '[fields]\nresults.wire_map.pins = "Pins"')
    dialect += '[wire_map]\nopen = "x"\n'
    result = read(tmp_path, f"{HEAD}{ONE}1;Pins;;;;;1-1 2-x\n1;Note;;;;;wet\n", dialect)
    assert result.problems == []
    assert result.document["link"]["label"] == "007"
    assert result.document["results"]["wire_map"]["pins"] == [["1", "1"], ["2", None]]
    assert result.document["extra"] == {"Site": "Mill", "Note": "wet"}


def test_a_property_twice(tmp_path: Path) -> None:
    same = read(tmp_path, HEAD + ONE + "1;Link;;;;;007\n", POINTS)
    assert same.problems == []
    other = read(tmp_path, HEAD + ONE + "1;Link;;;;;009\n", POINTS)
    assert "the key 'Link' comes a second time ('007', then '009')" in other.lost
    unknown = read(tmp_path, HEAD + ONE + "1;Note;;;;;a\n1;Note;;;;;b\n", POINTS)
    assert [problem.lost_record for problem in unknown.problems] == [False]
    assert unknown.records[0].document["extra"]["Note"] == "a\nb"
    site = read(tmp_path, HEAD + ONE + "1;Site;;;;;Barn\n", POINTS)
    assert site.document["extra"] == {"Site": "Barn", "Site (whole file)": "Mill"}


@pytest.mark.parametrize("size", [1 << 10, 1 << 18])
def test_the_size_of_blocks_changes_nothing(
    size: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    rows = "".join(f"1;IL;1-2;;{at};{at / 8:.3f};\n" for at in range(1, 400))
    text = HEAD + "1;Link;;;;;007\n" + rows + TWO
    whole = read(tmp_path, text, POINTS).records
    monkeypatch.setattr("sweepbook_plugins.csv.lines.BLOCK_CHARACTERS", size)
    assert [record.record_id for record in read(tmp_path, text, POINTS).records] == [
        record.record_id for record in whole
    ]
    assert len(sweep(whole[0].document, "insertion_loss 1-2")["value_db"]) == 399


TWO_FORMS = """[[csv.rows.figures]]
name = { What = "{parameter}", Pair = "{pairs}", End = "{end}" }
verdict = "Text"
[[csv.rows.figures]]
name = { What = "{parameter}", Pair = "{pairs}", End = "{end}" }
worst_margin.margin = "dB"
worst_margin.frequency = "MHz"
"""


def test_two_forms_of_figures_with_one_name_both_find_theirs(tmp_path: Path) -> None:
    dialect = changed(POINTS, "[csv.rows.property]", f"{TWO_FORMS}[csv.rows.property]")
    before = POINTS[POINTS.index("[[csv.rows.figures]]") : POINTS.index("[csv.rows.property]")]
    dialect = changed(dialect, before, "")
    rows = f"{ONE}1;NEXT;1-2/3-6;A;--;3.1;PASS\n1;NEXT;1-2/4-5;A;;;FAIL\n"
    dialect = changed(dialect, 'pass = "PASS"', 'pass = "PASS"\nfail = "FAIL"')
    items = read(tmp_path, HEAD + rows, dialect).document["stated"]["items"]
    assert [item["verdict"] for item in items] == ["pass", "fail"]
    assert items[0]["worst_margin"]["margin_db"] == 3.1
    assert "worst_margin" not in items[1]


def test_a_cell_that_two_forms_declare_is_of_the_first(tmp_path: Path) -> None:
    second = (
        '[[csv.rows.figures]]\nname = { What = "{parameter}", Pair = "{pairs}", End = "{end}" }\n'
        'worst_value.value = "dB"\n'
    )
    dialect = changed(POINTS, "[csv.rows.property]", f"{second}[csv.rows.property]")
    document = read(tmp_path, f"{HEAD}{ONE}1;Length;1-2;;;62.1;\n", dialect).document
    assert document["results"]["scalars"][0]["length_m"] == 62.1
    assert "stated" not in document


def test_a_point_of_a_misspelt_end_is_no_single_figure(tmp_path: Path) -> None:
    """By What and Pair alone the row would be a value in dB, and its frequency left over."""
    rows = "".join(f"1;IL;1-2;{'Q' if at == 4 else ''};{at};{at}.5;\n" for at in range(3, 6))
    result = read(tmp_path, f"{HEAD}{ONE}{rows}", POINTS)
    (record,) = result.records
    assert record.document["extra"]["IL 1-2 Q"] == "4 4.5"
    assert "scalars" not in record.document["results"]
    assert ["by the name 'IL 1-2 Q'" in of.message for of in result.problems] == [True]


@pytest.mark.parametrize("word", ["--", ""])
def test_a_point_without_a_frequency_is_no_single_figure(word: str, tmp_path: Path) -> None:
    """Before its curve or behind it: what it says is kept, and told once."""
    lost = f"1;IL;1-2;;{word};9.5;\n"
    rows = f"1;Link;;;;;007\n{lost}1;IL;1-2;;1;1.9;\n1;IL;1-2;;3;3.5;\n{lost}"
    result = read(tmp_path, HEAD + rows + "1;IL;3-6;;--;2.2;\n", POINTS)
    (record,) = result.records
    assert sweep(record.document, "insertion_loss 1-2")["value_db"].tolist() == [1.9, 3.5]
    assert record.document["extra"]["IL 1-2"] == "9.5\n9.5"
    (scalar,) = record.document["results"]["scalars"]  # of this pair there is no curve
    assert (scalar["pairs"], scalar["value_db"]) == (["3-6"], 2.2)
    (problem,) = result.problems
    assert (problem.place, problem.lost_record) == ("line 4", False)
    assert "no point of 'insertion_loss 1-2'" in problem.message
    assert "(and 1 row more)" in problem.message
