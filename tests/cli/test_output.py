"""What is printed: documents alone on stdout, tables of 80 columns, nothing a terminal obeys."""

import errno
import json
import subprocess
from pathlib import Path

import pytest

from sweepbook.audit import document
from sweepbook.cli import faults, lines
from sweepbook.cli.asked import Asked
from sweepbook.cli.deliver import write_delivery
from sweepbook.cli.desk import Desk
from sweepbook.cli.faults import PipeClosed
from sweepbook.errors import ReadProblem
from sweepbook.judging.assessment import Assessment
from sweepbook.text import width
from tests.program import DIALECTS

from .conftest import UPHELD, Run, process


def test_the_check_of_a_book_is_the_check_of_its_exports(run: Run, book: Path) -> None:
    of_book = run("check", book)
    assert of_book.exit_code == 1
    assert "3 tests: 2 upheld, 1 overturned." in of_book.stdout
    of_files = run("check", *sorted(book.glob("sources/*/*/*.csv")), *DIALECTS)
    assert sorted(of_files.stdout.splitlines()) == sorted(of_book.stdout.splitlines())


def test_a_table_keeps_to_eighty_columns(run: Run, book: Path) -> None:
    for command in (["check", book], ["show", book, "1A-P1-04"], ["doctor"], ["formats"],
                    ["limits", "list"], ["limits", "interpretations"], ["rules", "list"],
                    ["limits", "show", "tia-568.2-d/cat6a/channel"]):  # fmt: skip
        for line in run(*command).stdout.splitlines():
            assert width(line) <= 80, (command, line)


def test_a_decided_reading_is_told_where_it_decides(run: Run, book: Path) -> None:
    for command in (["check", book], ["show", book, "1A-P1-01"]):
        told = "decided by --interpretation: return-loss-below-3-db off."
        decided = run(*command, "--interpretation", "return-loss-below-3-db=off").stdout
        assert told in " ".join(decided.split())
        assert "--interpretation" not in run(*command).stdout


def test_a_failed_link_comes_with_the_caution(run: Run, book: Path) -> None:
    for command in (["check", book], ["show", book, "1A-P1-03"]):
        said = " ".join(run(*command).stdout.split())
        assert "carries no service, no remote power and no telephone voltage" in said
        assert "Local codes, the contract and licensed practice come first." in said
    assert "telephone" not in run("show", book, "1A-P1-01").stdout


def test_the_audit_document_stands_alone_on_stdout(run: Run, book: Path) -> None:
    result = run("check", book, "--json")
    assert result.exit_code == 1
    audit = json.loads(result.stdout)
    assert list(document.problems(audit)) == []
    assert [record["label"] for record in audit["records"]] == ["1A-P1-01", "1A-P1-03", "1A-P1-04"]
    assert result.stderr == ""


@pytest.mark.parametrize(
    ("arguments", "member"),
    [
        (["formats"], "formats"),
        (["limits", "list"], "limits"),
        (["limits", "show", "tia-568.2-d/cat6a/channel"], "parameters"),
        (["limits", "interpretations"], "interpretations"),
        (["rules", "list"], "rules"),
        (["doctor"], "plugins"),
    ],
)
def test_json_is_one_document(run: Run, arguments: list[str], member: str) -> None:
    result = run(*arguments, "--json")
    assert result.exit_code == 0
    assert json.loads(result.stdout)[member]


def test_gather_and_doctor_tell_a_machine_too(run: Run, tmp_path: Path) -> None:
    result = run("gather", tmp_path / "book", UPHELD, *DIALECTS, "--json")
    (source,) = json.loads(result.stdout)["sources"]
    assert (source["name"], source["status"], source["records"]) == (UPHELD.name, "gathered", 1)
    proof = json.loads(run("doctor", tmp_path / "book", "--json").stdout)
    assert (proof["records"], proof["sources"], proof["faults"]) == (1, 1, [])


def test_doctor_finds_what_was_tampered_with(run: Run, tmp_path: Path) -> None:
    run("gather", tmp_path / "book", UPHELD, *DIALECTS)
    (record,) = (tmp_path / "book").glob("records/*/*.json")
    record.write_bytes(record.read_bytes().replace(b'"pass"', b'"fail"', 1))
    result = run("doctor", tmp_path / "book")
    assert result.exit_code == 1
    assert record.name in result.stdout.replace("\n", "")
    checked = run("check", tmp_path / "book")
    assert checked.exit_code == 3, "the one record is not handed out"


def test_show_prints_the_stated_beside_the_recomputed(run: Run, book: Path) -> None:
    result = run("show", book, "1a-p1-04")
    assert result.exit_code == 1
    rows = {line[:24].strip(): line[24:].split() for line in result.stdout.splitlines()}
    assert rows["return_loss 1-2 near"][:2] == ["-5.38", "-5.38"]
    assert rows["return_loss 1-2 near"][-1] == "fail"
    assert "overturned" in result.stdout


