"""Cells with several texts, and worst cases whose pair stands beside them: as the guide shows."""

from pathlib import Path

import pytest

from sweepbook.dialect.load import BadDialect
from sweepbook.dialect.several import Several
from tests.csv_format.dialects import CURVES, changed
from tests.csv_format.reading import read as read_one
from tests.guide import job, told
from tests.joined.test_join import document, pipeline, read
from tests.reading import called

NAMES = ("wing-2-tests.csv", "wing-2-sweeps.csv")
FILES, DIALECT, LINES = job("example-cells", *NAMES)


def with_text(old: str, new: str) -> dict[str, str]:
    assert sum(text.count(old) for text in FILES.values()) == 1, old
    return {name: text.replace(old, new) for name, text in FILES.items()}


def test_the_example_of_the_guide_reads_as_it_says(tmp_path: Path) -> None:
    records, problems = read(tmp_path, FILES, DIALECT)
    assert problems == []
    assert told(records[0].document) == LINES
    first, second = (document(records, label) for label in ("A-17", "A-18"))
    assert (first["link"]["cable"]["nvp"], first["extra"]["Length 1-2/limit"]) == (0.7, "90")
    assert second["results"]["scalars"][0]["length_m"] == 62.4
    assert "items" not in second.get("stated", {})


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("62.4 m,", "62.4 ft,", "line 3: column 'Length 1-2': '62.4 ft' is not of the form"),
        ("62.4 m,", "62.4 m (limit ),", "'62.4 m (limit )' is not of the form"),
        ("62.4 m,", "m,", "'m' is not of the form"),
        ("2.1;2.0;2.1", "2.1;2.0", "line 4: column '1-2;3-6;4-5': 2 texts with ';' between stand"),
        ("2.1;2.0;2.1", "2.1;2.0;2.1;2.2", "4 texts with ';' between stand in '2.1;2.0;2.1;2.2'"),
        ("2.1;2.0;2.1", "2.1;;x", "column '4-5': 'x' is no number in dB"),
    ],
)
def test_what_cannot_be_told_apart_loses_its_test(
    old: str, new: str, message: str, tmp_path: Path
) -> None:
    records, problems = read(tmp_path, with_text(old, new), DIALECT)
    assert len(records) == 1
    assert any(message in problem for problem in problems), problems


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("1-2/3-6 A", "1-2/9-9 A", "'1-2/9-9 A' should say which pairs and end the worst_margin"),
        ("1-2/3-6 A", "1-2", "'1-2' should say which pairs and end the worst_margin of 'next'"),
        ("4-5 B", "4-5 C", "line 2, column 'RL worst': '4-5 C' should say which pairs"),
    ],
)
def test_what_names_no_pair_costs_the_stated_case_alone(
    old: str, new: str, message: str, tmp_path: Path
) -> None:
    records, problems = read(tmp_path, with_text(old, new), DIALECT)
    assert len(records) == 2
    assert any(message in problem for problem in problems), problems


def test_a_mark_behind_the_last_text_and_blanks_are_let_be(tmp_path: Path) -> None:
    records, problems = read(tmp_path, with_text("2.1;2.0;2.1", " 2.1 ; 2.0;2.1; "), DIALECT)
    assert (problems, len(records)) == ([], 2)


KEYED = changed(
    CURVES,
    "[numbers]",
    '[[cells]]\nkey = ["Length 1-2", "Length 3-6"]\nform = "{} m, at most {} m"\n'
    'names = ["L", "most"]\n[numbers]',
)


