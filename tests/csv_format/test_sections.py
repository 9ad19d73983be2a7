"""Several tests in a file, and several tables in a test: small files written by hand."""

from pathlib import Path
from typing import Any

import pytest

from sweepbook.dialect.load import BadDialect, parse
from sweepbook_plugins.csv.layout import layout_of
from tests.reading import axis, called, sweep

from .dialects import CURVES, POINTS, changed
from .reading import read

LAYOUT = 'layout = "curve-per-column"\n'


def several(marks: str) -> str:
    """The dialect of curves, for several tests one after another."""
    return changed(CURVES, LAYOUT, f"{LAYOUT}test = {{ {marks} }}\n")


def sections(text: str, marks: str = "") -> str:
    """The words of the dialect of curves, with sections in place of its one table."""
    head, _, rest = CURVES.partition(LAYOUT)
    test = f"test = {{ {marks} }}\n" if marks else ""
    return f'{head}layout = "sections"\n{test}{text}\n{rest[rest.index("[fields]") :]}'


LAYOUT_OF_SECTIONS = 'layout = "sections"\n'
SKIPPED = 'skip = ["not swept"]\n'
BY_HEADING = """
[[csv.sections]]
heading = "[{parameter} {end}]"
curves = { frequency = "MHz", name = "{pairs}" }
[[csv.sections]]
heading = "[{parameter}]"
curves = { frequency = "MHz", name = "{pairs}" }
"""
ONE = "Link,A\nMHz,IL 1-2\n1,1.9\n2,2.5\n"
TWO = "Link,B\nMHz,IL 1-2,RL 1-2 A\n1,1.8,20\n3,2.4,19\n"


def names_of(document: dict[str, Any]) -> list[str]:
    return [called(entry) for entry in document["results"]["sweeps"]]


@pytest.mark.parametrize(
    ("marks", "text", "locators"),
    [
        ('first_line = "Link,"', ONE + TWO, ["lines 1-4", "lines 5-8"]),
        ('first_line = "Link"', f"{ONE}\n\n{TWO}\n", ["lines 1-4", "lines 7-10"]),
        ('first_line = "* Test"', f"* Test\n{ONE}* Test\n{TWO}", ["lines 1-5", "lines 6-10"]),
        ('last_line = "End"', f"{ONE}End\n{TWO}End\n", ["lines 1-5", "lines 6-10"]),
        ('last_line = "End"', f"{ONE}End of 1,,\n\n{TWO}", ["lines 1-5", "lines 7-10"]),
        ("blank_lines = 1", f"{ONE}\n{TWO}", ["lines 1-4", "lines 6-9"]),
        ("blank_lines = 2", f"{ONE}\n\n\n\n{TWO}\n\n\n", ["lines 1-4", "lines 9-12"]),
        ("blank_lines = 2", f"{ONE},,\n,,\n{TWO}", ["lines 1-4", "lines 7-10"]),
    ],
)
def test_tests_one_after_another(
    marks: str, text: str, locators: list[str], tmp_path: Path
) -> None:
    result = read(tmp_path, text, several(marks))
    assert result.problems == []
    first, second = (record.document for record in result.records)
    assert [record.label for record in result.records] == ["A", "B"]
    assert [document["origin"][0]["locator"] for document in (first, second)] == locators
    assert sweep(first, "insertion_loss 1-2")["value_db"].tolist() == [1.9, 2.5]
    assert names_of(second) == ["insertion_loss 1-2", "return_loss near 1-2"]
    assert axis(second, sweep(second, "return_loss near 1-2")) == [1.0, 3.0]


@pytest.mark.parametrize("marks", ['first_line = "Link"', "blank_lines = 2"])
def test_what_stands_before_the_first_test_counts_for_all(marks: str, tmp_path: Path) -> None:
    text = f"Temperature,21\nSite,Mill\n\n\n{ONE}\n\n{TWO}\nSite,Barn\n"
    result = read(tmp_path, text, several(marks))
    assert result.problems == []
    assert [record.document["test"]["ambient_c"] for record in result.records] == [21.0, 21.0]
    assert [record.document["extra"] for record in result.records] == [
        {"Site": "Mill"},
        {"Site": "Barn", "Site (whole file)": "Mill"},
    ]