def test_show_json_is_the_record(run: Run, book: Path) -> None:
    result = run("show", book, "1A-P1-01", "--json")
    record = json.loads(result.stdout)
    (path,) = book.glob(f"records/*/{record['record_id']}.json")
    assert result.stdout == path.read_text()


def test_show_without_a_label_names_the_labels(run: Run, book: Path) -> None:
    result = run("show", book)
    assert result.exit_code == 3
    assert "1A-P1-01, 1A-P1-03, 1A-P1-04" in result.stderr


def test_show_suggests_near_labels(run: Run, book: Path) -> None:
    assert "Near it: 1A-P1-0" in run("show", book, "1A-P1-99").stderr


def test_a_hostile_label_is_printed_as_escapes(run: Run, tmp_path: Path) -> None:
    raw = UPHELD.read_bytes().replace(b"link,1A-P1-01", "link,\x1b]0;x\x07\u202e=1+1".encode())
    (tmp_path / "hostile.csv").write_bytes(raw)
    run("gather", tmp_path / "book", tmp_path / "hostile.csv", *DIALECTS)
    for command in (["check", tmp_path / "book"], ["show", tmp_path / "book"]):
        out = run(*command).stdout
        assert "\x1b" not in out and "\x07" not in out and "\u202e" not in out
        assert r"\x1b]0;x\x07\u20" in out
    index = (tmp_path / "book" / "index.csv").read_text()
    assert r"\x1b]0;x\x07\u202e=1+1" in index


def test_a_closed_pipe_ends_it_quietly(book: Path) -> None:
    running = process("check", book, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    assert running.stdout is not None
    running.stdout.close()
    assert running.stderr is not None
    said = running.stderr.read()
    running.stderr.close()
    assert running.wait(60) == 141
    assert said == b""


def test_output_for_which_there_is_no_room_is_told_as_that(book: Path) -> None:
    with Path("/dev/full").open("wb") as full:
        running = process("check", book, stdout=full, stderr=subprocess.PIPE)
        said = running.communicate(timeout=60)[1].decode()
    assert running.returncode == 3
    assert "refused to read or to write something: No space left on device." in said
    assert "unforeseen" not in said


def test_a_name_that_no_disk_takes_is_told(run: Run, book: Path, tmp_path: Path) -> None:
    place = tmp_path / ("n" * 300)
    for words in (
        ("export", book, "--to", "xlsx", "-o", place),
        ("gather", place, book / "sources"),
    ):
        result = run(*words)
        assert result.exit_code == 3
        assert "cannot be used: File name too long." in result.stderr
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("to", ["xlsx", "json"])
def test_a_closed_pipe_is_no_fault_of_the_file_that_is_written(tmp_path: Path, to: str) -> None:
    """Such as `sweepbook demo | head`, which prints while it writes."""

    def print_it(_: Assessment) -> None:
        raise BrokenPipeError(errno.EPIPE, "Broken pipe")

    desk = Desk(Asked(dialects=tuple(text.removeprefix("--dialect=") for text in DIALECTS)))
    target = tmp_path / f"out.{to}"
    with pytest.raises(PipeClosed):
        write_delivery(desk, desk.run(), [UPHELD], to, target, "Title", print_it)
    assert not target.exists()
    assert faults.guarded(_closed) == faults.Exit.PIPE_CLOSED


def _closed() -> None:
    raise PipeClosed


def test_what_is_wrong_with_many_tests_of_a_file_is_told_once(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("COLUMNS", "200")
    told = [
        ReadProblem("a.csv", f"line {n}", f"'{n}/04/2026' fits two forms", lost_record=False)
        for n in range(1, 28)
    ]
    other = ReadProblem("a.csv", "line 9", "there is no label")
    assert list(lines.of_problems([*told, other])) == [
        "read, but: a.csv, line 1: '1/04/2026' fits two forms. "
        "The same 26 times more in this file.",
        "not read: a.csv, line 9: there is no label",
    ]


def test_an_interrupt_ends_it_with_a_word_and_the_book_is_sound(run: Run, tmp_path: Path) -> None:
    many = tmp_path / "exports"
    many.mkdir()
    for number in range(40):
        raw = UPHELD.read_bytes().replace(b"link,1A-P1-01", f"link,L-{number}".encode())
        (many / f"{number}.csv").write_bytes(raw)
    pipes = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE}
    running = process("gather", tmp_path / "book", many, *DIALECTS, interrupted=3, **pipes)
    _, said = running.communicate(timeout=60)
    assert running.returncode == 130
    assert b"Traceback" not in said
    assert said.strip().startswith(b"Stopped.")
    assert 3 <= len(list(tmp_path.glob("book/records/*/*.json"))) < 40
    assert run("doctor", tmp_path / "book").exit_code == 0
