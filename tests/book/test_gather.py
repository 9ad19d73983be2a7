"""Gathering: whole files, once, in any order, and again without a change."""

import csv
import errno
import json
import shutil
import zipfile
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from sweepbook.book import journal, lock, store
from sweepbook.book.contents import Contents
from sweepbook.book.gather import Status, gather
from sweepbook.book.layout import PROGRAM, NotABook, open_or_begin
from sweepbook.book.plain_name import plain_name
from sweepbook.book.proof import Proof
from sweepbook.book.prove import prove
from sweepbook.errors import SweepbookError
from sweepbook.formats import Claim, Format, ReadSetting, Strength
from sweepbook.reading import Pipeline
from sweepbook.record.model import Record
from sweepbook.source import Source

from . import simple
from .simple import Job

A = "A-10,pass,3.21\nA-2,fail,9.99\n"


def _labels(job: Job) -> list[str]:
    return [item.label for item in store.records(job.book) if isinstance(item, Record)]


def test_a_gathered_book_has_the_source_the_records_the_journal_and_the_index(
    tmp_path: Path,
) -> None:
    job = Job.begin(tmp_path, a=A)
    (outcome,) = job.gather()
    assert (outcome.status, outcome.records, outcome.new) == (Status.GATHERED, 2, 2)
    files = job.snapshot()
    digest = outcome.sha256
    assert files[f"sources/{digest[:2]}/{digest}/a.txt"] == A.encode()
    lines = [json.loads(line) for line in files["journal.jsonl"].splitlines()]
    assert [line["event"] for line in lines] == ["begun", "gathered"]
    assert lines[1]["from"] == str(job.exports / "a.txt")
    assert lines[1]["program"] == PROGRAM
    assert [entry["locator"] for entry in lines[1]["records"]] == ["line 1", "line 2"]
    rows = list(csv.reader(files["index.csv"].decode().splitlines()))
    assert [row[1:] for row in rows[1:]] == [
        ["A-2", "2024-05-01", "House limit", "fail", "a.txt"],
        ["A-10", "2024-05-01", "House limit", "pass", "a.txt"],
    ]
    assert all(f"records/{row[0][4:6]}/{row[0]}.json" in files for row in rows[1:])


def test_records_come_back_by_label_in_natural_order_and_as_they_went_in(tmp_path: Path) -> None:
    job = Job.begin(tmp_path, a=A, b="A-1,pass,1\n")
    job.gather()
    assert _labels(job) == ["A-1", "A-2", "A-10"]
    source = simple.pipeline().source(job.exports / "b.txt")
    came = next(item for item in store.records(job.book) if isinstance(item, Record))
    assert came == simple.record("A-1", "pass", "1", source, 1)


def test_gathering_twice_changes_nothing(tmp_path: Path) -> None:
    job = Job.begin(tmp_path, a=A, b="!\nB,pass,2\n")
    job.gather()
    before = job.snapshot()
    again = job.gather()
    assert [outcome.status for outcome in again] == [Status.UNCHANGED] * 2
    assert job.snapshot() == before
    assert [len(outcome.problems) for outcome in again] == [0, 1], "a problem is told each time"


def test_reading_everything_again_on_request_changes_nothing_either(tmp_path: Path) -> None:
    job = Job.begin(tmp_path, a=A)
    job.gather()
    before = job.snapshot()
    assert job.gather(again=True)[0].status is Status.UNCHANGED
    assert job.snapshot() == before


def test_the_same_bytes_under_two_names_are_kept_once(tmp_path: Path) -> None:
    job = Job.begin(tmp_path, a=A, copy=A)
    outcomes = job.gather()
    assert [outcome.status for outcome in outcomes] == [Status.GATHERED, Status.UNCHANGED]
    assert len(list(job.book.root.glob("sources/*/*/*"))) == 1


