"""A whole curve in each row: where its frequencies may stand, and what must not be read.

The numbers of the files are written and looked up by hand, so nothing here rests on the reader.
"""

import tracemalloc
from pathlib import Path

import pytest

from sweepbook.dialect.load import BadDialect
from tests.reading import Result, axis, sweep

from .reading import read

WORDS = """
[fields]
link.label = "Cable"
[words.parameters]
insertion_loss = "IL"
return_loss = "RL"
next = "NEXT"
propagation_delay = "Delay"
length = "Length"
[words.pairs]
1-2 = "12"
3-6 = "36"
4-5 = "45"
7-8 = "78"
[words.ends]
near = "A"
far = "B"
[crosstalk]
first = "disturbing"
[numbers]
decimal = ","
missing = ["n/a"]
"""
NAMED = '{ Par = "{parameter}", Pair = "{pairs}", End = "{end}" }'


def dialect(curve: str, csv: str = "", rows: str = 'test = "Cable"', words: str = WORDS) -> str:
    return f"""
schema = "urn:sweepbook:dialect-0"
name = "rows"
title = "rows"
format = "csv"
[csv]
layout = "curve-per-row"
delimiter = ";"
{csv}
[csv.rows]
{rows}
[csv.rows.curve]
name = {NAMED}
{curve}
{words}"""


TITLES = 'values = "{frequency}"'
AXIS_ROW = 'values = "v1"\nfrequency = "Freq"'
TITLED = """\
Cable;Par;Pair;End;1,0;2,5;100
A;NEXT;12-36;B;70,1;65,0;40,25
A;IL;12;;1,9;3,0;19,4
B;IL;12;;2,0;3,1;19,9
"""
WAYS = {
    "titles": (TITLES, "", TITLED),
    "titles with words": (
        'values = "f={frequency} MHz"',
        "",
        TITLED.replace("1,0;2,5;100\n", "f=1,0 MHz;f=2,5 MHz;f=100 MHz\n"),
    ),
    "a line above the titles": (
        AXIS_ROW,
        "",
        "Freq;;;;1,0;2,5;100\n" + TITLED.replace("1,0;2,5;100\n", "v1;v2;v3\n"),
    ),
    "a key line that is not over the values": (
        'frequency = "Freq"',
        "",
        "Freq;1,0;2,5;100\n" + TITLED.replace(";1,0;2,5;100\n", "\n"),
    ),
    "a line below the titles": (
        AXIS_ROW,
        "",
        TITLED.replace("1,0;2,5;100\n", "v1;v2;v3\nFreq;;;;1,0;2,5;100\n"),
    ),
    "a row in each test": (
        AXIS_ROW,
        "",
        TITLED.replace("1,0;2,5;100\n", "v1;v2;v3\n")
        .replace("A;IL", "A;Freq;;;1,0;2,5;100\nA;IL")
        .replace("B;IL", "B;Freq;;;1,0;2,5;100\nB;IL"),
    ),
    "two lines of titles": (
        TITLES,
        'upper_titles = [""]',
        ";;;;1,0;2,5;100\n" + TITLED.replace(";1,0;2,5;100\n", "\n"),
    ),
    "titles with a row of their unit below": (
        'values = "{frequency} MHz"',
        'upper_titles = ["Cable"]',
        TITLED.replace(";1,0;2,5;100\n", ";1,0;2,5;100\n;;;;MHz;MHz;MHz\n"),
    ),
    "a list in a cell": (
        'values = "Values"\nseparator = " "\nfrequency = "Axis"',
        "",
        "Cable;Par;Pair;End;Axis;Values\n"
        "A;NEXT;12-36;B;1,0 2,5 100;70,1 65,0 40,25\n"
        "A;IL;12;;1,0 2,5 100; 1,9 3,0 19,4\n"
        "B;IL;12;;1,0 2,5 100;2,0 3,1  19,9\n",
    ),
    "no titles": (
        TITLES,
        'columns = ["Cable", "Par", "Pair", "End", "1,0", "2,5", "100"]',
        TITLED.partition("\n")[2],
    ),
}


