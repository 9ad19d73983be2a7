"""Records as JSON: one, an array, one a line, one a file; and what is refused."""

import gzip
import json
from collections.abc import Iterable
from pathlib import Path
from typing import cast

import pytest

from sweepbook.delivery import About, Delivery
from sweepbook.errors import ReadProblem
from sweepbook.formats import ReadSetting
from sweepbook.judging.assessment import Assessment, Judgement, Recomputed
from sweepbook.limits.library import Library
from sweepbook.record import codec
from sweepbook.record.model import Record
from sweepbook.rules import catalogue
from sweepbook.source import Source
from sweepbook_plugins.json import record as json_record

LIBRARY = cast(Library, None)  # this format asks for no limits


def record(label: str = "007", value: float = 1.25) -> Record:
    curve = {"parameter": "insertion_loss", "pairs": ["1-2"], "grid": "g1", "decimals": 2}
    return Record.build(
        link={"label": label, "external_ids": [{"system": 'a "b" {', "id": "[}"}]},
        test={"operator": "op-1"},
        results={
            "grids": [{"id": "g1", "frequency_mhz": [1.0, 100.0]}],
            "sweeps": [{**curve, "value_db": [value, 19.4]}],
        },
        origin=[{"sha256": "0" * 64, "name": "a.csv", "locator": "lines 1-4"}],
        provenance={"program": "sweepbook", "reader": "csv"},
        resolved={"limit": {"how": "not known"}},
    )


def delivery(records: Iterable[Record]) -> Delivery:
    about = About("t", "p", "d", {}, {}, LIBRARY, catalogue.load())
    return Delivery((assessment(each) for each in records), about)


def assessment(each: Record) -> Assessment:
    return Assessment(
        record=each,
        limit_path=None,
        limit_how="",
        limit_sha256=None,
        stated=None,
        recomputed=Recomputed.UNDECIDED,
        judgement=Judgement.UNSTATED,
        reason="",
        grade=None,
    )


def read(path: Path) -> list[Record | ReadProblem]:
    return list(json_record.read(Source(path), ReadSetting(LIBRARY)))


def documents(items: Iterable[Record | ReadProblem]) -> list[bytes]:
    """The bytes of records, origin, provenance and what is resolved included."""
    return [codec.dumps(item) for item in items if isinstance(item, Record)]


@pytest.mark.parametrize("ending", [".json", ".jsonl", ".data"])
@pytest.mark.parametrize("count", [1, 2, 5])
def test_what_is_written_is_read_back(ending: str, count: int, tmp_path: Path) -> None:
    records = [record(f"L{number}", number + 0.5) for number in range(count)]
    target = tmp_path / f"out{ending}"
    json_record.write(delivery(records), target)
    assert documents(read(target)) == documents(records)


def test_one_record_is_the_record_as_the_book_keeps_it(tmp_path: Path) -> None:
    json_record.write(delivery([record()]), tmp_path / "out.json")
    assert (tmp_path / "out.json").read_bytes() == codec.dumps(record())


def test_several_records_are_one_json_array_for_anybody(tmp_path: Path) -> None:
    json_record.write(delivery([record("A"), record("B"), record("C")]), tmp_path / "out.json")
    loaded = json.loads((tmp_path / "out.json").read_text(encoding="utf-8"))
    assert [each["link"]["label"] for each in loaded] == ["A", "B", "C"]


def test_a_jsonl_has_one_document_a_line(tmp_path: Path) -> None:
    json_record.write(delivery([record("A"), record("B")]), tmp_path / "out.jsonl")
    lines = (tmp_path / "out.jsonl").read_text(encoding="utf-8").splitlines()
    assert [json.loads(line)["link"]["label"] for line in lines] == ["A", "B"]


@pytest.mark.parametrize("there", [True, False])
def test_a_folder_gets_one_file_a_record(there: bool, tmp_path: Path) -> None:
    target = tmp_path / "out"
    if there:
        target.mkdir()
    json_record.write(delivery([record("A"), record("B")]), target)
    expected = sorted(f"{each.record_id}.json" for each in (record("A"), record("B")))
    assert sorted(path.name for path in target.iterdir()) == expected


def test_no_records_make_an_empty_array(tmp_path: Path) -> None:
    json_record.write(delivery([]), tmp_path / "out.json")
    assert json.loads((tmp_path / "out.json").read_text(encoding="utf-8")) == []


A, B = (codec.dumps(record(label)) for label in ("A", "B"))
COMPACT = [json.dumps(json.loads(each)).encode() for each in (A, B)]