def test_what_stands_behind_the_mark_is_the_value_of_a_key(tmp_path: Path) -> None:
    dialect = changed(several('first_line = "Test of"'), '"Link"', '"Test of"')
    text = f"Test of A-17\n{ONE[7:]}Test of A-18\n{TWO[7:]}"
    assert [record.label for record in read(tmp_path, text, dialect).records] == ["A-17", "A-18"]


@pytest.mark.parametrize(
    ("text", "lost"),
    [
        (ONE.replace("1.9", "x") + TWO, "line 3, column 'IL 1-2': 'x' is no number"),
        (ONE.replace("1.9", '"1.9') + TWO, "line 3: a quote"),
        (ONE.replace("1,1.9", "1,1,9") + TWO, "line 3: the line has 3 cells where"),
        (
            ONE.replace("MHz,", "GHz,") + TWO,
            "no line holds the title 'MHz' and another; line 2 has",
        ),
        ("Link,\n" + ONE[7:] + TWO, "there is no label"),
        (ONE.replace("1,1.9\n2,2.5\n", "") + TWO, "line 2: there are titles but no rows below"),
    ],
)
def test_a_bad_test_does_not_end_the_file(text: str, lost: str, tmp_path: Path) -> None:
    result = read(tmp_path, text, several('first_line = "Link"'))
    assert [record.label for record in result.records] == ["B"]
    assert [problem.lost_record for problem in result.problems] == [True]
    assert lost in result.problems[0].message


@pytest.mark.parametrize("verdict", ["PASS", "FAIL"])
def test_titles_without_rows_are_as_they_should_be_where_wires_fail(
    verdict: str, tmp_path: Path
) -> None:
    text = f"Link,A\nWires result,{verdict}\n[IL]\nMHz,1-2\n1,2\n[RL A]\nMHz,1-2\nnot swept\n"
    dialect = changed(sections(BY_HEADING), LAYOUT_OF_SECTIONS, f"{LAYOUT_OF_SECTIONS}{SKIPPED}")
    result = read(tmp_path, text, dialect)
    (record,) = result.records
    assert names_of(record.document) == ["insertion_loss 1-2"]
    assert record.document["extra"] == {"titles without rows": "MHz 1-2"}
    told = "line 7: there are titles but no rows below them"
    notes = record.document.get("resolved", {}).get("notes", [])
    if verdict == "FAIL":
        assert result.problems == []
        assert notes == [f"{told}, as it should be where the wire map is stated to fail"]
    else:
        assert [f"{of.place}: {of.message}" for of in result.problems] == [told]
        assert notes == []


def test_a_first_line_with_a_fault_begins_its_test_all_the_same(tmp_path: Path) -> None:
    text = ONE + TWO.replace("Link,B", 'Link,"B')
    result = read(tmp_path, text, several('first_line = "Link"'))
    assert [record.label for record in result.records] == ["A"]
    assert "line 5: a quote" in result.problems[0].message


def test_lines_that_are_no_test_are_told(tmp_path: Path) -> None:
    result = read(tmp_path, f"{ONE}\n\n{TWO}\n\nTests,2\nBy,Jo\n", several("blank_lines = 2"))
    assert [record.label for record in result.records] == ["A", "B"]
    assert [problem.lost_record for problem in result.problems] == [False]
    assert result.problems[0].place == "lines 13-14"
    assert "'Tests', 'By'" in result.problems[0].message


def test_a_test_without_sweeps_is_a_test(tmp_path: Path) -> None:
    text = f"{ONE}\nLink,C\nResult,FAIL\n\n{TWO}"
    result = read(tmp_path, text, several("blank_lines = 1"))
    assert [record.label for record in result.records] == ["A", "C", "B"]
    assert result.problems == []


def test_no_first_line_at_all(tmp_path: Path) -> None:
    message = read(tmp_path, ONE, several('first_line = "Cable"')).lost
    assert "no line begins with 'Cable', so no test begins; see csv.test.first_line" in message


def test_titles_that_come_again_ask_for_the_key(tmp_path: Path) -> None:
    message = read(tmp_path, ONE + ONE.replace("Link,A\n", ""), CURVES).lost
    assert "line 5: the same titles stood in line 2 of this test already" in message
    assert "add csv.test" in message
    assert "csv.test" in read(tmp_path, ONE + TWO, CURVES).lost


