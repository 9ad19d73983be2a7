"""Whatever is changed in a book, the proof names it; what is only untidy is told apart."""

import json
import shutil
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import replace
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

from sweepbook import schemas
from sweepbook.book import corrections, journal, store
from sweepbook.book.layout import NotABook, open_book, open_or_begin
from sweepbook.book.proof import Proof
from sweepbook.book.prove import line_schema, prove
from sweepbook.errors import ReadProblem
from sweepbook.files import replaced
from tests.closed import closed

from . import simple
from .simple import Job


@pytest.fixture
def job(tmp_path: Path) -> Job:
    job = Job.begin(tmp_path, a="A-1,pass,3.21\nA-2,fail,9.99\n", b="B-1,pass,1.50\n")
    job.gather()
    return job


def _places(job: Job, damage: bool = True) -> list[str]:
    return [fault.place for fault in prove(job.book.root, Proof()) if fault.damage is damage]


def _record(job: Job, label: str) -> Path:
    (entry,) = [e for e in store.contents_of(job.book).entries() if e.listed.label == label]
    return job.book.record(entry.listed.record_id)


def _in_book(job: Job, path: Path) -> str:
    return path.relative_to(job.book.root).as_posix()


def test_a_sound_book_is_proved_whole(job: Job) -> None:
    proof = Proof()
    assert list(prove(job.book.root, proof)) == []
    assert (proof.lines, proof.records, proof.sources) == (3, 3, 2)
    last = json.loads(job.book.journal.read_bytes().splitlines()[-1])
    assert proof.head == last["digest"]


@pytest.mark.parametrize(
    "change",
    [
        lambda raw: raw.replace(b"3.21", b"3.22"),
        lambda raw: raw.replace(b'"pass"', b'"fail"'),
        lambda raw: raw.replace(b"House limit", b"Other limit"),
        lambda raw: raw[:-40],
        lambda _: b"",
        lambda _: b"\xff\xfe",
        lambda _: b"[" * 100_000,
    ],
)
def test_a_changed_record_is_found_and_never_handed_out(
    job: Job, change: Callable[[bytes], bytes]
) -> None:
    path = _record(job, "A-1")
    changed = change(path.read_bytes())
    assert changed != path.read_bytes()
    path.write_bytes(changed)
    assert _in_book(job, path) in _places(job)
    items = list(store.records(open_book(job.book.root)))
    problems = [item for item in items if isinstance(item, ReadProblem)]
    assert [problem.source for problem in problems] == [path.name]
    assert len(items) == 3


def test_a_changed_word_outside_the_identity_leaves_the_evidence_and_is_named(job: Job) -> None:
    path = _record(job, "A-1")
    path.write_bytes(path.read_bytes().replace(b"a.txt", b"z.txt"))
    assert not [item for item in store.records(job.book) if isinstance(item, ReadProblem)]
    (fault,) = prove(job.book.root, Proof())
    assert (fault.place, fault.damage) == (_in_book(job, path), True)
    assert "not the journal's" in fault.message


def test_a_removed_record_is_missed(job: Job) -> None:
    path = _record(job, "A-2")
    path.unlink()
    assert _places(job) == [_in_book(job, path)]


def test_a_record_in_the_wrong_place_is_named(job: Job) -> None:
    path = _record(job, "A-2")
    moved = path.parent.parent / "zz" / path.name
    moved.parent.mkdir()
    path.rename(moved)
    assert _in_book(job, moved) in _places(job)


def test_a_changed_or_removed_source_is_named(job: Job) -> None:
    changed, removed = sorted(job.book.root.glob("sources/*/*/*"))
    changed.write_bytes(b"other")
    removed.unlink()
    assert _places(job) == [_in_book(job, changed), _in_book(job, removed.parent)]


def test_a_changed_journal_is_named_with_its_line(job: Job) -> None:
    job.book.journal.write_bytes(job.book.journal.read_bytes().replace(b"A-2", b"A-3"))
    (fault,) = [f for f in prove(job.book.root, Proof()) if f.place == "journal.jsonl"]
    assert "line 2" in fault.message


def test_a_book_of_another_schema_is_left_alone(job: Job) -> None:
    about = job.book.root / "book.json"
    about.write_bytes(about.read_bytes().replace(b"book-0", b"book-9"))
    with pytest.raises(NotABook, match="book-0"):
        list(prove(job.book.root, Proof()))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (b'{"schema": ', "is damaged"),
        (b"[]", "is not about a book"),
        (b'{"schema": 7}', "is not about a book"),
        (None, "has lost its book.json"),
    ],
)
def test_a_book_json_that_is_damaged_is_told_from_one_of_another_version(
    job: Job, text: bytes | None, said: str
) -> None:
    about = job.book.root / "book.json"
    about.unlink()
    if text is not None:
        about.write_bytes(text)
    with pytest.raises(NotABook, match=said) as caught:
        open_book(job.book.root)
    assert "another book" in caught.value.todo


