"""Sources that count no more: nothing is lost, everybody sees it, and no kill leaves half of it."""

import json
import multiprocessing
import os
import signal
from pathlib import Path
from typing import Any

import pytest

from sweepbook import files, schemas
from sweepbook.book import corrections, journal, store
from sweepbook.book.gather import Status
from sweepbook.book.journal import Line
from sweepbook.book.layout import Book, open_book
from sweepbook.book.proof import Proof
from sweepbook.book.prove import prove
from sweepbook.book.withdraw import NotMeant, in_words, known, withdraw
from sweepbook.corrections.model import Correction
from sweepbook.record.model import Record

from .simple import Job

TEXTS = {
    "a": "A-1,pass,1\nSAME,pass,5\n",
    "b": "B-1,pass,1\nSAME,pass,5\n! a line of another program\n",
    "c": "C-1,fail,9\n",
}
BY = ("K. Orme", "folder of another building")


@pytest.fixture
def job(tmp_path: Path) -> Job:
    job = Job.begin(tmp_path, **TEXTS)
    job.gather()
    return job


def labels(book: Book) -> list[str]:
    return [item.label for item in store.records(book) if isinstance(item, Record)]


def evidence(job: Job) -> dict[str, bytes]:
    kept = job.snapshot().items()
    return {place: raw for place, raw in kept if place.startswith(("records/", "sources/"))}


def damage(book: Book) -> list[str]:
    return [fault.message for fault in prove(book.root, Proof()) if fault.damage]


def test_what_is_withdrawn_counts_no_more_and_is_all_there(job: Job) -> None:
    before = evidence(job)
    done = withdraw(job.book, ["b.txt"], *BY)
    assert (len(done.changed), done.records, done.elsewhere) == (1, 1, 1)
    assert labels(job.book) == ["A-1", "C-1", "SAME"]
    assert not [item for item in store.records(job.book) if not isinstance(item, Record)]
    assert "B-1" not in job.book.index.read_text()
    assert "b.txt" not in job.book.index.read_text()
    assert evidence(job) == before
    faults = list(prove(job.book.root, Proof()))
    assert [fault.damage for fault in faults] == [False]
    assert "K. Orme" in faults[0].message
    *_, last = journal.read(job.book.journal)
    assert (last.event, last.body["who"], last.body["why"]) == ("withdrawn", *BY)
    schema = schemas.schema("book-0.schema.json")
    shape = {"$schema": schema["$schema"], "$defs": schema["$defs"], "$ref": "#/$defs/line"}
    assert list(schemas.errors(dict(last.body), shape)) == []
    assert list(schemas.errors({**last.body, "sources": []}, shape)) != []


def test_a_second_time_changes_nothing_and_back_is_as_before(job: Job) -> None:
    whole, index = labels(job.book), job.book.index.read_bytes()
    withdraw(job.book, ["b.txt", "c.txt"], *BY)
    once = job.snapshot()
    again = withdraw(job.book, ["b.txt"], "Somebody", "else")
    assert (again.changed, len(again.as_before), again.records) == ((), 1, 0)
    assert job.snapshot() == once
    done = withdraw(job.book, ["b.txt", "c.txt"], *BY, back=True)
    assert (len(done.changed), done.records) == (2, 2)
    assert (labels(job.book), job.book.index.read_bytes()) == (whole, index)
    assert [line.event for line in journal.read(job.book.journal)][-2:] == ["withdrawn", "returned"]
    assert in_words(job.book) == ""


def test_gathering_it_again_leaves_it_out_until_it_is_taken_back_in(job: Job) -> None:
    withdraw(job.book, [str(job.exports / "c.txt")], *BY)
    before = job.snapshot()
    outcomes = {outcome.name: outcome for outcome in job.gather()}
    assert outcomes["c.txt"].status is Status.WITHDRAWN
    assert "K. Orme" in outcomes["c.txt"].withdrawn
    assert job.snapshot() == before
    withdraw(job.book, ["c.txt"], *BY, back=True)
    assert {outcome.withdrawn for outcome in job.gather()} == {""}


def test_a_correction_of_it_rests_and_comes_back_with_it(job: Job) -> None:
    (record,) = [r for r in store.records(job.book) if isinstance(r, Record) and r.label == "C-1"]
    entered = Correction(record.record_id, "link.label", "C-1", "C-9", "K", "2026-03-01", "typed")
    corrections.enter(job.book, entered)
    withdraw(job.book, ["c.txt"], *BY)
    held = corrections.load(job.book, store.contents_of(job.book))
    assert (held.by_record, held.problems, len(held.at_rest)) == ({}, (), 1)
    withdraw(job.book, ["c.txt"], *BY, back=True)
    found = [one.label for one in corrections.records(job.book) if isinstance(one, Record)]
    assert "C-9" in found