SECTIONED = """Link,A
[IL]
MHz,1-2,3-6
1,1.9,1.8
100,19.4,19.2

[NEXT A]
MHz,1-2/3-6,1-2/4-5
1,80.1,81.2
50,45.5,46.6
[NEXT B]
MHz,1-2/3-6
1,79.1
"""


def test_a_heading_names_the_parameter_and_the_end(tmp_path: Path) -> None:
    document = read(tmp_path, SECTIONED, sections(BY_HEADING)).document
    assert names_of(document) == [
        "insertion_loss 1-2",
        "insertion_loss 3-6",
        "next near 1-2/3-6",
        "next near 1-2/4-5",
        "next far 1-2/3-6",
    ]
    assert sweep(document, "next near 1-2/4-5")["value_db"].tolist() == [81.2, 46.6]
    assert axis(document, sweep(document, "insertion_loss 3-6")) == [1.0, 100.0]
    assert axis(document, sweep(document, "next near 1-2/3-6")) == [1.0, 50.0]
    assert axis(document, sweep(document, "next far 1-2/3-6")) == [1.0]
    assert len(document["results"]["grids"]) == 3


def test_sections_repeat_in_every_test(tmp_path: Path) -> None:
    second = SECTIONED.replace("Link,A", "Link,B").replace("1.9", "2.9")
    result = read(tmp_path, SECTIONED + second, sections(BY_HEADING, 'first_line = "Link"'))
    assert result.problems == []
    values = [
        sweep(record.document, "insertion_loss 1-2")["value_db"].tolist()
        for record in result.records
    ]
    assert values == [[1.9, 19.4], [2.9, 19.4]]


@pytest.mark.parametrize("padded", ["[IL],,", " [IL] ", '"[IL]",""'])
def test_a_heading_with_blanks_around_it(padded: str, tmp_path: Path) -> None:
    text = SECTIONED.replace("[IL]", padded)
    assert len(names_of(read(tmp_path, text, sections(BY_HEADING)).document)) == 5


def test_a_line_of_cells_can_be_a_heading(tmp_path: Path) -> None:
    dialect = sections(BY_HEADING.replace("[{parameter} {end}]", "Block,{parameter},{end}"))
    text = SECTIONED.replace("[NEXT A]", "Block, NEXT ,A,,").replace("[NEXT B]", "Block,NEXT,B")
    assert "next far 1-2/3-6" in names_of(read(tmp_path, text, dialect).document)


def test_headings_within_headings(tmp_path: Path) -> None:
    dialect = sections("""
[[csv.sections]]
heading = "== Side {end} =="
[[csv.sections]]
heading = "- {parameter}"
within = "== Side {end} =="
curves = { frequency = "MHz", name = "{pairs}" }
""")
    table = "- RL\nMHz,1-2\n1,20\n- NEXT\nMHz,1-2/3-6\n1,80\n"
    text = f"Link,A\n== Side A ==\nNote,n\n{table}== Side B ==\n{table}"
    document = read(tmp_path, text, dialect).document
    assert names_of(document) == [
        f"{name} {end} {pairs}"
        for end in ("near", "far")
        for name, pairs in (("return_loss", "1-2"), ("next", "1-2/3-6"))
    ]
    assert document["extra"] == {"== Side A ==/Note": "n"}


def test_several_titles_without_headings(tmp_path: Path) -> None:
    dialect = sections("""
[[csv.sections]]
curves = { frequency = "MHz", name = "{parameter} {pairs}" }
[[csv.sections]]
curves = { frequency = "MHz", name = "{parameter} {pairs} {end}" }
""")
    text = "Link,A\nMHz,IL 1-2,IL 3-6\n1,1.9,1.8\n2,2.9,2.8\nMHz,NEXT 1-2/3-6 A,RL 1-2 B\n3,70,20\n"
    document = read(tmp_path, text, dialect).document
    assert len(names_of(document)) == 4
    assert axis(document, sweep(document, "return_loss far 1-2")) == [3.0]


def test_keys_below_tables(tmp_path: Path) -> None:
    text = f"{SECTIONED}Result,PASS\n\nRemark,wet\n"
    document = read(tmp_path, text, sections(BY_HEADING)).document
    assert document["stated"]["overall"]["verdict"] == "pass"
    assert document["extra"] == {"[NEXT B]/Remark": "wet"}