def test_one_record_in_two_files_is_one_record_with_both_origins_in_either_order(
    tmp_path: Path,
) -> None:
    left, right = "X,pass,1\nSAME,pass,5.00\n", "Y,pass,2\nZ,pass,3\nSAME,pass,5.00\n"
    origins = []
    for folder, names in (("one", ("a", "b")), ("two", ("b", "a"))):
        (tmp_path / folder).mkdir()
        job = Job.begin(tmp_path / folder, a=left, b=right)
        for name in names:
            list(gather(job.book, [job.exports / f"{name}.txt"], simple.pipeline()))
        (same,) = [
            r for r in store.records(job.book) if isinstance(r, Record) and r.label == "SAME"
        ]
        origins.append([(o["name"], o["locator"]) for o in same.document["origin"]])
        assert len(_labels(job)) == 4
        index = job.book.index.read_text()
        assert "SAME,2024-05-01,House limit,pass,a.txt; b.txt" in index
    assert origins == [[("a.txt", "line 2"), ("b.txt", "line 3")]] * 2


def test_a_bad_file_or_test_never_ends_the_rest(tmp_path: Path) -> None:
    job = Job.begin(
        tmp_path, a="A,pass,1\n!\nB,pass,1\n", b="C,pass,1\n?\nD,pass,1\n", c="E,pass,1\n"
    )
    (job.exports / "d.xyz").write_text("nobody knows me")
    (job.exports / ".hidden.txt").write_text("H,pass,1\n")
    outcomes = job.gather()
    assert [outcome.status for outcome in outcomes] == [*[Status.GATHERED] * 3, Status.REFUSED]
    assert [outcome.crashed for outcome in outcomes] == [False, True, False, False]
    assert outcomes[0].problems[0].place == "line 2"
    assert "crashed" in outcomes[1].problems[0].message
    assert "--dialect" in outcomes[3].problems[0].message
    assert _labels(job) == ["A", "B", "C", "E"]
    kept = [item for item in store.records(job.book) if not isinstance(item, Record)]
    assert [problem.source for problem in kept] == ["a.txt", "b.txt"]


def _naming(path: str | None) -> Pipeline:
    """A reader whose dialect leads the limit to a table, or to none."""

    def read(source: Source, _: ReadSetting) -> Iterator[Record]:
        record = simple.record("A", "pass", "1.00", source, 1)
        yield record.with_resolved({"limit": {"path": path, "how": "alias"}}) if path else record

    return simple.pipeline(Format(f"to {path}", "Names a limit", (".txt",), read=read))


@pytest.mark.parametrize("right", ["right/table", None])
def test_a_mended_dialect_leads_the_limit_of_a_kept_record_to_the_right_table(
    tmp_path: Path, right: str | None
) -> None:
    job = Job.begin(tmp_path, a="A,pass,1.00\n")
    job.gather(by=_naming("wrong/table"))
    (outcome,) = job.gather(by=_naming(right))
    assert (outcome.status, outcome.new, outcome.dropped) == (Status.READ_AGAIN, 0, 0)
    (current,) = [item for item in store.records(job.book) if isinstance(item, Record)]
    limit = current.document.get("resolved", {}).get("limit", {})
    assert limit.get("path") == right
    assert list(prove(job.book.root, Proof())) == []
    before = job.snapshot()
    assert job.gather(by=_naming(right), again=True)[0].status is Status.UNCHANGED
    assert job.snapshot() == before


def test_a_table_that_somebody_writes_into_a_record_leads_no_limit(tmp_path: Path) -> None:
    job = Job.begin(tmp_path, a="A,pass,1.00\n")
    job.gather(by=_naming("right/table"))
    (entry,) = store.contents_of(job.book).entries()
    path = job.book.record(entry.listed.record_id)
    path.write_text(path.read_text().replace("right/table", "lesser/table"))
    (current,) = [item for item in store.records(job.book) if isinstance(item, Record)]
    assert "resolved" not in current.document
    assert "by hand" in next(prove(job.book.root, Proof())).message
    job.gather(by=_naming("right/table"), again=True)
    (current,) = [item for item in store.records(job.book) if isinstance(item, Record)]
    assert current.document["resolved"]["limit"]["path"] == "right/table"
    assert list(prove(job.book.root, Proof())) == []