def numbers(result: Result, name: str, at: int = 0) -> list[tuple[float, float]]:
    document = result.records[at].document
    entry = sweep(document, name)
    return list(zip(axis(document, entry), entry["value_db"], strict=True))


@pytest.mark.parametrize("way", WAYS)
def test_frequencies_may_stand_in_many_places(way: str, tmp_path: Path) -> None:
    curve, csv, content = WAYS[way]
    result = read(tmp_path, content, dialect(curve, csv))
    assert result.problems == []
    assert [record.label for record in result.records] == ["A", "B"]
    assert numbers(result, "next far 1-2/3-6") == [(1.0, 70.1), (2.5, 65.0), (100.0, 40.25)]
    assert numbers(result, "insertion_loss 1-2") == [(1.0, 1.9), (2.5, 3.0), (100.0, 19.4)]
    assert numbers(result, "insertion_loss 1-2", 1) == [(1.0, 2.0), (2.5, 3.1), (100.0, 19.9)]
    assert "extra" not in result.records[0].document


RUN = 'values = "Values"\nrun = { start = "From", step = "Step", count = "Points" }'
RUN_ROWS = "Cable;Par;Pair;End;From;Step;Points;Values\nA;IL;12;;1;0,5;3;1,9;2,3;2,7\n"


@pytest.mark.parametrize(
    ("curve", "content"),
    [
        (RUN, RUN_ROWS),
        (
            RUN.replace("count", "stop").replace("Points", "To"),
            RUN_ROWS.replace("Points", "To").replace(";3;", ";2;"),
        ),
        (
            RUN.replace(', count = "Points"', ""),
            "From;1\nStep;0,5\nCable;Par;Pair;End;Values\nA;IL;12;;1,9;2,3;2,7\n",
        ),
        (
            f'{RUN}\nseparator = "|"',
            RUN_ROWS.replace("1,9;2,3;2,7", "1,9|2,3|2,7"),
        ),
    ],
)
def test_a_run_gives_even_steps(curve: str, content: str, tmp_path: Path) -> None:
    result = read(tmp_path, content, dialect(curve))
    assert numbers(result, "insertion_loss 1-2") == [(1.0, 1.9), (1.5, 2.3), (2.0, 2.7)]


def test_curves_may_begin_late_and_end_early_and_have_gaps(tmp_path: Path) -> None:
    content = "Cable;Par;Pair;End;1;2;3;4\nA;IL;12;;;2,3;n/a;\nA;RL;12;A;;20,1;;18,0\n"
    result = read(tmp_path, content, dialect(TITLES))
    document = result.records[0].document
    assert sweep(document, "insertion_loss 1-2")["gaps"][0]["from"] == 1
    assert axis(document, sweep(document, "insertion_loss 1-2")) == [2.0, 3.0]
    assert numbers(result, "return_loss near 1-2") == [(2.0, 20.1), (4.0, 18.0)]
    (problem,) = result.problems
    assert "blank cells between values" in problem.message


def test_a_row_in_a_section_may_be_a_curve(tmp_path: Path) -> None:
    layout = dialect("").partition("[csv]")[0] + WORDS.replace('"Cable"', '"== Link"')
    sections = """
[csv]
layout = "sections"
delimiter = ";"
test.first_line = "== Link"
[[csv.sections]]
heading = ["[{parameter}]", "[{parameter}, {end}]"]
[csv.sections.rows.curve]
name = { Pair = "{pairs}" }
values = "{frequency}"
"""
    content = (
        "== Link A\n[IL]\nPair;1;2\n12;1,9;2,3\n36;1,8;2,2\n[RL, B]\nPair;1;10\n12;20,0;18,5\n"
        "== Link B\n[IL]\nPair;1;2\n12;1,7;2,1\n"
    )
    result = read(tmp_path, content, layout + sections)
    assert result.problems == []
    assert numbers(result, "insertion_loss 3-6") == [(1.0, 1.8), (2.0, 2.2)]
    assert numbers(result, "return_loss far 1-2") == [(1.0, 20.0), (10.0, 18.5)]
    assert numbers(result, "insertion_loss 1-2", 1) == [(1.0, 1.7), (2.0, 2.1)]