def test_a_line_right_below_rows_that_is_no_row_is_kept_and_told(tmp_path: Path) -> None:
    result = read(tmp_path, TWO + "Weather,wet\n", CURVES)
    assert result.records[0].document["extra"] == {"Weather": "wet"}
    assert [problem.place for problem in result.problems] == ["line 5"]
    assert "'Weather' is taken for a key" in result.problems[0].message
    assert "line 5: the line has 2 cells" in read(tmp_path, TWO + "4,wet\n", CURVES).lost


def test_a_key_with_a_heading_in_its_template(tmp_path: Path) -> None:
    dialect = changed(
        sections(BY_HEADING),
        '"Margin {parameter}',
        '"[{parameter} {end}]/Margin {pairs}", "X {parameter}',
    )
    dialect = changed(dialect, "worst_margin.margin = ", "worst_margin.margin = [").replace(
        'X {parameter} {pairs} {end}"', 'X {parameter} {pairs} {end}"]'
    )
    text = SECTIONED.replace("[NEXT B]", "\nMargin 1-2/3-6,3.2\n[NEXT B]")
    stated = read(tmp_path, text, dialect).document["stated"]["items"]
    assert [(called(item), item["worst_margin"]["margin_db"]) for item in stated] == [
        ("next near 1-2/3-6", 3.2)
    ]


@pytest.mark.parametrize("heading", ["[TCL A]", "[NEXT C]", "Worst pairs"])
def test_what_stands_below_an_unknown_heading_is_never_taken_for_another_curve(
    heading: str, tmp_path: Path
) -> None:
    text = f"{SECTIONED}{heading}\nMHz,1-2/7-8\n1,33\n2,34\n[RL A]\nMHz,1-2\n1,20\n"
    result = read(tmp_path, text, sections(BY_HEADING))
    document = result.records[0].document
    assert "next far 1-2/7-8" not in names_of(document)
    assert "return_loss near 1-2" in names_of(document)
    assert document["extra"][heading] == "MHz,1-2/7-8\n1,33\n2,34"
    assert [problem.place for problem in result.problems] == ["line 16"]
    assert f"rows below {heading!r}, which is no declared heading" in result.problems[0].message
    near = "'C' is not in words.ends" if heading == "[NEXT C]" else "kept in extra"
    assert near in result.problems[0].message


def test_rows_without_titles_are_never_silent(tmp_path: Path) -> None:
    result = read(tmp_path, "Link,A\nResult,PASS\n1,1.9\n2,2.5\n", sections(BY_HEADING))
    assert "no line holds the title 'MHz' and another" in result.lost
    text = SECTIONED.replace("MHz,1-2/3-6\n1,79", "GHz,1-2/3-6\n1,79")
    result = read(tmp_path, text, sections(BY_HEADING))
    assert "next far 1-2/3-6" not in names_of(result.records[0].document)
    assert [problem.place for problem in result.problems] == ["line 13"]
    assert "line 12 has 'GHz' where 'MHz' is declared" in result.problems[0].message
    assert "if not, it has to be exported again or mended" in result.problems[0].message
    text = SECTIONED.replace("MHz,1-2/3-6\n1,79", "Here,1-2/3-6\n1,79")
    (problem,) = read(tmp_path, text, sections(BY_HEADING)).problems
    assert "without a known line of titles" in problem.message


FIGURES = """
[[csv.sections]]
heading = "[Pairs]"
[[csv.sections.rows.figures]]
name = { Pair = "{pairs}" }
value = "{parameter} {unit}"
verdict = "{parameter} ok"
[[csv.sections]]
heading = "[Margins {end}]"
[[csv.sections.rows.figures]]
name = { Of = "{parameter}", Pairs = "{pairs}" }
worst_margin.margin = "Margin"
worst_margin.frequency = "MHz"
verdict = "Result"
[[csv.sections]]
heading = "[Points]"
columns = ["Of", "Pairs", "Side", "MHz", "dB"]
rows.point.name = { Of = "{parameter}", Pairs = "{pairs}", Side = "{end}" }
rows.point.frequency = "MHz"
rows.point.value = "dB"
[[csv.sections]]
heading = "[Pair {pairs}]"
rows.point = { frequency = "MHz", value = "{parameter} {end}" }
[[csv.sections]]
heading = "[About]"
rows.property = { key = "What", value = "Is" }
"""


