"""Tests of which only the other files tell: they failed before a sweep was taken.

That a tester saves no sweep of a link whose wires are crossed is common practice, no source.
"""

from pathlib import Path

import pytest

from sweepbook.book import gather, prove, store
from sweepbook.book.layout import open_or_begin
from sweepbook.book.proof import Proof
from sweepbook.record.model import Record
from tests.joined.test_join import HEADS, POINTS, ROWS, document, pipeline, read
from tests.joined.test_several import FILES as OF_CURVES
from tests.joined.test_several import LIST, LISTED
from tests.joined.test_tables import DIALECT, FILES
from tests.program import run

BARE = f"{HEADS}3,A-19,Cat 6A PL,bad,48.5,R1\n"
DIALECT_OF_TWO = ROWS.replace('pass = "good"', 'pass = "good"\nfail = "bad"')
GIVEN = {"3-points.csv": POINTS, "3-heads.csv": BARE}


def test_a_test_without_curves_is_a_record(tmp_path: Path) -> None:
    records, problems = read(tmp_path, GIVEN, DIALECT_OF_TWO)
    assert [record.label for record in records] == ["A-17", "A-18", "A-19"]
    last = document(records, "A-19")
    assert last["stated"]["overall"]["verdict"] == "fail"
    assert [one["length_m"] for one in last["results"]["scalars"]] == [48.5]
    assert "sweeps" not in last["results"]
    (origin,) = last["origin"]
    assert (origin["name"], origin["locator"]) == (
        "3-points.csv",
        "no curves of 3-heads.csv, lines 4-4",
    )
    assert [of["name"] for of in origin["joined"]] == ["3-heads.csv"]
    assert problems == [
        "3-points.csv: 3-heads.csv, lines 4-4: no curves of '3' under 'Nr' are in the files, so "
        "this test is read without them; if they were measured, see join.key and join.other_key, "
        "or export all files again"
    ]


def test_what_failed_its_wire_map_by_the_file_s_word_lacks_no_curves(tmp_path: Path) -> None:
    dialect = DIALECT_OF_TWO.replace(
        'value = "{parameter} {pairs}"',
        'value = "{parameter} {pairs}" }, { verdict = "{parameter} result"',
    ).replace("[words.parameters]", '[words.parameters]\nwire_map = "Wires"')
    assert dialect.count("Wires") == 1
    for word, told in (("bad", 0), ("good", 1)):
        head, *rows = BARE.splitlines()
        heads = "\n".join([f"{head},Wires result", *(f"{row},good" for row in rows[:-1])])
        files = {**GIVEN, "3-heads.csv": f"{heads}\n{rows[-1]},{word}\n"}
        records, problems = read(tmp_path, files, dialect)
        assert [record.label for record in records] == ["A-17", "A-18", "A-19"]
        assert len(problems) == told


def test_it_proves_nothing_and_a_book_keeps_it(tmp_path: Path) -> None:
    for name, text in GIVEN.items():
        (tmp_path / name).write_text(text)
    book = open_or_begin(tmp_path / "book")
    (*_, outcome) = gather.gather(
        book, sorted(tmp_path.glob("3-*.csv")), pipeline(tmp_path, DIALECT_OF_TWO)
    )
    assert (outcome.records, [of.lost_record for of in outcome.problems]) == (3, [False])
    assert list(prove.prove(book.root, Proof())) == []
    labels = [record.label for record in store.records(book) if hasattr(record, "label")]
    assert sorted(labels) == ["A-17", "A-18", "A-19"]
    checked = run("check", book.root)
    assert "3 tests" in checked.stdout
    assert "A-19" in checked.stdout


def test_what_other_tables_hold_of_it_is_joined_too(tmp_path: Path) -> None:
    files = {
        **FILES,
        "hall-7-tests.csv": FILES["hall-7-tests.csv"] + "3;B-11;Cat 6A PL;2026-03-04 14:40\n",
        "hall-7-figures.csv": FILES["hall-7-figures.csv"] + "3;Length;12;;4430;;\n",
        "hall-7-verdicts.csv": FILES["hall-7-verdicts.csv"] + "B-11;FAIL\n",
    }
    records, problems = read(tmp_path, files, DIALECT)
    assert [record.label for record in records] == ["B-07", "B-08", "B-11"]
    last = document(records, "B-11")
    assert last["results"]["scalars"][0]["length_m"] == 44.3
    assert last["stated"]["overall"]["verdict"] == "fail"
    assert len(problems) == 1