def test_the_advice_for_a_lost_book_json_mends_the_book(job: Job, tmp_path: Path) -> None:
    (job.book.root / "book.json").unlink()
    other = open_or_begin(tmp_path / "other")
    shutil.copy(other.root / "book.json", job.book.root)
    assert _places(job) == []


def test_a_book_json_with_a_hole_is_named(job: Job) -> None:
    about = job.book.root / "book.json"
    loaded = json.loads(about.read_bytes())
    del loaded["created"]
    about.write_text(json.dumps(loaded))
    assert _places(job) == ["book.json"]


def test_what_is_only_untidy_is_no_damage(job: Job) -> None:
    (job.book.root / "records" / ".sweepbook-x.part").write_bytes(b"half")
    job.book.index.write_text("edited by hand")
    source = simple.pipeline().source(job.exports / "a.txt")
    store.keep(job.book, simple.record("C", "pass", "1", source, 1))
    assert _places(job) == []
    with replaced(job.book.index):  # what is being written is nothing to tell of
        told = sorted(_places(job, damage=False))
    assert told[:2] == ["index.csv", "records/.sweepbook-x.part"]
    assert len(told) == 3


@pytest.mark.parametrize("what", ["sources/*/*/*", "sources", "corrections.csv"])
def test_a_link_to_what_lies_elsewhere_is_named(job: Job, tmp_path: Path, what: str) -> None:
    """As long as what it leads to is there every digest is right; a copy of the book lacks it."""
    job.book.corrections.touch()
    place = min(job.book.root.glob(what))
    place.rename(tmp_path / "elsewhere")
    place.symlink_to(tmp_path / "elsewhere")
    (fault,) = prove(job.book.root, Proof())
    assert (fault.place, fault.damage) == (_in_book(job, place), True)
    assert "put what it leads to in its place" in fault.message


def test_a_book_of_paths_that_lead_out_of_it_is_refused(job: Job) -> None:
    with pytest.raises(NotABook, match="is no record id"):
        job.book.record("sb0-../../../../etc/passwd")
    with pytest.raises(NotABook, match="is no digest"):
        job.book.source_folder("../../../x")


def test_every_property_of_the_schema_is_explained() -> None:
    schema = json.loads(files("sweepbook_schemas").joinpath("book-0.schema.json").read_bytes())

    def walk(part: Any, place: str) -> list[str]:
        bare = []
        for name, inner in part.get("properties", {}).items():
            said = schema["$defs"][inner["$ref"].rpartition("/")[2]] if "$ref" in inner else inner
            if inner.get("const") != "gathered" and not {"title", "description"} <= set(said):
                bare.append(f"{place}.{name}")
            bare += walk(inner, f"{place}.{name}")
        for name, inner in part.get("$defs", {}).items():
            bare += walk(inner, name)
        return bare

    assert walk(schema, "$") == []


def test_a_journal_that_was_cut_within_a_line_is_damaged(job: Job) -> None:
    whole = job.book.journal.read_bytes()
    job.book.journal.write_bytes(whole[:-40])
    lines = whole.count(b"\n")
    (fault,) = [fault for fault in prove(job.book.root, Proof()) if fault.damage]
    assert fault.place == f"journal.jsonl, line {lines}"
    assert "Only " in fault.message


def test_a_record_without_its_origin_is_named_and_ends_no_search(job: Job) -> None:
    path = _record(job, "A-1")
    document = json.loads(path.read_bytes())
    del document["origin"]
    path.write_text(json.dumps(document))
    assert _places(job) == [_in_book(job, path)]


@pytest.mark.parametrize("left", [None, b"", b'{"line":1'])
def test_a_journal_without_a_line_is_damage_and_no_empty_book(job: Job, left: bytes | None) -> None:
    job.book.journal.unlink()
    if left is not None:
        job.book.journal.write_bytes(left)
    (fault,) = prove(job.book.root, Proof())
    assert (fault.place, fault.damage) == ("journal.jsonl", True)
    with pytest.raises(store.LostJournal, match="tests lie in the book"):
        list(store.records(job.book))
    with pytest.raises(store.LostJournal, match="Restore journal"):
        job.gather()


def test_the_advice_for_a_lost_journal_brings_every_test_back(job: Job, tmp_path: Path) -> None:
    before = {entry.listed for entry in store.contents_of(job.book).entries()}
    job.book.journal.write_bytes(b"")
    other = Job(job.book.root / "sources", open_or_begin(tmp_path / "other"))
    other.gather()
    assert {entry.listed for entry in store.contents_of(other.book).entries()} == before
    assert list(prove(other.book.root, Proof())) == []