@pytest.mark.parametrize(
    "text",
    [
        A + B,
        b"\n\n" + A + b"\n" + B,
        b"[" + COMPACT[0] + b"," + COMPACT[1] + b"]",
        b"[\n" + COMPACT[0] + b",\n" + COMPACT[1] + b"\n]\n",
        json.dumps([json.loads(A), json.loads(B)], indent=2).encode(),
        COMPACT[0] + b"\r\n" + COMPACT[1],
        b"\xef\xbb\xbf" + A + B,
        gzip.compress(A + B),
    ],
)
def test_arrangements_that_others_write(text: bytes, tmp_path: Path) -> None:
    path = tmp_path / "x"
    path.write_bytes(text)
    assert documents(read(path)) == [A, B]
    assert len(list(json_record.identify(Source(path), ReadSetting(LIBRARY)))) == 1


@pytest.mark.parametrize(
    ("bad", "expected"),
    [
        (A.replace(b"19.4", b"19.5"), "The content is not the one that record_id was computed"),
        (A.replace(b"record-1", b"record-7"), "'urn:sweepbook:record-7', and this version"),
        (A.replace(b"1.25", b"NaN"), "NaN"),
        (A.replace(b'"op-1"', b'"op-1", "operator": "op-2"'), "operator"),
        (b"{}\n", "The schema is None"),
        (b"[1, 2]\n", "no object"),
        (b"words\n", "line 1, column 1"),
    ],
)
def test_a_bad_record_ends_nothing(bad: bytes, expected: str, tmp_path: Path) -> None:
    path = tmp_path / "x.json"
    path.write_bytes(bad + B)
    items = read(path)
    assert documents(items) == [B]
    problems = [item for item in items if isinstance(item, ReadProblem)]
    assert all(problem.lost_record and problem.source == "x.json" for problem in problems)
    assert expected in problems[0].message
    assert problems[0].place.startswith("line")


def test_a_record_that_is_cut_off(tmp_path: Path) -> None:
    path = tmp_path / "x.json"
    path.write_bytes(A + B[:-40])
    items = read(path)
    assert documents(items) == [A]
    assert isinstance(items[1], ReadProblem)


@pytest.mark.parametrize("text", [b"", b"\n \n"])
def test_an_empty_file(text: bytes, tmp_path: Path) -> None:
    path = tmp_path / "x.json"
    path.write_bytes(text)
    problem = read(path)[0]
    assert isinstance(problem, ReadProblem)
    assert "empty" in problem.message
    assert list(json_record.identify(Source(path), ReadSetting(LIBRARY))) == []


def test_canonical_text_is_claimed_though_its_schema_stands_beyond_the_head(tmp_path: Path) -> None:
    path = tmp_path / "canonical.jsonl"
    values = b",".join([b"20.5"] * 40_000)
    path.write_bytes(
        b'{"kind":"balanced-link","record_id":"sb0-' + b"0" * 64 + b'","results":{"x":[' + values
        + b']},"schema":"urn:sweepbook:record-1"}\n'
    )  # fmt: skip
    (claim,) = json_record.identify(Source(path), ReadSetting(LIBRARY))
    assert "id of a record" in claim.because
    path.write_bytes(b'{"schema":"urn:sweepbook:audit-1","record_id":"sb0-' + b"0" * 64 + b'"}')
    assert list(json_record.identify(Source(path), ReadSetting(LIBRARY))) == []


def test_other_json_is_not_claimed(tmp_path: Path) -> None:
    path = tmp_path / "x.json"
    path.write_text('{"schema": "urn:sweepbook:audit-1"}', encoding="utf-8")
    assert list(json_record.identify(Source(path), ReadSetting(LIBRARY))) == []


def test_a_document_without_end_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sweepbook_plugins.json.stream.MOST_BYTES", 2000)
    path = tmp_path / "x.json"
    path.write_bytes(A + b'{"a": "' + b"x" * 5000 + b'"}\n' + B)
    items = read(path)
    assert documents(items) == [A, B]
    problems = [item for item in items if isinstance(item, ReadProblem)]
    assert ["larger than" in problem.message for problem in problems] == [True]


@pytest.mark.parametrize("name", ["one.json", "many.jsonl", "many.json", "dense.json"])
def test_the_identity_is_worked_out_once_and_goes_on_as_proven(tmp_path: Path, name: str) -> None:
    records = [record("1")] if name == "one.json" else [record("1"), record("2")]
    target = tmp_path / name
    if name == "dense.json":
        texts = [codec.dumps(each).decode().replace("\n", " ") for each in records]
        target.write_text(f"[{','.join(texts)}]", encoding="utf-8")
    else:
        json_record.write(delivery(records), target)
    found = [item for item in read(target) if isinstance(item, Record)]
    assert [each.proven_id for each in found] == [each.record_id for each in records]
