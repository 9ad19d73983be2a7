"""Kills, full disks and folders that nobody may write to: nothing half is taken for whole."""

import json
import shutil
import signal
import sqlite3
from itertools import count
from pathlib import Path

import pytest

from tests.program import DEMO, DIALECTS

from .conftest import Limited

HERONS = sorted((DEMO / "exports").glob("heron-1A-*.csv"))
EXPORTS = {"xlsx": "out.xlsx", "as-built": "out.sqlite", "report": "out.html", "json": "out.json"}


def _content(target: Path) -> object:
    """What a file says; of a database its rows, since its pages may be written anew."""
    if target.suffix != ".sqlite":
        return target.read_bytes()
    with sqlite3.connect(target) as database:
        assert database.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        return [database.execute(f"SELECT * FROM {name}").fetchall() for name in ("link", "test")]


@pytest.mark.parametrize("steps", [1, 4, 11])
def test_a_gathering_that_is_killed_is_completed_by_the_next(
    unlimited: Limited, tmp_path: Path, steps: int
) -> None:
    words = ("gather", tmp_path / "book", *HERONS[:3], *DIALECTS)
    assert unlimited(*words, steps=steps, folder=str(tmp_path)).exit_code == -signal.SIGKILL
    assert unlimited(*words).exit_code == 0
    told = json.loads(unlimited("doctor", tmp_path / "book", "--json").output)
    assert not [fault for fault in told["faults"] if fault["damage"]]
    assert told["records"] == 3


ENTERED = {
    "correct": ("1A-P1-01", "operator", "op-99"),
    "withdraw": ("heron-*",),
    "accept": ("REC003", "1A-P1-01"),
}
BY = ("--who", "K. Orme", "--why", "seen on the panel")


@pytest.mark.parametrize("command", ENTERED)
def test_what_is_entered_into_a_book_is_there_whole_or_not_at_all_at_whatever_step_it_was_killed(
    unlimited: Limited, book: Path, tmp_path: Path, command: str
) -> None:
    kept = ("journal.jsonl", "corrections.csv", "project.toml")
    seen: set[tuple[bool, ...]] = set()
    for steps in count():
        own = Path(shutil.copytree(book, tmp_path / str(steps)))
        before = {name: _bytes(own / name) for name in kept}
        words = (command, own, *ENTERED[command], *BY)
        done = unlimited(*words, steps=steps, folder=str(own))
        if done.exit_code == 0:
            break
        assert done.exit_code == -signal.SIGKILL
        after = {name: _bytes(own / name) for name in kept}
        assert all(after[name].startswith(before[name]) for name in kept)
        assert all(raw.endswith(b"\n") or not raw for raw in after.values())
        seen.add(tuple(after[name] != before[name] for name in kept))
        told = json.loads(unlimited("doctor", own, "--json").output)
        assert not [fault for fault in told["faults"] if fault["damage"]]
        assert "does not tell of it" not in str(told["faults"]), "what is in use is in the journal"
        assert ("seen on the panel" in unlimited(command, own).text) is (after != before)
        again = unlimited(*words)
        assert again.exit_code == 0 or "already. Nothing is to do." in again.text
        assert "seen on the panel" in unlimited(command, own).text
        told = json.loads(unlimited("doctor", own, "--json").output)
        assert "was stopped" not in str(told["faults"])
    assert steps > 5
    between = {(True, False, False)} if command == "correct" else set()
    assert len(seen - between) == 2, "some were killed before it was there, and some after"
    assert between <= seen


def _bytes(path: Path) -> bytes:
    return path.read_bytes() if path.exists() else b""


@pytest.mark.parametrize("form", ["xlsx", "as-built", "report"])
def test_an_export_that_is_killed_leaves_what_was_there(
    unlimited: Limited, book: Path, tmp_path: Path, form: str
) -> None:
    target = tmp_path / EXPORTS[form]
    words = ("export", book, "--to", form, "-o", target)
    assert unlimited(*words).exit_code == 0
    before = _content(target)
    assert unlimited(*words, steps=1, folder=str(tmp_path)).exit_code == -signal.SIGKILL
    assert _content(target) == before
    assert unlimited(*words).exit_code == 0