def test_a_journal_that_lost_whole_lines_at_its_end_is_damaged(job: Job) -> None:
    lines = job.book.journal.read_bytes().splitlines(keepends=True)
    job.book.journal.write_bytes(b"".join(lines[:-1]))
    (fault,) = [fault for fault in prove(job.book.root, Proof()) if fault.damage]
    assert fault.place == "journal.jsonl"
    assert "1 of the records" in fault.message
    job.gather()
    assert list(prove(job.book.root, Proof())) == []


def test_files_are_not_called_unlisted_where_the_journal_ends_at_a_fault(job: Job) -> None:
    """What a broken journal lists cannot be known, so nothing is said of it."""
    raw = job.book.journal.read_bytes().splitlines(keepends=True)
    job.book.journal.write_bytes(raw[0] + raw[1].replace(b"A-1", b"A-9") + raw[2])
    assert [fault.place for fault in prove(job.book.root, Proof())] == ["journal.jsonl"]


@pytest.mark.parametrize("kept", ["records", "sources"])
def test_what_nobody_may_open_is_not_called_missing(
    kept: str, job: Job, monkeypatch: pytest.MonkeyPatch
) -> None:
    job.book.root.chmod(0o755)
    monkeypatch.chdir(job.book.root)
    with closed(Path(kept)):
        faults = list(prove(Path(), Proof()))
    assert len(faults) == {"records": 3, "sources": 2}[kept]
    assert all("cannot be reached: Permission denied" in fault.message for fault in faults)


_ODD: tuple[Any, ...] = (
    *(None, True, 0, -1, 1.0, 1.5, float("nan"), float("inf"), 1 << 80, "", " ", "x", "\ud800"),
    *("2024-05-01T09:00:00Z\n", "a" * 64 + "\n", "sb0-" + "a" * 64 + "\n", "gathered", "corrected"),
    *([], [[]], [None], {}, {"x": 1}),
)


def _changed(value: Any) -> Iterator[Any]:
    """A value with each of its parts changed into something odd, left out, or joined by more."""
    yield from _ODD
    if isinstance(value, dict):
        yield {**value, "more": 1}
        for name, part in value.items():
            yield {other: it for other, it in value.items() if other != name}
            yield from ({**value, name: new} for new in _changed(part))
    elif isinstance(value, list) and value:
        yield [*value, None]
        yield from ([new, *value[1:]] for new in _changed(value[0]))


def test_the_quick_yes_to_a_line_is_one_of_the_validator_too(job: Job) -> None:
    """jsonschema is the authority, whose words people see; what it says no to is never accepted."""
    shape = line_schema(schemas.schema("book-0.schema.json"))
    follows = schemas.quick(shape)
    lines = [json.loads(raw) for raw in job.book.journal.read_bytes().splitlines()]
    assert {line["event"] for line in lines} == {"begun", "gathered"}
    assert all(map(follows, lines))
    answers = Counter((follows(new), not schemas.errors(new, shape)) for new in _changed(lines[-1]))
    assert answers[True, False] == 0
    assert answers[True, True] > 50
    assert answers[False, False] > 200


def test_whether_a_source_was_read_is_known_without_listing_all_of_them(job: Job) -> None:
    """Read again, and read with another file joined to it, a source is still one."""
    contents = store.contents_of(job.book)
    assert contents.sources()
    assert all(map(contents.has, contents.sources()))
    assert not contents.has("0" * 64)
    (of, (number, reading)), *_ = contents.latest.items()
    joined = replace(reading, way=replace(reading.way, joined=("1" * 64,)))
    for line, (read, before) in enumerate(((joined, number), (reading, 0), (reading, 0)), 1000):
        body = {**read.to_json(), "from": "a", "read_before": {"line": before}}
        contents.add(journal.Line(line, "gathered", body, ""))
        assert contents.has(of[0])
    assert {sha256 for sha256 in contents.sources() if contents.has(sha256)} == contents.sources()


def test_tests_whose_lines_are_gone_from_the_journal_are_told_by_whoever_reads_the_book(
    job: Job,
) -> None:
    lines = job.book.journal.read_bytes().splitlines(keepends=True)
    assert [one for one in corrections.records(job.book) if isinstance(one, ReadProblem)] == []
    job.book.journal.write_bytes(b"".join(lines[:-1]))
    told, *left = corrections.records(job.book)
    assert isinstance(told, ReadProblem)
    assert (told.source, told.lost_record) == ("journal.jsonl", True)
    assert told.message.startswith("Lines are missing at its end: index.csv has 1 of the records")
    assert len(left) == 2
    job.gather()
    assert not any(isinstance(one, ReadProblem) for one in corrections.records(job.book))