def test_texts_of_key_lines_are_taken_apart_below_their_heading(tmp_path: Path) -> None:
    dialect = changed(KEYED, 'key = ["Length 1-2", "Length 3-6"]', 'key = "Length"')
    dialect = changed(dialect, '"L", "most"', '"Length 1-2", "most"')
    dialect = changed(
        dialect, "[csv.curves]", 'delimiter = ";"\npreamble.headings = ["[R]"]\n[csv.curves]'
    )
    dialect = changed(dialect, 'value = "{parameter} {pairs}"', 'value = "[R]/{parameter} {pairs}"')
    text = "Link;A\n[R]\nLength;62.1 m, at most 90 m\n\nMHz;IL 1-2\n1;1.9\n"
    result = read_one(tmp_path, text, dialect)
    assert result.problems == []
    assert result.document["results"]["scalars"][0]["length_m"] == 62.1
    assert result.document["extra"] == {"[R]/most": "90"}
    broken = read_one(tmp_path, text.replace("at most", "up to"), dialect)
    assert broken.records == []
    assert "line 3: '62.1 m, up to 90 m' is not of the form" in broken.problems[0].message


def test_two_texts_of_one_name_are_told(tmp_path: Path) -> None:
    text = "Link,A\nLength 1-2,'62.1 m, at most 90 m'\nLength 3-6,'62.2 m, at most 90 m'\n"
    text = text.replace("'", '"')
    result = read_one(tmp_path, f"{text}\nMHz,IL 1-2\n1,1.9\n", KEYED)
    assert result.records == []
    assert "'62.2' is called 'L', as is '62.1' in line 2; see cells" in result.problems[0].message


WORST = changed(
    CURVES,
    'worst_margin.margin = "Margin {parameter} {pairs} {end}"',
    'worst_margin.margin = ["Margin {parameter} {pairs} {end}", "Worst {parameter} margin"]\n'
    'worst_margin.pairs = "Worst {parameter} pair"\nworst_margin.end = "Worst {parameter} side"',
)


@pytest.mark.parametrize(
    ("far_end", "first", "name"),
    [
        ("receiving", "disturbing", "fext far 1-2/3-6"),
        ("driving", "disturbing", "fext near 1-2/3-6"),
        ("receiving", "disturbed", "fext far 3-6/1-2"),
    ],
)
def test_pair_and_end_beside_are_read_as_those_of_curves(
    far_end: str, first: str, name: str, tmp_path: Path
) -> None:
    dialect = changed(WORST, 'far_end = "receiving"', f'far_end = "{far_end}"')
    dialect = changed(dialect, 'first = "disturbing"', f'first = "{first}"')
    keys = "Worst FEXT margin,2.5\nWorst FEXT pair,1-2/3-6\nWorst FEXT side,B\n"
    result = read_one(tmp_path, f"Link,A\n{keys}\nMHz,IL 1-2\n1,1.9\n", dialect)
    (item,) = result.document["stated"]["items"]
    assert called(item) == name
    assert item["worst_margin"]["margin_db"] == 2.5


APART = changed(
    WORST,
    'worst_margin.pairs = "Worst {parameter} pair"\n',
    'worst_margin.pairs = "Worst {parameter} pair"\n'
    'worst_margin.second_pair = "Worst {parameter} other pair"\n',
)


@pytest.mark.parametrize(
    ("first", "name"), [("disturbing", "fext far 1-2/3-6"), ("disturbed", "fext far 3-6/1-2")]
)
def test_two_pairs_that_stand_apart_are_read_together(
    first: str, name: str, tmp_path: Path
) -> None:
    dialect = changed(APART, 'first = "disturbing"', f'first = "{first}"')
    keys = (
        "Worst FEXT margin,2.5\nWorst FEXT pair,1-2\nWorst FEXT other pair,3-6\n"
        "Worst FEXT side,B\nWorst RL margin,3.5\nWorst RL pair,4-5\nWorst RL side,A\n"
    )
    result = read_one(tmp_path, f"Link,A\n{keys}\nMHz,IL 1-2\n1,1.9\n", dialect)
    assert result.problems == []
    items = {called(item) for item in result.document["stated"]["items"]}
    assert items == {name, "return_loss near 4-5"}


