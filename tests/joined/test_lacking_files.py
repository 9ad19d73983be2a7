"""Tests of which a whole file is lacking, as `join.may_lack` allows where each is of one test.

That a tester saves no sweep of a link whose wires are crossed is common practice, no source.
"""

import zipfile
from pathlib import Path
from typing import Any

import pytest

from sweepbook.book import gather, prove, store
from sweepbook.book.layout import open_or_begin
from sweepbook.book.proof import Proof
from sweepbook.errors import ReadProblem
from sweepbook.record.model import Record
from tests.guide import job
from tests.program import run

from .test_join import document, pipeline
from .test_several import read, texts

NAMES = ("B-21/info.csv", "B-21/il.csv", "B-21/next_a.csv", "B-22/info.csv", "B-22/il.csv")
FILES, WITHOUT, _ = job("example-folders", *NAMES)
DIALECT = WITHOUT.replace('other = "{}/info.csv"', 'other = "{}/info.csv"\nmay_lack = true')
BARE = {name: text for name, text in FILES.items() if name != "B-22/il.csv"}
"""The second folder holds the head alone."""
NOT_GIVEN = (
    "no file of the form '{}/{parameter}.csv' or '{}/{parameter}_{end}.csv', with its curves, is "
    "given. Give all files, or the folder that holds them; see join.file and join.other"
)
ONE_FILE = """
schema = "urn:sweepbook:dialect-0"
name = "two-files"
title = "A head and a table of points for each test"
format = "csv"
[csv]
LAYOUT
[join]
file = "CURVES"
other = "HEAD"
may_lack = true
[join.csv]
OTHER
[fields]
link.label = "Cable"
stated.overall = "Result"
[figures]
value = "{parameter} {pairs}"
verdict = "{parameter}"
[words.parameters]
insertion_loss = "IL"
length = "Length"
wire_map = "Wires"
[words.verdicts]
pass = "ok"
fail = "bad"
"""
KEYS = 'layout = "key-lines"'
POINTS = """layout = "point-per-row"
rows.point.name = { What = "{parameter}", Pair = "{pairs}" }
rows.point.frequency = "MHz"
rows.point.value = "dB" """
HEAD = "Cable,{}\nResult,{}\nLength 1-2,{}\n"
CURVES = "What,Pair,MHz,dB\nIL,1-2,1,1.9\nIL,1-2,100,19.4\n"


def two_files(curves: str, head: str, *, heads_first: bool = False) -> str:
    """A dialect for them; with the heads first it joins the curves to these."""
    said = {"LAYOUT": POINTS, "OTHER": KEYS, "CURVES": curves, "HEAD": head}
    if heads_first:
        said |= {"LAYOUT": KEYS, "OTHER": POINTS, "CURVES": head, "HEAD": curves}
    dialect = ONE_FILE
    for old, new in said.items():
        dialect = dialect.replace(old, new)
    return dialect


def sweeps(records: list[Record]) -> dict[str, int]:
    return {of.label: len(of.document.get("results", {}).get("sweeps", ())) for of in records}


def test_a_folder_may_hold_the_head_alone(tmp_path: Path) -> None:
    records, problems = read(tmp_path, BARE, DIALECT)
    assert sweeps(records) == {"B-21": 3, "B-22": 0}
    bare = document(records, "B-22")
    assert bare["stated"]["overall"]["verdict"] == "fail"
    assert bare["test"]["started"]["rfc3339"] == "2026-03-04T14:31:00+00:00"
    assert [of["name"] for of in bare["origin"]] == ["info.csv"]
    assert problems == [
        "info.csv: lines 1-4: the file with the curves, 'B-22/{parameter}.csv' or "
        "'B-22/{parameter}_{end}.csv', is not at hand, which join.may_lack allows, so this test is "
        "read without curves; if they were measured, export it again"
    ]


def test_without_that_word_it_is_refused_with_it(tmp_path: Path) -> None:
    records, (problem,) = read(tmp_path, BARE, WITHOUT)
    assert sweeps(records) == {"B-21": 3}
    end = ", or join.may_lack where a test need not have both."
    assert problem == f"info.csv: : {NOT_GIVEN}{end}"


def test_curves_that_are_only_not_given_do_not_lack(tmp_path: Path) -> None:
    read(tmp_path, FILES, DIALECT)
    head = tmp_path / "B-22" / "info.csv"
    (problem,) = pipeline(tmp_path, DIALECT).read_all([head])
    assert isinstance(problem, ReadProblem)
    assert problem.message == f"{NOT_GIVEN}."
    (tmp_path / "B-22" / "il.csv").unlink()
    _, record = pipeline(tmp_path, DIALECT).read_all([head])
    assert isinstance(record, Record)
    assert record.label == "B-22"


def test_a_folder_may_hold_curves_alone_which_then_have_no_label(tmp_path: Path) -> None:
    files = {name: text for name, text in FILES.items() if name != "B-22/info.csv"}
    records, problems = read(tmp_path, files, DIALECT)
    assert sweeps(records) == {"B-21": 3}
    assert "there is no label: no text under 'Cable'" in problems[0]
    labelled = DIALECT.replace('link.label = "Cable"', 'link.label = "{}"')
    records, problems = texts(tmp_path, labelled)
    assert sweeps(records) == {"B-21": 3, "B-22": 1}
    assert problems == []
    assert "stated" not in document(records, "B-22")