def test_a_table_of_many_files_has_tests_of_which_no_file_is_there(tmp_path: Path) -> None:
    for name, text in {**OF_CURVES, "tests.csv": f"{LIST}T99,A-99,60\n"}.items():
        (tmp_path / name).write_text(text)
    book = open_or_begin(tmp_path / "book")
    files = sorted(tmp_path.glob("*.csv"))
    done = list(gather.gather(book, files, pipeline(tmp_path, LISTED)))
    assert {one.name: one.records for one in done if one.records} == {
        "tests.csv": 1,
        "T17_IL.csv": 1,
        "T18_IL.csv": 1,
    }
    assert list(prove.prove(book.root, Proof())) == []
    again = list(gather.gather(book, files, pipeline(tmp_path, LISTED)))
    assert sum(one.new for one in again) == sum(one.dropped for one in again) == 0
    (bare,) = [one for one in store.records(book) if getattr(one, "label", "") == "A-99"]
    assert isinstance(bare, Record)
    (origin,) = bare.document["origin"]
    assert (origin["name"], origin["locator"]) == ("tests.csv", "lines 4-4")


@pytest.mark.parametrize(
    ("heads", "told"),
    [
        (f"{BARE}3,A-20,Cat 6A PL,bad,48.5,R1\n", "no test with curves has '3' under 'Nr'"),
        (BARE.replace("2,A-18", "8,A-18"), "no test with curves has '3' under 'Nr'"),
        (
            BARE.replace("A-19", ""),
            "no test with curves has '3' under 'Nr', so this one is not read; see join.key, "
            "join.other_key and fields.link.label, without which it is not read alone",
        ),
    ],
    ids=["a key twice", "curves without a head", "no label"],
)
def test_what_may_belong_to_other_curves_is_not_read(heads: str, told: str, tmp_path: Path) -> None:
    records, problems = read(tmp_path, {**GIVEN, "3-heads.csv": heads}, DIALECT_OF_TWO)
    assert {record.label for record in records} <= {"A-17", "A-18"}
    assert any(told in problem for problem in problems), problems


@pytest.mark.parametrize(
    ("old", "new", "why"),
    [
        ("MHz", "kHz", "line 1 lacks 'MHz' but has 'kHz'"),
        ("Nr,What", "No,What", "line 1 lacks 'Nr'"),
    ],
)
def test_curves_that_are_not_understood_are_none_that_were_not_taken(
    old: str, new: str, why: str, tmp_path: Path
) -> None:
    files = {"3-points.csv": POINTS.replace(old, new, 1), "3-heads.csv": HEADS}
    records, problems = read(tmp_path, files, ROWS)
    assert records == []
    assert why in problems[0]


TURNED = """
schema = "urn:sweepbook:dialect-0"
name = "heads-first"
title = "The table of tests, and their curves joined to it"
format = "csv"
[csv]
layout = "test-per-row"
rows.test = "Test"
rows.figures = [{ value = "{parameter} {pairs}" }]
[join]
file = "{}-heads.csv"
other = "{}-points.csv"
key = "Test"
other_key = "Nr"
may_lack = true
[join.csv]
layout = "point-per-row"
rows.test = "Nr"
rows.point.name = { What = "{parameter}", Pair = "{pairs}", End = "{end}" }
rows.point.frequency = "MHz"
rows.point.value = "dB"
""" + ROWS[ROWS.index("[fields]") :]


@pytest.mark.parametrize(
    ("old", "new", "why"),
    [
        ("MHz", "kHz", "line 1 lacks 'MHz' but has 'kHz'"),
        ("Nr,What", "No,What", "line 1 lacks 'Nr'"),
    ],
)
def test_what_is_not_understood_is_nothing_that_a_test_may_lack(
    old: str, new: str, why: str, tmp_path: Path
) -> None:
    """Else all curves are lost by one title, and the tests are read without them."""
    files = {"3-points.csv": POINTS, "3-heads.csv": HEADS}
    records, problems = read(tmp_path, files, TURNED)
    assert [len(record.document["results"]["sweeps"]) for record in records] == [1, 1]
    assert problems == []
    files["3-points.csv"] = POINTS.replace(old, new, 1)
    records, problems = read(tmp_path, files, TURNED)
    assert records == []
    assert "nothing of 3-points.csv is understood: no line holds all the titles" in problems[0]
    assert why in problems[0]
    assert "is understood, as is told of another test" in problems[1]
    first = POINTS[: POINTS.index("2,RL")]
    records, problems = read(tmp_path, {**files, "3-points.csv": first}, TURNED)
    assert [len(record.document["results"].get("sweeps", ())) for record in records] == [0, 1]
    assert problems == []


def test_curves_that_nothing_is_understood_of_leave_one_line_for_all_heads(tmp_path: Path) -> None:
    points = POINTS.replace("MHz", "kHz", 1)
    records, problems = read(tmp_path, {**GIVEN, "3-points.csv": points}, DIALECT_OF_TWO)
    assert records == []
    assert len(problems) == 2, problems
    assert "lacks 'MHz' but has 'kHz'" in problems[0]
    told = "none of the 3 tests here ('2', '1', '3') is read, since nothing of the file with the"
    assert told in problems[1]
    assert "join.key" not in problems[1]