@pytest.mark.parametrize(
    ("said", "message"),
    [
        ("Worst FEXT pair,1-2\n", "name it by worst_margin.second_pair"),
        ("Worst FEXT pair,1-2\nWorst FEXT other pair,1-2\n", "'1-2' and '1-2' and 'B' should"),
        ("Worst FEXT pair,1-2\nWorst FEXT other pair,9\n", "'1-2' and '9' and 'B' should say"),
        ("Worst FEXT other pair,1-2\n", "'1-2' and 'B' should say which pairs"),
    ],
)
def test_one_of_two_pairs_tells_nothing(said: str, message: str, tmp_path: Path) -> None:
    keys = f"Worst FEXT margin,2.5\n{said}Worst FEXT side,B\n"
    result = read_one(tmp_path, f"Link,A\n{keys}\nMHz,IL 1-2\n1,1.9\n", APART)
    (record,) = result.records
    assert "stated" not in record.document
    assert "2.5" in record.document["extra"].values()
    assert message in result.problems[0].message


def test_a_margin_that_comes_by_both_ways_is_a_fault(tmp_path: Path) -> None:
    keys = "Worst RL margin,2.5\nWorst RL pair,1-2\nWorst RL side,A\nMargin RL 1-2 A,2.5\n"
    result = read_one(tmp_path, f"Link,A\n{keys}\nMHz,IL 1-2\n1,1.9\n", WORST)
    assert result.records == []
    assert "worst_margin.margin of 'return_loss 1-2 near' comes a second" in (
        result.problems[0].message
    )


def test_a_pair_without_a_margin_is_kept(tmp_path: Path) -> None:
    keys = "Worst RL pair,1-2\nWorst RL side,A\n"
    result = read_one(tmp_path, f"Link,A\n{keys}\nMHz,IL 1-2\n1,1.9\n", WORST)
    assert result.document["extra"] == {"Worst RL pair": "1-2", "Worst RL side": "A"}


@pytest.mark.parametrize(
    ("form", "cell", "texts"),
    [
        ("{} m (limit {})", "72.5 m (limit 90)", ["72.5", "90"]),
        ("{} {}", "NVP 70 %", ["NVP", "70 %"]),
        ("<{}>", "<a>", ["a"]),
        ("{}", "a b", ["a b"]),
        ("{}: {}", "a: b: c", ["a", "b: c"]),
    ],
)
def test_a_text_ends_where_what_follows_it_first_comes(
    form: str, cell: str, texts: list[str]
) -> None:
    several = Several(tuple("ab"[: form.count("{}")]), (form,))
    assert several.texts(cell, lambda text: False) == texts


@pytest.mark.parametrize(
    ("old", "new", "key"),
    [
        ('separator = ";"\n', "", "cells.0: says either form or separator"),
        ('key = "1-2;3-6;4-5"', 'key = "Values"', "cells.0.names: is missing"),
        (', "{} m"]', ', "{}{} m"]', "cells.1.form: nothing stands between two {} of '{}{} m'"),
        (', "{} m"]', ', "m"]', "cells.1.form: 'm' holds {} 0 times"),
        (', "{} m"]', ', "{} {} {} m"]', "cells.1.form: '{} {} {} m' holds {} 3 times"),
        ('key = "Length 1-2"', 'key = "Length 1-2"\nname = "x"', "cells.1.name: there is no such"),
        ('key = "Length 1-2"', 'key = "1-2;3-6;4-5"', "cells.1.key: '1-2;3-6;4-5' is that of"),
        (
            'key = "Length 1-2"',
            'key = "Length {pairs}"',
            "cells.1.key: 'Length {pairs}' is a title",
        ),
        (', "Length 1-2/limit"]', ', "Length 1-2/value"]', "cells.1.names: has a name twice"),
    ],
)
def test_tables_that_cannot_be_are_refused(old: str, new: str, key: str, tmp_path: Path) -> None:
    with pytest.raises(BadDialect) as raised:
        pipeline(tmp_path, changed(DIALECT, old, new))
    assert any(problem.startswith(key) for problem in raised.value.problems), raised.value.problems