POINT = WORDS.replace('decimal = ","', 'decimal = "."')
COMMA = 'delimiter = ","'
MISTAKES = {
    "a value too few in a list": (
        RUN + '\nseparator = " "',
        "Cable;Par;Pair;End;From;Step;Points;Values\nA;IL;12;;1;1;3;1,9 2,3\n",
        "line 2: the curve 'insertion_loss 1-2' has 2 values where the run of 'From' and 'Step' "
        "and 'Points' has 3 frequencies",
    ),
    "a value too many behind a line of frequencies": (
        AXIS_ROW,
        "Freq;1;2;3\nCable;Par;Pair;End;v1;v2;v3\nA;IL;12;;1,9;2,3;2,7;2,9\n",
        "has 4 values where the line 1 has 3 frequencies",
    ),
    "a row that ends early": (
        TITLES,
        "Cable;Par;Pair;End;1;2;3\nA;IL;12;;1,9;2,3\n",
        "csv.rows.curve.ends_early",
    ),
    "a decimal comma that parts cells of a list": (
        RUN + '\nseparator = ","',
        "Cable;Par;Pair;End;From;Step;Points;Values\nA;IL;12;;1;1;3;1,9,2,3,2,7\n",
        "as if the decimal mark parted values as well",
    ),
    "start and points exchanged": (
        RUN.replace("From", "Points_").replace('"Points"', '"From"').replace("Points_", "Points"),
        "Cable;Par;Pair;End;From;Step;Points;Values\nA;IL;12;;1;1;3;1,9;2,3;2,7\n",
        "has 3 values where the run of 'Points' and 'Step' and 'From' has 1 frequencies",
    ),
    "a sign that physics contradicts": (
        TITLES,
        "Cable;Par;Pair;End;1;2;3\nA;IL;12;;-1,9;-2,3;-2,7\n",
        "add it to signs.negative",
    ),
    "frequencies in kHz taken for MHz": (
        TITLES,
        "Cable;Par;Pair;End;1000;2000;500000\nA;IL;12;;1,9;2,3;2,7\n",
        "line 1, column '500000': the highest frequency would be 500000 MHz",
    ),
    "no line of frequencies": (
        AXIS_ROW,
        "Frequency;;;;1;2;3\nCable;Par;Pair;End;v1;v2;v3\nA;IL;12;;1,9;2,3;2,7\n",
        "no column, row or line above is called 'Freq'; see csv.rows.curve.frequency",
    ),
    "no column of the run": (
        RUN,
        "Cable;Par;Pair;End;From;Step;Count;Values\nA;IL;12;;1;1;3;1,9;2,3;2,7\n",
        "no column and no key above the table is called 'Points'; see csv.rows.curve.run",
    ),
    "no number in a cell": (
        TITLES,
        "Cable;Par;Pair;End;1;2;3\nA;IL;12;;1,9;2.3;2,7\n",
        "line 2, column '2'",
    ),
    "a curve that comes twice": (
        TITLES,
        "Cable;Par;Pair;End;1;2\nA;IL;12;;1,9;2,3\nA;IL;12;;1,8;2,2\n",
        "comes a second time",
    ),
    "a file that ends within a row": (
        TITLES + "\nends_early = true",
        "Cable;Par;Pair;End;1;2;3;4\nA;IL;12;;1,9;2,3;2,7;3,0\nA;IL;36;;1,9;2,3",
        "the file ends within this row",
    ),
    "a file that ends within a number": (
        TITLES,
        "Cable;Par;Pair;End;1;2;3;4\nA;IL;12;;1,91;2,30;2,73;3,0",
        "the file ends within this number",
    ),
}


@pytest.mark.parametrize("mistake", MISTAKES)
def test_a_mistake_loses_the_test_and_names_the_key(mistake: str, tmp_path: Path) -> None:
    curve, content, said = MISTAKES[mistake]
    assert said in read(tmp_path, content, dialect(curve)).lost


