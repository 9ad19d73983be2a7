"""`correct` stopped between the journal and the table: nothing lost, and finished by the next."""

import csv
import json
import shutil
from pathlib import Path

import pytest

from sweepbook import files
from sweepbook.book import corrections, journal, store
from sweepbook.book.layout import open_book
from tests.program import run

from .conftest import BY, DIALECT, EXPORTS


class Killed(BaseException):
    """Stands for the end of the process."""


@pytest.fixture
def stopped(gathered: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A book whose journal tells of a correction that a program was stopped before it kept."""
    folder = shutil.copytree(gathered, tmp_path / "stopped")

    def dying(_: Path) -> None:
        raise Killed

    with monkeypatch.context() as patch, pytest.raises(Killed):
        patch.setattr(files, "_to_disk", dying)
        run("correct", folder, "1A-P1-01", "label", "1A-P1-11", *BY)
    assert not (folder / "corrections.csv").exists()
    return folder


def test_one_that_the_journal_alone_tells_of_is_in_use_and_told(stopped: Path) -> None:
    checked = run("check", stopped)
    assert checked.exit_code == 1
    assert "1A-P1-11  " in checked.stdout
    assert "a program was stopped before it put it there" in " ".join(checked.stdout.split())
    proved = json.loads(run("doctor", stopped, "--json").stdout)
    assert [(one["place"], one["damage"]) for one in proved["faults"]] == [
        ("corrections.csv", False)
    ]
    opened = open_book(stopped)
    contents = store.contents_of(opened)
    assert corrections.load(opened, contents).sha256 == contents.table_sha256


NEXT: dict[str, tuple[tuple[str | Path, ...], int]] = {
    "the same again": (("correct", "BOOK", "1A-P1-01", "label", "1A-P1-11", *BY), 3),
    "another one": (("correct", "BOOK", "1A-P1-03", "operator", "op-9", *BY), 0),
    "gather": (("gather", "BOOK", *EXPORTS, DIALECT), 0),
    "withdraw": (("withdraw", "BOOK", "heron-1A-P1-03.csv", *BY), 0),
}


@pytest.mark.parametrize("command", NEXT)
def test_the_next_that_writes_puts_it_into_the_table(stopped: Path, command: str) -> None:
    words, code = NEXT[command]
    named = [stopped if word == "BOOK" else word for word in words]
    assert run(*named).exit_code == code
    faults = json.loads(run("doctor", stopped, "--json").stdout)["faults"]
    assert [one["place"] for one in faults if not one["place"].startswith("sources/")] == []
    with (stopped / "corrections.csv").open(newline="", encoding="utf-8") as stream:
        rows = [(row["field"], row["to"]) for row in csv.DictReader(stream)]
    assert rows[0] == ("link.label", "1A-P1-11")
    assert len(rows) == (2 if command == "another one" else 1)
    told = [one for one in journal.read(stopped / "journal.jsonl") if one.event == "corrected"]
    assert len(told) == len(rows)


def test_a_bag_has_it_in_its_table(stopped: Path, tmp_path: Path) -> None:
    before = {path: path.read_bytes() for path in stopped.rglob("*") if path.is_file()}
    assert run("archive", "make", stopped, tmp_path / "bag").exit_code == 0
    (table,) = (tmp_path / "bag").rglob("book/corrections.csv")
    assert b"1A-P1-11" in table.read_bytes()
    assert run("archive", "verify", tmp_path / "bag").exit_code == 0
    after = {path: path.read_bytes() for path in stopped.rglob("*") if path.is_file()}
    assert after == before


def test_what_a_hand_wrote_in_the_meantime_stays_and_the_rest_is_told(stopped: Path) -> None:
    record_id = next((stopped / "records").rglob("*.json")).stem
    titles = "record,field,from,to,who,when,why\n"
    by_hand = f"{titles}{record_id},test.operator,,op-9,T. Vane,2024-05-02,asked\n".encode()
    (stopped / "corrections.csv").write_bytes(by_hand)
    assert run("gather", stopped, *EXPORTS, DIALECT).exit_code == 0
    assert (stopped / "corrections.csv").read_bytes() == by_hand
    checked = " ".join(run("check", stopped).stdout.split())
    assert "Corrections that the journal tells of and that are not in it: 1" in checked
    assert run("doctor", stopped).exit_code == 1


def test_the_table_of_a_spreadsheet_is_finished_in_its_own_form(
    book: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Parted by semicolons, and without an end of its last line."""
    place = book / "corrections.csv"
    place.write_bytes(place.read_bytes().replace(b",", b";").rstrip(b"\n"))
    before = place.read_bytes()

    def dying(_: Path) -> None:
        raise Killed

    with monkeypatch.context() as patch, pytest.raises(Killed):
        patch.setattr(files, "_to_disk", dying)
        run("correct", book, "1A-P1-03", "operator", "op-9", *BY)
    assert place.read_bytes() == before
    assert run("gather", book, *EXPORTS, DIALECT).exit_code == 0
    assert place.read_bytes().startswith(before + b"\n")
    assert place.read_bytes().count(b";op-9;") == 1
    assert run("doctor", book).exit_code == 0


def test_one_that_cannot_be_kept_is_not_entered(
    gathered: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = shutil.copytree(gathered, tmp_path / "full")
    before = (folder / "journal.jsonl").read_bytes()

    def full(path: Path, data: bytes) -> int:
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr(Path, "write_bytes", full)
        done = run("correct", folder, "1A-P1-01", "label", "1A-P1-11", *BY)
    assert done.exit_code == 3
    assert "No space left on device" in done.stderr
    assert (folder / "journal.jsonl").read_bytes() == before
    assert not (folder / "corrections.csv").exists()
