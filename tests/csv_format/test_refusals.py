"""What a file can have wrong: where the message points, what it says, and what is still read."""

from pathlib import Path

import pytest

from tests.reading import sweep

from .dialects import CURVES, POINTS, changed
from .reading import read

HEAD = "Link,A-17\n"
TABLE = "MHz,IL 1-2,NEXT 1-2/3-6 A\n1,1.90,80.0\n2,2.50,75.0\n100,19.4,41.0\n"


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        ("2,2.50,", "2,2.5O,", "line 4, column 'IL 1-2': '2.5O' is no number in dB"),
        ("2,2.50,", "2,1_0,", "line 4, column 'IL 1-2': '1_0' is no number"),
        ("2,2.50,", "2,nan,", "'nan' is no number"),
        ("2,2.50,", "2,inf,", "'inf' is no number"),
        ("2,2.50,", "2,,", "the cell is empty where a number was expected"),
        ("2,2.50,", "2,-,", "numbers.missing"),
        ("2,2.50,", '2,"2,50",', "'2,50' is no number in dB with the decimal mark '.'"),
        ("2,2.50,", "2,2,50,", "line 4: the line has 4 cells where the titles have 3"),
        ("2,2.50,75.0", "2,2.50", "line 4: the line has 2 cells where the titles have 3"),
        ("2,2.50", "two,2.50", "line 4, column 'MHz': 'two' is no number in MHz"),
        ("2,2.50", "--,2.50", "line 4, column 'MHz': '--' stands where a frequency"),
        ("2,2.50", "0,2.50", "line 4, column 'MHz': a frequency is above 0"),
        ("2,2.50", "-2,2.50", "line 4, column 'MHz': a frequency is above 0"),
        ("100,19.4", "100000,19.4", "the highest frequency would be 100000 MHz"),
        ("100,19.4", "0.5,19.4", "highest frequency would be 2"),
        ("IL 1-2", "NEXT 1-2/3-6 A", "the curve 'next 1-2/3-6 near' comes a second time"),
        ("NEXT 1-2/3-6 A", "NEXT 1-2/3-6", "'next 1-2/3-6' names no end"),
        ("NEXT 1-2/3-6 A", "Length 1-2", "length is a single figure, but has a frequency here"),
        ("1.90,80.0\n2,2.50", "-1.90,80.0\n2,-2.50", "add it to signs.negative"),
        ("100,19.4", "100,1940", "would reach 1940 dB"),
        ("2,2.50,", '2,"2.50,', 'line 4: a quote (") is opened and not closed on this line'),
        ("2,2.50,", '2,"2.50"x,', "line 4: the line cannot be split into cells"),
        ("2,2.50,", "2,2.50\0,", "line 4: a zero byte, as of UTF-16; see csv.encoding"),
    ],
)
def test_a_test_that_is_lost_says_why(old: str, new: str, expected: str, tmp_path: Path) -> None:
    assert old in TABLE
    table = TABLE.replace(old, new, 1)
    if expected.startswith("highest"):
        table = table.replace("\n1,", "\n0.1,").replace("\n2,", "\n0.2,")
        expected = "highest frequency would be 0.5 MHz"
    message = read(tmp_path, HEAD + table, CURVES).lost
    assert expected in message
    assert "Dialect: small-curves." in message


@pytest.mark.parametrize(
    ("head", "expected"),
    [
        ("", "there is no label: no text under 'Link'; see fields.link.label"),
        ("Link,\n", "there is no label"),
        ("Link,A\nLink,B\n", "line 2: the key 'Link' comes a second time ('A', then 'B')"),
        ("Link,A\nResult,GOOD\n", "line 2: 'GOOD' is no declared verdict (declared are 'PASS', "),
        ("Link,A\nLength 1-2,6o.1\n", "line 2: '6o.1' is no number in m"),
        ("Link,A\nNEXT result,GOOD\n", "add it to words.verdicts"),
        ("Link,A\nMargin NEXT 1-2/3-6 A,3.2 ns\n", "'3.2 ns' is no number in dB"),
        ('Link,"A\n', "line 1: a quote"),
    ],
)
def test_a_preamble_that_loses_the_test(head: str, expected: str, tmp_path: Path) -> None:
    assert expected in read(tmp_path, head + TABLE, CURVES).lost