@pytest.mark.parametrize(
    ("asked", "names"),
    [
        ("b.txt", ["b.txt"]),
        ("{exports}", ["a.txt", "b.txt", "c.txt"]),
        ("{exports}/", ["a.txt", "b.txt", "c.txt"]),
        ("{exports}/../exports/b.txt", ["b.txt"]),
        ("[ab].txt", ["a.txt", "b.txt"]),
        ("*/exports/c*", ["c.txt"]),
        ("{digest}", ["a.txt"]),
        ("{digest:.6}", ["a.txt"]),
    ],
)
def test_it_is_named_by_name_path_folder_pattern_or_digest(
    job: Job, asked: str, names: list[str]
) -> None:
    digest = next(one.sha256 for one in known(store.contents_of(job.book)) if one.name == "a.txt")
    done = withdraw(job.book, [asked.format(exports=job.exports, digest=digest)], *BY)
    assert [one.name for one in done.changed] == names


@pytest.mark.parametrize("asked", ["d.txt", "exports", "*.csv", "0000", "", "b"])
def test_what_is_not_there_is_refused_and_nothing_is_written(job: Job, asked: str) -> None:
    before = job.snapshot()
    with pytest.raises(NotMeant):
        withdraw(job.book, ["a.txt", asked], *BY)
    assert job.snapshot() == before


def test_one_name_of_two_files_is_told(tmp_path: Path, job: Job) -> None:
    other = tmp_path / "other" / "a.txt"
    other.parent.mkdir()
    other.write_text("Z-1,pass,1\n")
    Job(other.parent, job.book).gather()
    with pytest.raises(NotMeant, match=r"2 sources .*exports/a\.txt; .*other/a\.txt"):
        withdraw(job.book, ["a.txt"], *BY)
    withdraw(job.book, [str(other)], *BY)
    assert "Z-1" not in labels(job.book)
    assert "A-1" in labels(job.book)


class Killed(BaseException):
    """Stands for the end of the process."""


def _dies(*_: object) -> None:
    raise Killed


@pytest.mark.parametrize(
    ("module", "step", "counts"), [(journal, "_add", 4), (files, "_to_disk", 2)]
)
def test_whoever_died_before_the_line_or_after_it_is_completed(
    job: Job, monkeypatch: pytest.MonkeyPatch, module: Any, step: str, counts: int
) -> None:
    """There are two steps towards the disk: the line of the journal, and the index."""
    with monkeypatch.context() as patch, pytest.raises(Killed):
        patch.setattr(module, step, _dies)
        withdraw(job.book, ["b.txt", "c.txt"], *BY)
    assert len(labels(job.book)) == counts
    assert damage(job.book) == []
    withdraw(job.book, ["b.txt", "c.txt"], *BY)
    assert labels(job.book) == ["A-1", "SAME"]
    assert [line.event for line in journal.read(job.book.journal)].count("withdrawn") == 1
    assert {fault.place.split("/")[0] for fault in prove(job.book.root, Proof())} == {"sources"}