@pytest.mark.parametrize("steps", [0, 20, 39, 45, 57])
def test_tables_of_which_some_are_new_say_so(
    unlimited: Limited, book: Path, tmp_path: Path, steps: int
) -> None:
    target = tmp_path / "tables"
    words = ("export", book, "--to", "tables", "-o", target)
    assert unlimited(*words).exit_code == 0
    before = {path.name: path.stat().st_ino for path in target.iterdir()}
    assert unlimited(*words, steps=steps, folder=str(target)).exit_code == -signal.SIGKILL
    after = {path.name: path.stat().st_ino for path in target.glob("*.csv")}
    new = sum(after[name] != before[name] for name in before)
    assert after.keys() == before.keys()
    assert (target / "UNFINISHED.txt").is_file() == (new > 0) == (steps > 38)
    assert unlimited(*words).exit_code == 0
    assert sorted(path.name for path in target.iterdir()) == sorted(before)


@pytest.mark.parametrize("steps", [2, 30])
def test_a_bag_is_there_whole_or_not_at_all(
    unlimited: Limited, book: Path, tmp_path: Path, steps: int
) -> None:
    words = ("archive", "make", book, tmp_path / "bag")
    assert unlimited(*words, steps=steps, folder=str(tmp_path)).exit_code == -signal.SIGKILL
    assert not (tmp_path / "bag").exists()
    assert unlimited(*words).exit_code == 0
    assert unlimited("archive", "verify", tmp_path / "bag").exit_code == 0


@pytest.mark.parametrize("form", EXPORTS)
def test_an_export_to_a_full_disk_leaves_what_was_there(
    unlimited: Limited, book: Path, tmp_path: Path, form: str
) -> None:
    target = tmp_path / EXPORTS[form]
    words = ("export", book, "--to", form, "-o", target)
    assert unlimited(*words).exit_code == 0
    before, there = _content(target), sorted(tmp_path.iterdir())
    done = unlimited(*words, file_size=4_096)
    assert done.exit_code == 3, done.output
    assert target.name in done.output.replace("\n", "")
    assert "tell the authors" not in done.text, "it is the disk that is at fault"
    assert _content(target) == before
    assert sorted(tmp_path.iterdir()) == there


@pytest.mark.parametrize("size", [1_000, 17_000])
def test_tables_on_a_full_disk_stay_those_of_before(
    unlimited: Limited, book: Path, tmp_path: Path, size: int
) -> None:
    """Of the larger size a table lacks its last bytes, which go to the disk as it is closed."""
    target = tmp_path / "tables"
    words = ("export", book, "--to", "tables", "-o", target)
    assert unlimited(*words).exit_code == 0
    before = {path.name: path.stat().st_ino for path in target.iterdir()}
    assert (target / "margins.csv").stat().st_size > size
    done = unlimited(*words, file_size=size)
    assert done.exit_code == 3, done.output
    assert "cannot be written" in done.text
    assert {path.name: path.stat().st_ino for path in target.iterdir()} == before


def test_a_gathering_on_a_full_disk_is_completed_later(unlimited: Limited, tmp_path: Path) -> None:
    words = ("gather", tmp_path / "book", *HERONS[:2], *DIALECTS)
    done = unlimited(*words, file_size=100_000)
    assert done.exit_code == 3, done.output
    assert "cannot be written" in done.text
    assert unlimited(*words).exit_code == 0
    assert unlimited("doctor", tmp_path / "book").exit_code == 0


def test_a_bag_on_a_full_disk_is_none(unlimited: Limited, book: Path, tmp_path: Path) -> None:
    done = unlimited("archive", "make", book, tmp_path / "bag", file_size=50_000)
    assert done.exit_code == 3, done.output
    assert list(tmp_path.iterdir()) == []


def test_a_clock_that_goes_back_does_no_harm(
    unlimited: Limited, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from tests.program import run

    book = tmp_path / "book"
    for moment, export in (("1800000000", HERONS[0]), ("1000000000", HERONS[1])):
        monkeypatch.setenv("SOURCE_DATE_EPOCH", moment)
        assert run("gather", book, export, *DIALECTS).exit_code == 0
    assert unlimited("doctor", book).exit_code == 0
    assert "2 tests" in unlimited("check", book).text