@pytest.mark.parametrize(
    ("titles", "end"),
    [
        ("v1;v2;v3", ""),
        ("v1;;", ""),
        ("v1", ""),
        ("v1;v2;v3;", ";"),
        ("v1", ";"),
        ("v1;v2;v3", ";"),
    ],
)
@pytest.mark.parametrize("above", [True, False])
def test_a_row_that_lost_a_cell_is_no_curve_that_ends_early(
    titles: str, end: str, above: bool, tmp_path: Path
) -> None:
    """Without its second value the third would be read at 4 MHz, and the link pass there."""
    axis_row, title_row = f"Freq;;;;1;4;100{end}\n", f"Cable;Par;Pair;End;{titles}\n"
    head = axis_row + title_row if above else title_row + axis_row
    whole = head + f"A;IL;36;;1,9;9,9;19,4{end}\n"
    message = read(tmp_path, f"{whole}A;IL;12;;1,9;19,4{end}\n", dialect(AXIS_ROW)).lost
    assert "line 4: the curve 'insertion_loss 1-2' has" in message
    assert "csv.rows.curve.ends_early" in message
    kept = read(tmp_path, f"{whole}A;IL;12;;1,9;3,7;{end}\n", dialect(AXIS_ROW))
    assert numbers(kept, "insertion_loss 1-2") == [(1.0, 1.9), (4.0, 3.7)]
    early = read(
        tmp_path, f"{whole}A;IL;12;;1,9;3,7{end}\n", dialect(f"{AXIS_ROW}\nends_early = true")
    )
    assert numbers(early, "insertion_loss 1-2") == [(1.0, 1.9), (4.0, 3.7)]


def test_a_comma_for_both_loses_the_test_where_rows_end_early(tmp_path: Path) -> None:
    """Six cells of halves, where eight frequencies are: nobody can tell three values from six."""
    content = "Cable,Par,Pair,End,1,2,3,4,5,6,7,8\nA,IL,12,,1,9,2,3,2,7\n"
    text = dialect(f"{TITLES}\nends_early = true", words=POINT).replace('delimiter = ";"', COMMA)
    assert "as if the decimal mark parted values" in read(tmp_path, content, text).lost


def test_a_unit_that_does_not_go_with_a_parameter_is_told(tmp_path: Path) -> None:
    text = dialect(TITLES).replace('End = "{end}" }', 'End = "{end}", Unit = "{unit}" }')
    content = "Cable;Par;Pair;End;Unit;1;2\nA;IL;12;;dB;1,9;2,3\nA;Delay;12;;ohm;0,5;0,4\n"
    result = read(tmp_path, content, text)
    assert [entry["parameter"] for entry in result.records[0].document["results"]["sweeps"]] == [
        "insertion_loss"
    ]
    assert "nothing is known by the name 'Delay 12 ohm'" in result.problems[0].message
    assert result.records[0].document["extra"] == {"Delay 12 ohm": "0,5 0,4"}


def test_a_curve_is_in_the_unit_that_stands_beside_it(tmp_path: Path) -> None:
    text = dialect(TITLES).replace('End = "{end}" }', 'End = "{end}", Unit = "{unit}" }')
    content = "Cable;Par;Pair;End;Unit;1;2\nA;Delay;12;;us;0,5;0,4\nA;Delay;36;;ns;510;400\n"
    result = read(tmp_path, content, text)
    assert result.problems == []
    values = [[*entry["delay_ns"]] for entry in result.records[0].document["results"]["sweeps"]]
    assert values == [[500.0, 400.0], [510.0, 400.0]]


def test_rows_that_are_no_measurements_are_kept_by_their_names(tmp_path: Path) -> None:
    content = "Cable;Par;Pair;End;1;2\nA;Max IL;;;2,0;4,0\nA;IL;12;;1,9;2,3\nA;Max XL;;;1;2\n"
    plain = read(tmp_path, content, dialect(TITLES))
    assert "rows that are no measurements are named by csv.rows.other_names" in (
        plain.problems[0].message
    )
    rows = 'test = "Cable"\nother_names = "Max {parameter}"'
    result = read(tmp_path, content, dialect(TITLES, rows=rows))
    assert numbers(result, "insertion_loss 1-2") == [(1.0, 1.9), (2.0, 2.3)]
    assert result.records[0].document["extra"] == {"Max IL": "2,0 4,0", "Max XL": "1 2"}
    (problem,) = result.problems
    assert "nothing is known by the name 'Max XL'" in problem.message
    wrong = dialect(TITLES, rows=rows.replace("{parameter}", "{thing}"))
    with pytest.raises(BadDialect, match=r"csv\.rows\.other_names"):
        read(tmp_path, content, wrong)