def test_tables_of_figures_and_points(tmp_path: Path) -> None:
    text = """Link,A
[Pairs]
Pair,Length m,Delay ns,Length ok
1-2,61.9,298,PASS
3-6,62.3,301,FAIL

[Margins A]
Of,Pairs,Margin,MHz,Result
NEXT,1-2/3-6,3.1,50,PASS
RL,1-2,2.5,20,FAIL
[Points]
RL,1-2,A,1,27.3
RL,1-2,A,2,26.3
NEXT,1-2/3-6,A,1,80.1
[Pair 3-6]
MHz,RL A,RL B
1,25.5,24.5
2,25.25,
[About]
What,Is
Result,PASS
"""
    document = read(tmp_path, text, sections(FIGURES)).document
    scalars = document["results"]["scalars"]
    lengths = {called(of): of["length_m"] for of in scalars if "length_m" in of}
    assert lengths == {"length 1-2": 61.9, "length 3-6": 62.3}
    delays = {called(of): of["delay_ns"] for of in scalars if "delay_ns" in of}
    assert delays == {"propagation_delay 1-2": 298.0, "propagation_delay 3-6": 301.0}
    items = {called(of): of for of in document["stated"]["items"]}
    assert items["length 3-6"]["verdict"] == "fail"
    assert items["next near 1-2/3-6"]["worst_margin"]["frequency_mhz"] == 50.0
    assert items["return_loss near 1-2"]["verdict"] == "fail"
    assert sweep(document, "return_loss near 1-2")["value_db"].tolist() == [27.3, 26.3]
    assert sweep(document, "next near 1-2/3-6")["value_db"].tolist() == [80.1]
    assert sweep(document, "return_loss near 3-6")["value_db"].tolist() == [25.5, 25.25]
    assert sweep(document, "return_loss far 3-6")["value_db"].tolist() == [24.5]
    assert document["stated"]["overall"]["verdict"] == "pass"
    assert "extra" not in document


def test_curves_of_several_tests_by_a_column(tmp_path: Path) -> None:
    dialect = changed(CURVES, "[csv.curves]\n", '[csv.curves]\ntest = ["Link"]\n')
    text = "Date,x\nLink,Limit,MHz,IL 1-2,RL 1-2 A,Note\n"
    text += "A,6A,1,1.9,20,n\nA,6A,2,2.5,21,n\nB,6A,1,1.8,22,m\nB,6A,2,2.4,23,k\n"
    result = read(tmp_path, text, dialect)
    assert [record.label for record in result.records] == ["A", "B"]
    first, second = (record.document for record in result.records)
    assert sweep(first, "insertion_loss 1-2")["value_db"].tolist() == [1.9, 2.5]
    assert sweep(second, "return_loss near 1-2")["value_db"].tolist() == [22.0, 23.0]
    assert second["test"]["limit"] == {"as_stated": "6A"}
    assert first["extra"] == {"Note": "n"}
    assert second["extra"] == {"Note": "m\nk"}
    again = read(tmp_path, text + "A,6A,3,2.9,20,n\n", dialect)
    message = next(problem.message for problem in again.problems if problem.lost_record)
    assert "rows of one test must stand together; sort the file by 'Link'" in message
    assert "csv.curves.test" in message


@pytest.mark.parametrize(
    ("layout", "expected"),
    [
        ("[[csv.sections]]\ncolumns = ['a', 'b']", "csv.sections.0: has neither a heading nor"),
        ("[[csv.sections]]\nheading = '{what}'", "csv.sections.0.heading: '{what}' may hold"),
        ("[[csv.sections]]\nheading = 'a'\nwithin = 'b'", "csv.sections.0.within: 'b' is the"),
        (
            "[[csv.sections]]\nheading = 'a'\ncurves = { frequency = 'f', name = '{pairs}' }",
            "csv.sections.0.curves.name: no template holds {parameter}",
        ),
        (
            "[[csv.sections]]\nrows.figures = [{ value = 'v' }]",
            "csv.sections.0.rows.figures.name: no column holds {parameter}",
        ),
        (
            "[[csv.sections]]\nrows.test = 't'\nrows.figures = [{ value = '{parameter}' }]",
            "csv.sections.0.rows.test: is for files of one table; see csv.test",
        ),
        ("[csv.curves]\nfrequency = 'f'\nname = '{parameter}'", "csv.curves: does not go with"),
        ("test.first = 'x'", "csv.test.first: there is no such key; did you mean 'first_line'?"),
    ],
)
def test_a_dialect_that_cannot_be_used_says_why(layout: str, expected: str) -> None:
    if "csv.sections" not in layout:
        layout += "\n[[csv.sections]]\nheading = 'a'"
    with pytest.raises(BadDialect) as caught:
        layout_of(parse(sections(layout).encode()))
    assert expected in str(caught.value)