def test_a_reading_in_another_way_becomes_current_and_the_journal_says_so(tmp_path: Path) -> None:
    job = Job.begin(tmp_path, a="A,pass,1.00\n")
    job.gather()

    def read_better(source: Source, _: ReadSetting) -> Iterator[Record]:
        yield simple.record("A", "pass", "1.50", source, 1)

    better = simple.pipeline(Format("better", "Reads it right", (".txt",), read=read_better))
    (outcome,) = job.gather(by=better)
    assert (outcome.status, outcome.new, outcome.dropped) == (Status.READ_AGAIN, 1, 1)
    last = json.loads(job.book.journal.read_bytes().splitlines()[-1])
    assert last["reader"] == "better"
    assert last["read_before"] == {
        "line": 2, "program": PROGRAM, "reader": "simple", "dialect_sha256": None
    }  # fmt: skip
    (current,) = [item for item in store.records(job.book) if isinstance(item, Record)]
    assert current.document["results"]["sweeps"][0]["value_db"].tolist() == [1.5]
    assert len(list(job.book.root.glob("records/*/*.json"))) == 2, "the old reading stays"


def test_a_reading_that_gives_nothing_does_not_take_the_place_of_one_that_did(
    tmp_path: Path,
) -> None:
    job = Job.begin(tmp_path, a="A,pass,1.00\n")
    job.gather()
    blind = simple.pipeline(Format("blind", "Sees nothing", (".txt",), read=lambda *_: iter(())))
    job.gather(by=blind)
    assert _labels(job) == ["A"]


def test_a_file_that_changes_while_it_is_copied_is_refused(tmp_path: Path) -> None:
    job = Job.begin(tmp_path, a=A)
    pipeline = simple.pipeline()

    def identify(source: Source, _: ReadSetting) -> Iterator[Claim]:
        assert len(source.sha256) == 64  # taken before the change
        source.path.write_text("A,pass,7.00\n")
        yield Claim(Strength.SIGNATURE, "test")

    form = replace(pipeline.registry.formats["simple"], identify=identify)
    (outcome,) = job.gather(by=simple.pipeline(form))
    assert outcome.status is Status.REFUSED
    assert "changed while" in outcome.problems[0].message
    assert not list(job.book.root.glob("sources/*/*/*"))


def test_a_folder_with_other_things_is_not_taken_for_a_book(tmp_path: Path) -> None:
    (tmp_path / "exports.csv").write_text("x")
    with pytest.raises(NotABook, match="Give the book first"):
        open_or_begin(tmp_path)