@pytest.mark.parametrize(
    ("line", "expected", "kept"),
    [
        ("Temperature,warm", "'warm' is no number in C", ("Temperature", "warm")),
        ("Temperature,>30", "is a bound where a number was expected", ("Temperature", ">30")),
        ("Reason,because", "add it to words.purposes", ("Reason", "because")),
        ("Screen,perhaps", "add it to words.screens", ("Screen", "perhaps")),
        ("Calibrated,soon", "dates.forms", ("Calibrated", "soon")),
        ("Date,yesterday", "'yesterday' is no date", None),
        ("Set-up,both", "add it to words.configurations", None),
        ("Wires,good", "the wire map 'good' is kept as stated", None),
        ("Wires,1-1 2-", "wire_map.between_ends", None),
    ],
)
def test_a_text_about_the_test_that_does_not_fit_loses_nothing(
    line: str, expected: str, kept: tuple[str, str] | None, tmp_path: Path
) -> None:
    result = read(tmp_path, f"{HEAD}{line}\n{TABLE}", CURVES)
    assert [problem.lost_record for problem in result.problems] == [False]
    assert result.problems[0].place == "line 2"
    assert expected in result.problems[0].message
    document = result.records[0].document
    assert document.get("extra", {}) == (dict([kept]) if kept else {})


def test_texts_that_do_not_fit_but_stay_as_stated(tmp_path: Path) -> None:
    head = f"{HEAD}Date,yesterday\nSet-up,both\nWires,good\nResult,not judged\n"
    document = read(tmp_path, head + TABLE, CURVES).records[0].document
    assert document["test"]["started"] == {"as_stated": "yesterday"}
    assert document["test"]["configuration"] == {"as_stated": "both"}
    assert document["results"]["wire_map"] == {"as_stated": "good"}
    assert "stated" not in document
    assert document["extra"] == {"Result": "not judged"}


@pytest.mark.parametrize(
    ("rows", "expected"),
    [
        ("1,1.9,80\n2,2.5,75\n2,2.6,74\n", "line 5, column 'MHz'@the frequency repeats at 2"),
        ("2,1.9,80\n1,2.5,75\n3,2.6,74\n", "line 4, column 'MHz'@the frequency falls at 1"),
        ("3,1.9,80\n2,2.5,75\n1,2.6,74\n", "line 4, column 'MHz'@falls at 2, and 1 time more"),
    ],
)
def test_odd_axes_are_kept_and_told(rows: str, expected: str, tmp_path: Path) -> None:
    result = read(tmp_path, f"{HEAD}MHz,IL 1-2,NEXT 1-2/3-6 A\n{rows}", CURVES)
    place, _, message = expected.partition("@")
    assert [problem.lost_record for problem in result.problems] == [False]
    assert result.problems[0].place == place
    assert message in result.problems[0].message
    curve = sweep(result.records[0].document, "insertion_loss 1-2")
    assert curve["value_db"].tolist() == [1.9, 2.5, 2.6]


def test_many_faults_of_one_test_make_one_problem(tmp_path: Path) -> None:
    titles = ",".join(f"NEXT {pairs} A" for pairs in ("1-2/3-6", "1-2/4-5", "1-2/7-8", "3-6/4-5"))
    message = read(tmp_path, f"{HEAD}MHz,{titles}\n1,a,b,c,d\n", CURVES).lost
    assert message.count("is no number") == 3
    assert "and 1 more fault in this test" in message


def test_a_sign_declared_for_a_parameter_that_is_positive(tmp_path: Path) -> None:
    dialect = changed(CURVES, "[numbers]", '[signs]\nnegative = ["next"]\n[numbers]')
    assert "for next, take it out of signs.negative" in read(tmp_path, HEAD + TABLE, dialect).lost