def test_marks_and_a_column_do_not_go_together() -> None:
    dialect = changed(POINTS, "[csv.rows]", '[csv.test]\nfirst_line = "x"\n[csv.rows]')
    with pytest.raises(BadDialect, match=r"csv\.test: does not go with csv\.rows\.test"):
        layout_of(parse(dialect.encode()))


def test_a_value_within_the_mark(tmp_path: Path) -> None:
    dialect = changed(several('first_line = "== {} =="'), '"Link"', '"== {} =="')
    text = f"== A-17 ==\n{ONE[7:]}== A-18 ==,,\n{TWO[7:]}"
    assert [record.label for record in read(tmp_path, text, dialect).records] == ["A-17", "A-18"]


def test_columns_and_rows_that_are_no_curves(tmp_path: Path) -> None:
    others = 'other_columns = ["Limit {parameter}"]\nother_rows = ["min", "Min. "]\n'
    dialect = changed(CURVES, "[csv.curves]\n", f"[csv.curves]\n{others}")
    text = "Link,A\nMHz,IL 1-2,Limit IL\n1,1.9,3.0\n2,2.5,4.0\nmin,1.9,3.0\n"
    document = read(tmp_path, text, dialect).document
    assert sweep(document, "insertion_loss 1-2")["value_db"].tolist() == [1.9, 2.5]
    assert document["extra"] == {"Limit IL": "3.0\n4.0", "min": "min 1.9 3.0"}
    assert "'max' is no number in MHz" in read(tmp_path, f"{text}max,2.5,4.0\n", dialect).lost


def test_a_column_that_is_no_curve_fills_no_field_either(tmp_path: Path) -> None:
    dialect = changed(CURVES, "[csv.curves]\n", '[csv.curves]\nother_columns = "Limit"\n')
    text = "Link,A\nLimit,Cat 6A PL\nMHz,IL 1-2,Limit\n1,1.9,3.0\n2,2.5,4.0\n"
    document = read(tmp_path, text, dialect).document
    assert document["test"]["limit"]["as_stated"] == "Cat 6A PL"
    assert document["extra"] == {"Limit": "3.0\n4.0"}


def test_a_key_without_a_value_puts_no_heading_in_doubt(tmp_path: Path) -> None:
    text = SECTIONED.replace("[NEXT A]\n", "[NEXT A]\nOperator,\nSite,Mill\n")
    document = read(tmp_path, text, sections(BY_HEADING)).document
    assert "next near 1-2/4-5" in names_of(document)
    assert document["extra"] == {"[NEXT A]/Operator": "", "[NEXT A]/Site": "Mill"}


def test_rows_without_titles_go_on_after_a_blank_line(tmp_path: Path) -> None:
    rows = "RL,1-2,A,1,27.3\n\nRL,1-2,A,2,26.3\n\nNEXT,1-2/3-6,A,1,80.1\n"
    document = read(tmp_path, f"Link,A\n[Points]\n{rows}", sections(FIGURES)).document
    assert sweep(document, "return_loss near 1-2")["value_db"].tolist() == [27.3, 26.3]
    assert sweep(document, "next near 1-2/3-6")["value_db"].tolist() == [80.1]


def test_keys_with_a_colon_right_below_rows(tmp_path: Path) -> None:
    dialect = changed(CURVES, LAYOUT, f'{LAYOUT}preamble.separator = ":"\n')
    document = read(tmp_path, "Link: A\nMHz,IL 1-2\n1,1.9\nResult: PASS\n", dialect).document
    assert document["stated"]["overall"]["verdict"] == "pass"