def test_a_title_that_is_no_frequency_is_told_and_kept(tmp_path: Path) -> None:
    content = "Cable;Par;Pair;End;1;2O;30\nA;IL;12;;1,9;2,3;4,0\nA;IL;36;;1,8;2,4;4,0\n"
    result = read(tmp_path, content, dialect(TITLES))
    assert numbers(result, "insertion_loss 1-2") == [(1.0, 1.9), (30.0, 4.0)]
    assert "'2O' stands among titles that are frequencies" in result.problems[0].message
    assert result.records[0].document["extra"] == {"2O": "2,3\n2,4"}


def test_a_word_among_titles_of_frequencies_is_told_and_kept(tmp_path: Path) -> None:
    content = "Cable;Par;Pair;End;1;fifty;100;Remark\nA;IL;12;;1,9;99,9;4,0;dark\n"
    result = read(tmp_path, content, dialect(TITLES))
    assert numbers(result, "insertion_loss 1-2") == [(1.0, 1.9), (100.0, 4.0)]
    (problem,) = result.problems
    assert "'fifty' stands among titles that are frequencies" in problem.message
    assert "Remark" not in problem.message


@pytest.mark.parametrize(
    "content",
    [
        "Cable;;Par;Pair;End;1;4\nA;;IL;12;;1,9;3,7\n",
        "Cable;Par;Pair;End;1;4;\nA;IL;12;;1,9;3,7;\n",
    ],
)
def test_a_blank_title_is_no_column_of_frequencies(content: str, tmp_path: Path) -> None:
    result = read(tmp_path, content, dialect(TITLES))
    assert result.problems == []
    assert numbers(result, "insertion_loss 1-2") == [(1.0, 1.9), (4.0, 3.7)]


@pytest.mark.parametrize(
    "cells", ["1;4;100;\nA;IL;12;;;1,9;3,7;19,4", "1;;100\nA;IL;12;;1,9;3,7;19"]
)
def test_a_value_below_a_blank_title_loses_the_test(cells: str, tmp_path: Path) -> None:
    """Where a cell too many moved all values, each would be read at the next frequency."""
    message = read(tmp_path, f"Cable;Par;Pair;End;{cells}\n", dialect(TITLES)).lost
    assert "line 2: cell" in message
    assert "csv.rows.curve.values" in message


def test_a_run_that_is_longer_than_its_row_is_not_expanded(tmp_path: Path) -> None:
    """Thirty runs of 900,000 texts would take more than a gigabyte."""
    rows = "".join(f"A;IL;12;;1;1;{900_000 + at};1,9;2,3;2,7\n" for at in range(30))
    content = RUN_ROWS.partition("\n")[0] + "\n" + rows
    tracemalloc.start()
    try:
        message = read(tmp_path, content, dialect(RUN)).lost
        assert tracemalloc.get_traced_memory()[1] < 20_000_000
    finally:
        tracemalloc.stop()
    assert "line 2: the curve 'insertion_loss 1-2' has 3 values where the run of" in message
    assert "has 900000 frequencies" in message


def test_a_test_that_comes_back_is_told(tmp_path: Path) -> None:
    content = TITLED + "A;IL;36;;1,9;3,0;19,4\n"
    result = read(tmp_path, content, dialect(TITLES))
    assert [record.label for record in result.records] == ["A", "B"]
    assert "stood in lines 2-3 already" in result.problems[0].message


@pytest.mark.parametrize(
    ("curve", "said"),
    [
        ("", "told by one of frequency, run and values"),
        (f'{TITLES}\nfrequency = "Freq"', "told by one of frequency, run and values"),
        ('values = "{frequency} {pairs}"', "no other braces"),
        ('frequency = "F"\nseparator = " "', "is for values in one cell"),
    ],
)
def test_a_dialect_that_contradicts_itself_is_refused(
    curve: str, said: str, tmp_path: Path
) -> None:
    with pytest.raises(BadDialect, match=said):
        read(tmp_path, TITLED, dialect(curve))