def _killed_within_the_line(job: Job) -> None:
    def half(path: Path, raw: bytes) -> None:
        with path.open("ab") as stream:
            stream.write(raw[: len(raw) // 2])
        os.kill(os.getpid(), signal.SIGKILL)

    journal._add = half  # this process ends in it
    withdraw(job.book, ["b.txt", "c.txt"], *BY)


def test_a_process_killed_within_the_line_withdrew_nothing_and_the_next_does(job: Job) -> None:
    process = multiprocessing.get_context("fork").Process(
        target=_killed_within_the_line, args=(job,)
    )
    process.start()
    process.join(60)
    assert process.exitcode == -signal.SIGKILL
    assert journal.cut_off(job.book.journal) > 0
    assert labels(open_book(job.book.root)) == ["A-1", "B-1", "C-1", "SAME"]
    withdraw(job.book, ["b.txt", "c.txt"], *BY)
    assert labels(job.book) == ["A-1", "SAME"]
    assert damage(job.book) == []


def test_a_line_about_a_source_that_nobody_knows_is_damage(job: Job) -> None:
    *_, last = journal.read(job.book.journal)
    body = {
        "program": "sweepbook 0",
        "sources": [{"sha256": 64 * "0", "name": "x"}],
        "who": "K",
        "why": "w",
    }
    journal.append(job.book.journal, last, "withdrawn", body)
    assert [message for message in damage(job.book) if 64 * "0" in message]


def test_a_line_that_lacks_something_is_refused_with_what_to_do(job: Job) -> None:
    *_, last = journal.read(job.book.journal)
    journal.append(job.book.journal, last, "withdrawn", {"program": "sweepbook 9", "sources": []})
    with pytest.raises(Exception, match="Use the version of sweepbook that wrote it"):
        labels(job.book)


def test_the_first_line_of_its_kind_is_found_by_a_look_at_the_text(job: Job) -> None:
    """The quick look must know the form in which lines are written."""
    assert not journal.mentions(job.book.journal, "withdrawn")
    withdraw(job.book, ["b.txt"], *BY)
    assert journal.mentions(job.book.journal, "withdrawn")
    lines: list[Line] = list(journal.read(job.book.journal))
    assert json.loads(job.book.journal.read_bytes().splitlines()[-1])["event"] == lines[-1].event
    assert in_words(job.book).startswith("b.txt on ")
    assert "K. Orme" not in in_words(job.book)


@pytest.fixture
def twice(tmp_path: Path, job: Job) -> Job:
    """The same job, gathered a second time with `c.txt` in another folder too."""
    right = tmp_path / "right"
    right.mkdir()
    (right / "c.txt").write_text(TEXTS["c"])
    return Job(right, job.book)


def test_a_file_that_came_from_another_place_too_counts_on(job: Job, twice: Job) -> None:
    twice.gather()
    once = job.snapshot()
    twice.gather()
    assert job.snapshot() == once
    done = withdraw(job.book, [str(job.exports)], *BY)
    assert labels(job.book) == ["C-1"]
    assert [(one.name, places) for one, places in done.stay] == [
        ("c.txt", (str(twice.exports / "c.txt"),))
    ]
    assert done.left == 1
    again = withdraw(job.book, [str(job.exports)], *BY)
    assert ((again.changed), len(again.as_before), len(again.stay)) == ((), 2, 1)
    done = withdraw(job.book, [str(job.exports), str(twice.exports)], *BY)
    assert ([one.name for one in done.changed], done.left) == (["c.txt"], 0)
    assert damage(job.book) == []


@pytest.mark.parametrize("by", ["name", "digest", "pattern"])
def test_by_its_name_or_digest_it_is_withdrawn_wherever_it_came_from(
    job: Job, twice: Job, by: str
) -> None:
    twice.gather()
    (one,) = [one for one in known(store.contents_of(job.book)) if one.name == "c.txt"]
    assert len(one.came_from) == 2
    text = {"name": "c.txt", "digest": one.sha256[:12], "pattern": "c*"}[by]
    assert not withdraw(job.book, [text], *BY).stay
    assert "C-1" not in labels(job.book)


def test_what_is_withdrawn_and_given_from_elsewhere_comes_back_by_that_place(
    job: Job, twice: Job
) -> None:
    withdraw(job.book, [str(job.exports)], *BY)
    (outcome,) = twice.gather()
    assert outcome.status is Status.WITHDRAWN
    assert outcome.withdrawn_sha256 == outcome.sha256
    assert labels(job.book) == []
    withdraw(job.book, [str(twice.exports)], *BY, back=True)
    assert labels(job.book) == ["C-1"]
    withdraw(job.book, [outcome.sha256[:12]], *BY)
    withdraw(job.book, [outcome.sha256[:12]], *BY, back=True)
    assert labels(job.book) == ["C-1"]


def test_taking_the_books_own_copies_in_again_makes_no_second_place(job: Job) -> None:
    before = job.snapshot()
    Job(job.book.root / "sources", job.book).gather()
    assert {p: raw for p, raw in job.snapshot().items() if p != "journal.jsonl"} == {
        p: raw for p, raw in before.items() if p != "journal.jsonl"
    }
    done = withdraw(job.book, [str(job.exports)], *BY)
    assert (len(done.changed), done.stay) == (3, ())


def test_a_place_of_a_source_that_nobody_knows_is_damage(job: Job) -> None:
    *_, last = journal.read(job.book.journal)
    body = {"program": "sweepbook 0", "sources": [{"sha256": 64 * "0", "name": "x", "from": "y"}]}
    journal.append(job.book.journal, last, "given", body)
    assert [message for message in damage(job.book) if 64 * "0" in message]
    journal.append(job.book.journal, list(journal.read(job.book.journal))[-1], "given", {})
    with pytest.raises(Exception, match="Use the version of sweepbook that wrote it"):
        labels(job.book)