def test_a_table_with_a_column_a_pair_and_margins_by_end(tmp_path: Path) -> None:
    dialect = sections("""
[[csv.sections]]
heading = "[Table]"
[[csv.sections.rows.figures]]
name = { Quantity = "{parameter} ({unit})" }
value = "{pairs}"
[[csv.sections]]
heading = "[{parameter} margins]"
[[csv.sections.rows.figures]]
name = { Pair = "{pairs}" }
worst_margin.margin = "Margin {end}"
worst_margin.frequency = "At {end}"
""")
    text = "Link,A\n[Table]\nQuantity,1-2,3-6\nLength (m),61.9,62.3\nDelay (ns),298,301\n"
    text += "[RL margins]\nPair,Margin A,At A,Margin B,At B\n1-2,2.5,20,-0.3,31.25\n"
    document = read(tmp_path, text, dialect).document
    assert [called(of) for of in document["results"]["scalars"]] == [
        "length 1-2",
        "length 3-6",
        "propagation_delay 1-2",
        "propagation_delay 3-6",
    ]
    stated = {called(of): of["worst_margin"] for of in document["stated"]["items"]}
    assert stated["return_loss far 1-2"]["margin_db"] == -0.3
    assert stated["return_loss far 1-2"]["frequency_mhz"] == 31.25
    assert stated["return_loss near 1-2"]["frequency_mhz"] == 20.0


CELLS = """
[[csv.sections]]
heading = "Side,{end}"
[[csv.sections]]
heading = "Measurement,{parameter}"
within = "Side,{end}"
curves = { frequency = "MHz", name = "{pairs}" }
"""


def test_an_unknown_heading_of_two_cells_is_no_key(tmp_path: Path) -> None:
    text = "Link,A\nSide,A,,\nMeasurement,NEXT\nMHz,1-2/3-6,1-2/4-5\n1,60,61\n"
    text += "Measurement,Other,,\nMHz,1-2/7-8\n1,33\nMeasurement,RL\nMHz,1-2\n1,20\n"
    result = read(tmp_path, text, sections(CELLS))
    document = result.records[0].document
    assert names_of(document) == [
        "next near 1-2/3-6",
        "next near 1-2/4-5",
        "return_loss near 1-2",
    ]
    assert [problem.place for problem in result.problems] == ["line 8"]
    assert "'Measurement,Other', which is no declared heading" in result.problems[0].message
    assert "1,33" in document["extra"]["Measurement,Other"]


def test_titles_below_no_known_heading_are_pointed_at(tmp_path: Path) -> None:
    message = read(tmp_path, "Link,A\nMeasurement,Other\nMHz,1-2\n1,2\n", sections(CELLS)).lost
    assert "line 3 holds titles of csv.sections.1, but not below a heading of the form" in message
    assert "see csv.sections.1.heading" in message


def test_lines_padded_with_blank_cells(tmp_path: Path) -> None:
    text = "Link,A,,,\n,,,,\nRL A,,,,\nMHz,1-2,3-6,4-5,7-8\n1,20,21,22,23\nResult,PASS,,,\n"
    text += "NEXT A,,,,\nMHz,1-2/3-6,1-2/4-5,,\n1,60,61,,\nRemark,wet,,,\n"
    dialect = sections(BY_HEADING.replace("[{parameter} {end}]", "{parameter} {end}"))
    result = read(tmp_path, text, dialect)
    document = result.records[0].document
    assert len(names_of(document)) == 6
    assert document["stated"]["overall"]["verdict"] == "pass"
    assert document["extra"] == {"NEXT A/Remark": "wet"}
    assert ["'Remark' is taken for a key" in of.message for of in result.problems] == [True]


def test_what_a_table_leaves_over_is_kept_under_its_heading(tmp_path: Path) -> None:
    text = SECTIONED.replace("1-2,3-6\n1,1.9,1.8\n", "1-2,Bound\n1,1.9,3\n")
    text = text.replace("1-2/3-6\n1,79.1", "1-2/3-6,Bound\n1,79.1,60")
    extra = read(tmp_path, text, sections(BY_HEADING)).records[0].document["extra"]
    assert extra == {"[IL]/Bound": "3\n19.2", "[NEXT B]/Bound": "60"}


