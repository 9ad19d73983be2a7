"""What the program tells the shell, and that each fault is told with what to do."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from sweepbook import reading
from sweepbook.belonging import Chosen
from sweepbook.errors import ReadProblem
from sweepbook.reading import ReaderCrash
from sweepbook.record.model import Record
from sweepbook.source import Source
from tests.program import DIALECTS

from .conftest import FAILED, OVERTURNED, UPHELD, Run


@pytest.mark.parametrize(
    "arguments",
    [
        ["chekc"],
        ["check"],
        ["check", "no/such/file.csv"],
        ["check", str(UPHELD), "--colour"],
        ["check", str(UPHELD), "--fail-on", "tuesday"],
        ["check", str(UPHELD), "--from", "nonsense"],
        ["check", str(UPHELD), "--dialect", "no-such-dialect"],
        ["check", str(UPHELD), "--against", "no such limit"],
        ["check", str(UPHELD), "--interpretation", "nonsense=on"],
        ["check", str(UPHELD), "--interpretation", "nonsense"],
        ["convert", str(UPHELD), "--to", "nonsense", "-o", "x"],
        ["convert", str(UPHELD), "--to", "json"],
        ["export", str(UPHELD), "--to", "json", "-o", "x"],
        ["doctor", str(UPHELD)],
        ["limits", "show", "no such limit"],
        ["rules", "show", "XYZ999"],
        ["gather", str(UPHELD), str(UPHELD)],
        ["gather", str(UPHELD.parent), str(UPHELD)],
        ["show", str(UPHELD), "no-such-label", *DIALECTS],
    ],
    ids=lambda arguments: " ".join(Path(part).name for part in arguments[:4]),
)
def test_wrong_use_is_3_and_says_what_to_do(run: Run, arguments: list[str]) -> None:
    result = run(*arguments)
    assert result.exit_code == 3
    assert result.stdout == ""
    assert "Error: " in result.stderr
    todo = result.stderr.split("Error: ")[1].splitlines()[1:]
    assert todo or "Try 'sweepbook" in result.stderr, "what to do next"


def test_nothing_that_can_be_read_is_3(run: Run, tmp_path: Path) -> None:
    (tmp_path / "notes.doc").write_text("hello")
    for command in (["check"], ["gather", str(tmp_path / "book")]):
        result = run(*command, tmp_path / "notes.doc")
        assert result.exit_code == 3
        assert "notes.doc" in result.output


def test_nothing_to_convert_writes_nothing(run: Run, tmp_path: Path) -> None:
    (tmp_path / "notes.doc").write_text("hello")
    result = run("convert", tmp_path / "notes.doc", "--to", "json", "-o", tmp_path / "out.json")
    assert result.exit_code == 3
    assert not (tmp_path / "out.json").exists()


@pytest.mark.parametrize(("export", "code"), [(UPHELD, 0), (FAILED, 0), (OVERTURNED, 1)])
def test_an_upheld_fail_is_no_finding_and_an_overturned_pass_is(
    run: Run, export: Path, code: int
) -> None:
    assert run("check", export, *DIALECTS).exit_code == code


@pytest.mark.parametrize(("export", "code"), [(UPHELD, 0), (FAILED, 1)])
def test_fail_on_failed_makes_it_one(run: Run, export: Path, code: int) -> None:
    assert run("check", export, *DIALECTS, "--fail-on", "failed").exit_code == code


def test_a_problem_in_reading_is_1_and_the_rest_is_done(run: Run, tmp_path: Path) -> None:
    (tmp_path / "a.csv").write_bytes(UPHELD.read_bytes())
    (tmp_path / "b.doc").write_text("hello")
    book, out = tmp_path / "book", tmp_path / "out.json"
    assert run("check", tmp_path, *DIALECTS).exit_code == 1
    gathered = run("gather", book, tmp_path, *DIALECTS)
    assert gathered.exit_code == 1
    assert "gathered: a.csv: 1 test, 1 new" in gathered.stdout
    assert "refused: b.doc" in gathered.stdout
    assert run("convert", tmp_path, *DIALECTS, "--to", "json", "-o", out).exit_code == 1
    assert out.exists()
    assert run("check", book).exit_code == 0, "what was refused is not in the book"


def test_a_reader_that_crashes_is_2(
    run: Run, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    real = reading._isolated

    def crashing(source: Source, chosen: Chosen) -> Iterator[Record | ReadProblem]:
        yield from real(source, chosen)
        yield ReaderCrash("a.csv", "", "crashed")

    monkeypatch.setattr(reading, "_isolated", crashing)
    assert run("check", UPHELD, *DIALECTS).exit_code == 2
    assert run("gather", tmp_path / "book", UPHELD, *DIALECTS).exit_code == 2


def test_a_rule_that_crashes_is_2_and_is_named(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    from sweepbook.rules import bindings

    def crashing(_: object) -> object:
        raise ZeroDivisionError("rule gone wrong")

    name = "verdict_follows"
    assert name in bindings.CHECKS
    monkeypatch.setattr(bindings, "CHECKS", {**bindings.CHECKS, name: crashing})
    monkeypatch.setattr("sweepbook.rules.catalogue.CHECKS", bindings.CHECKS, raising=False)
    result = run("check", UPHELD, *DIALECTS)
    assert "crashed and says nothing here" in result.stdout
    assert result.exit_code == 2


def test_a_fault_of_our_own_is_2_without_a_traceback(
    run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object) -> None:
        raise KeyError("x\x1b[31m")

    monkeypatch.setattr("sweepbook.reading.sources_of", broken)
    monkeypatch.delenv("SWEEPBOOK_TRACEBACK", raising=False)
    result = run("check", UPHELD, *DIALECTS)
    assert result.exit_code == 2
    assert "SWEEPBOOK_TRACEBACK=1" in result.stderr
    assert "\x1b" not in result.stderr
