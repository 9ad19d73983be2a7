"""What is withdrawn is out of every list and delivery, and each of them says so."""

import contextlib
import json
import shutil
import sqlite3
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from sweepbook import schemas
from sweepbook.schedule import document as documents
from tests.program import DEMO, DIALECTS, run

BY = ("--who", "K. Orme", "--why", "folder of another building")
SCHEDULE = ("--schedule", DEMO / "schedule.csv")
GONE = "1A-P1-04"


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two demo links, and a third one out of another folder, withdrawn. Do not write to it."""
    folder = tmp_path_factory.mktemp("withdrawn")
    for place, name in (("east", "01"), ("east", "03"), ("west", "04")):
        (folder / place).mkdir(exist_ok=True)
        shutil.copy(DEMO / "exports" / f"heron-1A-P1-{name}.csv", folder / place)
    assert (
        run("gather", folder / "book", folder / "east", folder / "west", *DIALECTS).exit_code == 0
    )
    said = run("withdraw", folder / "book", folder / "west", *BY)
    assert said.exit_code == 0
    assert "1 file withdrawn; 1 test counts no more." in " ".join(said.stdout.split())
    return folder / "book"


def words(*command: str | Path) -> str:
    return " ".join(run(*command).output.split())


def test_no_list_counts_it_and_each_says_that_something_is_withdrawn(book: Path) -> None:
    for command in (("check",), ("retests",), ("reconcile", *SCHEDULE), ("testers",)):
        said = words(command[0], book, *command[1:])
        assert "Withdrawn, and not counted here: heron-1A-P1-04.csv on " in said, command
        assert "folder of another building" in said
    assert json.loads(run("check", book, "--json").stdout)["summary"]["records"] == 2
    document = json.loads(run("reconcile", book, *SCHEDULE, "--json").stdout)
    (link,) = [row for row in document["links"] if row["label"] == GONE]
    assert link["state"] == "untested"
    assert "withdrawn" in link["remarks"][-1]
    assert list(documents.problems(document)) == []
    again = json.loads(run("retests", book, *SCHEDULE, "--json").stdout)
    for one in (document, again):
        assert one["withdrawn"].startswith("heron-1A-P1-04.csv on ")
    assert list(schemas.problems(again, "retests-0.schema.json")) == []


def test_it_is_asked_for_by_its_label_and_told(book: Path) -> None:
    for command in (("show",), ("compare",)):
        result = run(*command, book, GONE)
        assert result.exit_code == 3
        assert "is withdrawn" in result.stderr
        see = "".join(result.stderr.split()).partition("sweepbookshow")[2]
        assert json.loads(Path(see).read_text())["link"]["label"] == GONE
    said = words("withdraw", book)
    assert "west/heron-1A-P1-04.csv): 1 test (K. Orme, " in said
    assert "east: 2 files, 2 tests" in said


def test_deliveries_lack_it_and_say_why(book: Path, tmp_path: Path) -> None:
    for form, name in (("xlsx", "x.xlsx"), ("as-built", "x.sqlite"), ("report", "x.html")):
        assert run("export", book, "--to", form, "-o", tmp_path / name).exit_code == 0
    sheets = openpyxl.load_workbook(tmp_path / "x.xlsx", read_only=True)
    assert "Withdrawn" in [row[0] for row in sheets["Summary"].values]
    cells = [str(cell) for sheet in sheets for row in sheet.values for cell in row if cell]
    page = (tmp_path / "x.html").read_text()
    with sqlite3.connect(tmp_path / "x.sqlite") as database:
        rows: list[Any] = database.execute("SELECT label FROM link").fetchall()
        told = "\n".join(database.iterdump())
    database.close()
    assert (GONE,) not in rows
    assert GONE not in cells
    for text in ("\n".join(cells), page, told):
        assert "heron-1A-P1-04.csv on " in text
        assert "folder of another building" in text
        assert "K. Orme" not in text


def test_a_database_that_had_it_before_lets_it_go_and_takes_it_back(
    book: Path, tmp_path: Path
) -> None:
    own = shutil.copytree(book, tmp_path / "own")
    words = ("export", own, "--to", "as-built", "-o", tmp_path / "x.sqlite", *SCHEDULE)
    whole: list[object] = []
    for back, links in ((True, {"1A-P1-01", "1A-P1-03", GONE}), (False, {"1A-P1-01", "1A-P1-03"})):
        for _ in range(2):  # the second time with the database of the first
            again = ("--back",) if back else ()
            assert run("withdraw", own, "heron-1A-P1-04.csv", *again, *BY).exit_code == 0
            assert run(*words).exit_code == 0
            with sqlite3.connect(tmp_path / "x.sqlite") as database:
                ask = database.execute
                assert {row[0] for row in ask("SELECT label FROM link")} == links
                assert ask("SELECT count(*) FROM test").fetchone() == (len(links),)
                assert ask("PRAGMA foreign_key_check").fetchall() == []
                state = "SELECT label, state FROM schedule_state WHERE label = ?"
                whole.append(ask(state, (GONE,)).fetchall())
            database.close()
    assert whole[:2] == [[(GONE, "failed")]] * 2
    assert whole[2:] == [[(GONE, "untested")]] * 2


def test_a_bag_carries_it_and_its_audit_is_repeated_with_it(book: Path, tmp_path: Path) -> None:
    bag = tmp_path / "bag"
    assert run("archive", "make", book, bag).exit_code == 0
    assert list((bag / "data/book/sources").glob("*/*/heron-1A-P1-04.csv"))
    assert "Withdrawn" in (bag / "README.txt").read_text()
    result = run("archive", "verify", bag, "--json")
    assert result.exit_code == 0
    document = json.loads(result.stdout)
    assert document["audit"]["records"] == 2
    assert [r for r in document["audit"]["remarks"] if r.startswith("Withdrawn, and not judged: ")]


def test_a_wrong_folder_read_with_a_forced_dialect_comes_out_again(tmp_path: Path) -> None:
    """Files of another kind, of which nothing but problems came."""
    good, wrong, book = tmp_path / "good", tmp_path / "wrong", tmp_path / "book"
    good.mkdir()
    wrong.mkdir()
    shutil.copy(DEMO / "exports" / "heron-1A-P1-01.csv", good)
    (wrong / "prices.csv").write_text("item;price\ncable;3\n")
    (wrong / "notes.csv").write_text("who,what\nK,x\n")
    assert run("gather", book, good, *DIALECTS).exit_code == 0
    one = f"--dialect={DEMO / 'dialects' / 'brindlewick-heron-5.toml'}"
    assert run("gather", book, wrong, one).exit_code != 0
    assert run("check", book).exit_code == 1
    result = run("withdraw", book, wrong, *BY)
    assert "2 files withdrawn; 0 tests count no more." in " ".join(result.stdout.split())
    assert run("check", book).exit_code == 0
    assert run("doctor", book).exit_code == 0
    assert run("gather", book, good, wrong, *DIALECTS).exit_code == 0


def test_everything_withdrawn_and_wrong_use_say_what_to_do(book: Path, tmp_path: Path) -> None:
    copy = shutil.copytree(book, tmp_path / "copy")
    assert run("withdraw", copy, "heron-*", *BY).exit_code == 0
    result = run("check", copy)
    assert result.exit_code == 3
    assert "but what is withdrawn" in result.stderr
    assert "--back" in result.stderr
    result = run("archive", "make", copy, tmp_path / "bag")
    assert result.exit_code == 3
    assert f"There is no test in {copy} but what is withdrawn" in " ".join(result.stderr.split())
    for wrong in (
        ("heron-1A-P1-01.csv",),
        ("x.csv", *BY),
        ("heron-*", "--who", "a\nb", "--why", "c"),
    ):
        assert run("withdraw", copy, *wrong).exit_code == 3
    assert "3 tests count again" in " ".join(
        run("withdraw", copy, "*", "--back", *BY).stdout.split()
    )


def test_the_same_file_in_a_wrong_and_a_right_folder_leaves_no_dead_end(tmp_path: Path) -> None:
    wrong, right, book = tmp_path / "wrong", tmp_path / "right", tmp_path / "book"
    for folder in (wrong, right):
        folder.mkdir()
        shutil.copy(DEMO / "exports" / "heron-1A-P1-01.csv", folder)
    assert run("gather", book, wrong, *DIALECTS).exit_code == 0
    told = words("withdraw", book, wrong, *BY)
    assert "No test counts now in" in told
    told = words("gather", book, right, *DIALECTS)
    (line,) = [part for part in told.split("take it back in: sweepbook ")[1:]]
    command = line.split(" --who")[0].split()
    assert words(*command, *BY).endswith("1 test counts again.")
    told = words("withdraw", book, wrong, *BY)
    assert "counts on: heron-1A-P1-01.csv" in told
    assert "right/heron-1A-P1-01.csv too" in told
    (line,) = [part for part in told.split("all of its places at once: sweepbook ")[1:]]
    assert "No test counts now" in words(*line.split(" --who")[0].split(), *BY)
    assert words("withdraw", book, right, "--back", *BY).endswith("1 test counts again.")
    assert run("doctor", book).exit_code == 0


def test_an_export_since_a_day_tells_what_was_withdrawn_from_then_on(
    book: Path, tmp_path: Path
) -> None:
    whole, delta = tmp_path / "whole.sqlite", tmp_path / "delta.sqlite"
    copy = shutil.copytree(book, tmp_path / "book")
    export = ("export", copy, "--to", "as-built", "-o")
    assert run("withdraw", copy, "heron-*04.csv", "--back", *BY).exit_code == 0
    words(*export, whole)
    assert run("withdraw", copy, "heron-*04.csv", *BY).exit_code == 0
    told = words(*export, delta, "--since", "2000-01-01", *SCHEDULE)
    assert "2 new, 1 changed." in told
    assert "In that is what was withdrawn on " in told
    assert "heron-1A-P1-04.csv: folder of another building (with tests of 1A-P1-04)" in told
    of_link = "SELECT {} FROM {} WHERE label = '1A-P1-04'"
    assert asked(delta, of_link.format("link_id, change", "changed_link")) == [
        (*number, "changed") for number in asked(whole, of_link.format("id", "link"))
    ]
    assert asked(delta, of_link.format("state", "scheduled")) == [("untested",)]
    assert asked(delta, of_link.format("id", "link")) == []
    told = words(*export, tmp_path / "none.sqlite", "--since", "2999-01-01")
    assert "nothing did" in told
    assert "withdrawn on" not in told.partition("none.sqlite")[2]


def asked(database: Path, question: str) -> list[tuple[Any, ...]]:
    with contextlib.closing(sqlite3.connect(database)) as connection:
        return connection.execute(question).fetchall()


def test_a_stated_fail_among_what_is_withdrawn_is_named(tmp_path: Path) -> None:
    for place, name in (("east", "01"), ("west", "03"), ("west", "04")):
        (tmp_path / place).mkdir(exist_ok=True)
        shutil.copy(DEMO / "exports" / f"heron-1A-P1-{name}.csv", tmp_path / place)
    book = tmp_path / "book"
    run("gather", book, tmp_path / "east", tmp_path / "west", *DIALECTS)
    said = words("withdraw", book, tmp_path / "west", *BY)
    assert "2 tests count no more. 1 stated fail among them: 1A-P1-03. A test is not to be" in said
    assert "1 stated fail among them: 1A-P1-03." in words(
        "withdraw", book, tmp_path / "west", "--back", *BY
    )
    assert "stated fail" not in words("withdraw", book, tmp_path / "east", *BY)