def test_curves_without_titles_and_a_line_of_units(tmp_path: Path) -> None:
    dialect = sections("""
[[csv.sections]]
heading = "{parameter} of {end}"
columns = ["MHz", "1-2", "3-6"]
curves = { frequency = "MHz", name = "{pairs}", other_rows = "MHz" }
[[csv.sections]]
curves = { frequency = "Frequency", name = "{parameter} {pairs}", other_rows = "MHz" }
""")
    text = "Link,A\nRL of A\n1,20,21\n2,22,23\n\nRL of B\n1,24,25\n"
    text += "Frequency,IL 1-2,IL 3-6\nMHz,dB,dB\n1,1.9,1.8\n"
    document = read(tmp_path, text, dialect).document
    assert sweep(document, "return_loss near 3-6")["value_db"].tolist() == [21.0, 23.0]
    assert sweep(document, "return_loss far 1-2")["value_db"].tolist() == [24.0]
    assert sweep(document, "insertion_loss 3-6")["value_db"].tolist() == [1.8]
    assert list(document["extra"].values()) == ["MHz dB dB"]


KEYS = "[Head]\nLink,A\nLength 1-2,62.1\n[Room]\nDoor,12\n"


@pytest.mark.parametrize("kind", ["headings", "key-lines"])
def test_key_lines_alone_are_a_test_where_no_table_is_declared(kind: str, tmp_path: Path) -> None:
    dialect = sections('sections = [{ heading = "[Head]" }, { heading = "[Room]" }]')
    if kind == "key-lines":
        head, _, rest = CURVES.partition(LAYOUT)
        preamble = 'preamble.headings = ["[Head]", "[Room]"]'
        dialect = f'{head}layout = "key-lines"\n{preamble}\n{rest[rest.index("[fields]") :]}'
    dialect = changed(dialect, '\nvalue = "', '\nvalue = "[Head]/')
    dialect = changed(dialect, 'link.label = "Link"', 'link.label = "[Head]/Link"')
    found = read(tmp_path, KEYS, dialect)
    assert found.document["link"]["label"] == "A"
    assert found.document["results"]["scalars"][0]["length_m"] == 62.1
    assert found.document["extra"] == {"[Room]/Door": "12"}
    message = read(tmp_path, "\n\n", dialect).lost
    assert "no line holds a key that is known; see fields and figures" in message


NO_CURVES = "Link,A\nDate,2026-03-02 07:30\nResult,FAIL\n"


def test_a_file_without_a_table_is_a_test_that_failed_before_a_sweep_was_taken(
    tmp_path: Path,
) -> None:
    """It says which link it is of and what was found, and nothing in it looks like points."""
    result = read(tmp_path, NO_CURVES, CURVES)
    (record,) = result.records
    assert record.document["stated"]["overall"]["verdict"] == "fail"
    assert "sweeps" not in record.document["results"]
    (told,) = [of.message for of in result.problems if "table" in of.message]
    assert told.startswith("no table of curves is in this file, so this test is read")
    assert "no line holds the title 'MHz' and another" in told


@pytest.mark.parametrize(
    "text",
    [
        NO_CURVES.replace("Link,A\n", ""),
        NO_CURVES.replace("Result,FAIL\n", ""),
        f"{NO_CURVES}Frequency,IL 1-2\n1,1.9\n2,2.5\n",
    ],
    ids=["no label", "no verdict", "rows"],
)
def test_any_other_file_without_a_table_is_lost(text: str, tmp_path: Path) -> None:
    result = read(tmp_path, text, CURVES)
    assert result.records == []
    assert "no line holds the title 'MHz' and another" in result.lost


def test_lines_without_cells_may_be_parted_otherwise(tmp_path: Path) -> None:
    listed = f'{LAYOUT}preamble.separator = [",", ": ", "="]\n'
    text = "Place: Hall 3\nShift=late: 2\nNote: dry, cold\nLink,A: 7\nMHz,IL 1-2\n1,1.9\n"
    (record,) = read(tmp_path, text, changed(CURVES, LAYOUT, listed)).records
    assert record.label == "A: 7"
    assert record.document["extra"] == {"Place": "Hall 3", "Shift=late": "2", "Note: dry": "cold"}