@pytest.mark.parametrize("label", ["Cable", "{}"])
def test_they_may_all_lie_in_an_archive(label: str, tmp_path: Path) -> None:
    with zipfile.ZipFile(tmp_path / "job.zip", "w") as archive:
        for name, text in BARE.items():
            archive.writestr(name, text)
    dialect = DIALECT.replace('link.label = "Cable"', f'link.label = "{label}"')
    records, problems = texts(tmp_path, dialect)
    assert sweeps(records) == {"B-21": 3, "B-22": 0}
    assert len(problems) == 1


@pytest.mark.parametrize(
    ("curves", "head"),
    [("{}/points.csv", "{}/head.csv"), ("{}-points.csv", "{}-head.csv"), ("{}.csv", "{}_h.csv")],
)
@pytest.mark.parametrize("heads_first", [False, True])
def test_one_file_of_curves_may_lack(
    curves: str, head: str, heads_first: bool, tmp_path: Path
) -> None:
    """Whichever of both files the dialect calls the first; crossed wires need no line about it."""
    files = {
        head.replace("{}", "K1"): HEAD.format("K-1", "ok", "31.0") + "Wires,ok\n",
        curves.replace("{}", "K1"): CURVES,
        head.replace("{}", "K2"): HEAD.format("K-2", "bad", "12.5") + "Wires,ok\n",
        head.replace("{}", "K3"): HEAD.format("K-3", "bad", "12.5") + "Wires,bad\n",
    }
    records, problems = read(tmp_path, files, two_files(curves, head, heads_first=heads_first))
    assert sweeps(records) == {"K-1": 1, "K-2": 0, "K-3": 0}
    assert [document(records, f"K-{n}")["stated"]["overall"]["verdict"] for n in (1, 2, 3)] == [
        *("pass", "fail", "fail")
    ]
    assert len(problems) == 1
    assert "is not at hand, which join.may_lack allows" in problems[0]


def test_what_holds_several_tests_may_not_lack_as_a_whole(tmp_path: Path) -> None:
    """There `may_lack` is of single tests, and a file that nobody gave is missed."""
    dialect = two_files("{}-points.csv", "{}-head.csv", heads_first=True)
    dialect = dialect.replace("may_lack = true", 'key = "Cable"\nmay_lack = true')
    records, problems = read(tmp_path, {"K1-head.csv": HEAD.format("K-1", "ok", "31.0")}, dialect)
    assert records == []
    assert (
        "the file K1-points.csv, with the other parts of its tests, is not at hand" in problems[0]
    )


def test_what_else_is_there_of_a_test_without_curves_is_read_with_it_once(tmp_path: Path) -> None:
    more = '[[join]]\nother = "{}/figures.csv"\nmay_lack = true\n[join.csv]\n' + KEYS
    of_all = '[[join]]\nother = "rooms.csv"\nkey = "{}"\nother_key = "Job"\nmay_lack = true\n'
    of_all += '[join.csv]\nlayout = "test-per-row"\nrows.test = "Job"\n'
    dialect = two_files("{}/points.csv", "{}/head.csv").replace("[join]", "[[join]]")
    dialect = dialect.replace("[fields]", f"{more}\n{of_all}\n[fields]\ntest.operator = 'By'")
    dialect = dialect.replace("[join.csv]", "[join.csv]")
    files: dict[str, str] = {
        "K1/head.csv": "Cable,K-1\nResult,ok\n",
        "K1/points.csv": CURVES,
        "K2/head.csv": "Cable,K-2\nResult,bad\n",
        "K2/figures.csv": "Length 1-2,12.5\n",
        "K3/figures.csv": "Length 1-2,44.5\n",
        "rooms.csv": "Job,Cable,By\nK1,K-1,R. Plover\nK2,K-2,T. Dunlin\n",
    }
    records, problems = read(tmp_path, files, dialect)
    assert sweeps(records) == {"K-1": 1, "K-2": 0}
    bare: dict[str, Any] = document(records, "K-2")
    assert bare["results"]["scalars"][0]["length_m"] == 12.5
    assert bare["test"]["operator"] == "T. Dunlin"
    assert sorted(of["name"] for of in bare["origin"][0]["joined"]) == ["figures.csv", "rooms.csv"]
    assert [problem for problem in problems if "there is no label" in problem]
    assert len(problems) == 2, problems


def test_a_book_keeps_such_a_test_and_sees_when_its_curves_come(tmp_path: Path) -> None:
    exports = tmp_path / "exports"
    exports.mkdir()
    read(exports, BARE, DIALECT)
    book = open_or_begin(tmp_path / "book", None)

    def status() -> dict[str, list[str]]:
        found: dict[str, list[str]] = {}
        for of in gather.gather(book, [exports], pipeline(exports, DIALECT)):
            found.setdefault(of.name, []).append(of.status.value)
        return found

    def kept() -> dict[str, int]:
        return sweeps([of for of in store.records(book) if isinstance(of, Record)])

    assert status()["info.csv"] == ["gathered", "gathered"]
    assert {*map(tuple, status().values())} == {("unchanged",), ("unchanged", "unchanged")}
    assert kept() == {"B-21": 3, "B-22": 0}
    assert list(prove.prove(book.root, Proof())) == []
    assert "2 tests" in run("check", book.root).stdout
    (exports / "B-22" / "il.csv").write_text(FILES["B-22/il.csv"], encoding="utf-8")
    status()
    assert kept() == {"B-21": 3, "B-22": 1}
    assert list(prove.prove(book.root, Proof())) == []