def test_a_book_that_somebody_begins_in_this_moment_is_begun_once(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One comes while the folder is looked at, the other while the lock is waited for."""
    real = Path.iterdir
    (tmp_path / "looked").mkdir()
    with monkeypatch.context() as patch:

        def after_another(self: Path) -> Iterator[Path]:
            patch.setattr(Path, "iterdir", real)
            open_or_begin(self, "the first")
            return real(self)

        patch.setattr(Path, "iterdir", after_another)
        assert open_or_begin(tmp_path / "looked", "the second").name == "the first"
    held = lock.held(tmp_path / "waited" / ".lock")
    held.__enter__()

    def begun() -> None:
        shutil.copy(tmp_path / "looked" / "book.json", tmp_path / "waited")
        held.__exit__(None, None, None)

    assert open_or_begin(tmp_path / "waited", "the second", begun).name == "the first"


def test_a_book_inside_the_gathered_folder_is_not_gathered(tmp_path: Path) -> None:
    job = Job.begin(tmp_path, a=A)
    outcomes = list(gather(job.book, [tmp_path], simple.pipeline()))
    again = list(gather(job.book, [tmp_path], simple.pipeline()))
    assert [o.name for o in outcomes] == [o.name for o in again] == ["a.txt"]


def test_lines_that_do_not_say_when_a_test_was_are_read(tmp_path: Path) -> None:
    job = Job.begin(tmp_path, a=A)
    job.gather()
    *_, last = journal.read(job.book.journal)
    body = json.loads(json.dumps(last.body))
    for entry in body["records"]:
        assert entry.pop("started") == "2024-05-01"
    known = Contents()
    known.add(last._replace(body=body))
    assert [entry.listed.started for entry in known.entries()] == ["", ""]


@pytest.mark.parametrize(
    ("name", "kept"),
    [
        ("heron-1.csv", "heron-1.csv"),
        ("Büro 2.ödß.csv", "Büro 2.ödß.csv"),
        (".x.csv", ".x.csv"),
        ("a\r\nb\x07\x1b[31m.csv", "a__b__[31m.csv"),
        ("\u202egpj.csv", "_gpj.csv"),
        ("f\\b:c?.csv", "f_b_c_.csv"),
        ("bytes\udcff.csv", "bytes_.csv"),
        ("con.csv", "_con.csv"),
        ("COM1", "_COM1"),
        ("console.csv", "console.csv"),
        ("a. .", "a"),
        ("..", "_"),
        (".sweepbook-1.part", "_.sweepbook-1.part"),
        ("n" * 300 + ".s4p.gz", "n" * 113 + ".s4p.gz"),
        ("ä" * 300 + ".csv", "ä" * 58 + ".csv"),
        ("a." + "n" * 300, "a." + "n" * 118),
    ],
)
def test_every_name_has_a_plain_one(name: str, kept: str) -> None:
    """Names of devices and characters that are not taken: the rules of Windows, as remembered."""
    assert plain_name(name) == kept
    assert plain_name(kept) == kept


def test_names_that_no_disk_takes_are_kept_under_plain_ones(tmp_path: Path) -> None:
    job = Job.begin(tmp_path)
    names = ["n" * 300 + ".txt", "a\r\nb.txt", "c\x07.txt", "con.txt", "z.txt"]
    with zipfile.ZipFile(job.exports / "job.zip", "w") as packed:
        for at, name in enumerate(names):
            packed.writestr(name, f"A-{at},pass,1\n")
    outcomes = job.gather()
    assert [outcome.status for outcome in outcomes] == [Status.GATHERED] * 5
    assert {outcome.name for outcome in outcomes} == {f"job.zip!{name}" for name in names}
    kept = {path.name for path in (tmp_path / "book").glob("sources/*/*/*")}
    assert kept == {"n" * 116 + ".txt", "a__b.txt", "c_.txt", "_con.txt", "z.txt"}
    assert [outcome.status for outcome in job.gather()] == [Status.UNCHANGED] * 5


@pytest.mark.parametrize("number", [errno.EILSEQ, errno.ENAMETOOLONG])
def test_a_name_that_the_disk_refuses_ends_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    """Some disks take fewer letters than others, and say so only when they are asked."""
    real = Path.replace

    def picky(self: Path, target: Path) -> Path:
        if not target.name.isascii():
            raise OSError(number, "not here")
        return real(self, target)

    job = Job.begin(tmp_path, a="A-1,pass,1\n", **{"é": "B-1,pass,1\n"}, z="C-1,pass,1\n")
    monkeypatch.setattr(Path, "replace", picky)
    outcomes = job.gather()
    assert [outcome.status for outcome in outcomes] == ["gathered"] * 3
    monkeypatch.undo()
    named = {outcome.name for outcome in outcomes}
    assert any("é" in name for name in named)
    kept = {path.name for path in job.book.root.glob("sources/*/*/*")}
    assert [name for name in kept if name.startswith("source")] != []
    assert all(name.isascii() for name in kept)
    assert list(prove(job.book.root, Proof())) == []
    assert {outcome.status for outcome in job.gather()} == {"unchanged"}


def test_a_full_disk_is_no_fault_of_a_name(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    job = Job.begin(tmp_path, a="A-1,pass,1\n")

    def full(self: Path, target: Path) -> Path:
        raise OSError(errno.ENOSPC, "No space left on device", str(target))

    monkeypatch.setattr(Path, "replace", full)
    with pytest.raises(SweepbookError, match="No space left"):
        job.gather()