def test_a_delay_in_the_wrong_unit(tmp_path: Path) -> None:
    table = "MHz,Delay 1-2\n1,0.312\n10,0.310\n"
    assert "units.delay" in read(tmp_path, HEAD + table, CURVES).lost


def test_a_few_losses_below_zero_are_noise_and_no_wrong_sign(tmp_path: Path) -> None:
    table = "MHz,IL 1-2\n1,-0.01\n10,0.02\n100,0.11\n"
    document = read(tmp_path, HEAD + table, CURVES).document
    assert sweep(document, "insertion_loss 1-2")["value_db"].tolist() == [-0.01, 0.02, 0.11]


POINT_HEAD = "Test;What;Pair;End;MHz;dB;Text\n"
POINT_A = "1;Link;;;;;A\n1;IL;1-2;;1;1.9;\n"
POINT_B = "2;Link;;;;;B\n2;IL;1-2;;1;1.8;\n"
POINT_C = "3;Link;;;;;C\n3;IL;1-2;;1;1.7;\n"


@pytest.mark.parametrize(
    ("lines", "lost", "expected"),
    [
        ("2;IL;1-2;;2;x;\n", "B", "line 6, column 'dB': 'x' is no number"),
        ("2;IL;1-2;;2;2.5\n", "B", "line 6: the line has 6 cells where the titles have 7"),
        ('2;IL;1-2;;2;"2.5;\n', "B", 'line 6: a quote (") is opened'),
        ('"2;IL;1-2;;2;2.5;\n', "B", 'line 6: a quote (") is opened'),
        ("2;IL;1-2;;1;1.8;\n2;RL;1-2;;1;20;\n", "B", "'return_loss 1-2' names no end"),
        ("3;IL;1-2;;2\n", "C", "line 6: the line has 5 cells"),
        ("garbage\n", "BC", "line 6: the line has 1 cell"),
    ],
)
def test_one_bad_line_loses_one_test_and_no_other(
    lines: str, lost: str, expected: str, tmp_path: Path
) -> None:
    result = read(tmp_path, POINT_HEAD + POINT_A + POINT_B + lines + POINT_C, POINTS)
    assert [record.label for record in result.records] == [c for c in "ABC" if c not in lost]
    lost_ones = [problem for problem in result.problems if problem.lost_record]
    assert len(lost_ones) == len(lost)
    assert all(expected in problem.message for problem in lost_ones)


def test_a_file_cut_off_in_its_last_line_loses_its_last_test(tmp_path: Path) -> None:
    text = POINT_HEAD + POINT_A + POINT_B
    result = read(tmp_path, text[:-5], POINTS)
    assert [record.label for record in result.records] == ["A"]
    assert "has 6 cells" in result.problems[0].message


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("", "no line holds all the titles"),
        ("\n\n", "no line holds all the titles"),
        ("Test;What;Pair;End;kHz;dB;Text\n", "line 1 lacks 'MHz' but has 'kHz'; see csv.rows"),
        (POINT_HEAD, "there are titles but no rows below them"),
    ],
)
def test_a_file_without_tests(text: str, expected: str, tmp_path: Path) -> None:
    assert expected in read(tmp_path, text, POINTS).lost


def test_a_test_of_which_nothing_is_known(tmp_path: Path) -> None:
    message = read(tmp_path, "Link,A\nMHz,Loss 1-2\n1,2\n", CURVES).lost
    assert "nothing measured and no verdict was found by the declared names" in message
    assert "no curve is known by the title 'Loss 1-2'" in message
    assert len(read(tmp_path, "Link,A\nResult,FAIL\nMHz,X\n1,2\n", CURVES).records) == 1


def test_titles_of_curves_without_rows(tmp_path: Path) -> None:
    assert "no rows below" in read(tmp_path, "Link,A\nMHz,IL 1-2\n", CURVES).lost
    assert "'MHz'" in read(tmp_path, "Link,A\nGHz,IL 1-2\n1,2\n", CURVES).lost
