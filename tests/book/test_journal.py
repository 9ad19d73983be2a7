"""The journal's chain, proved with hashlib alone, and what a killed writer leaves."""

import hashlib
import json
from collections.abc import Callable
from pathlib import Path

import pytest

from sweepbook.book import journal
from sweepbook.book.journal import BrokenJournal


def _three(folder: Path) -> Path:
    path = folder / "journal.jsonl"
    last = None
    for number in range(3):
        last = journal.append(path, last, "tried", {"number": number, "text": 'ä ","digest":"'})
    return path


def test_each_line_ends_in_the_digest_of_its_text_and_names_the_line_before(tmp_path: Path) -> None:
    previous = None
    for raw in _three(tmp_path).read_bytes().splitlines():
        body = json.loads(raw)
        text = raw[: -len(f',"digest":"{body["digest"]}"}}')]
        assert hashlib.sha256(text).hexdigest() == body["digest"]
        assert body["previous"] == previous
        previous = body["digest"]


def test_the_lines_come_back(tmp_path: Path) -> None:
    lines = list(journal.read(_three(tmp_path)))
    assert [line.body["number"] for line in lines] == [0, 1, 2]
    assert [line.number for line in lines] == [1, 2, 3]


def test_a_journal_that_is_not_there_has_no_lines(tmp_path: Path) -> None:
    assert list(journal.read(tmp_path / "journal.jsonl")) == []


@pytest.mark.parametrize(
    ("change", "line"),
    [
        (lambda lines: [lines[0].replace(b'"number":0', b'"number":9'), *lines[1:]], 1),
        (lambda lines: [*lines[:2], lines[2].replace(b'"number":2', b'"number":9')], 3),
        (lambda lines: [lines[0], lines[2]], 2),
        (lambda lines: [lines[1], lines[0], lines[2]], 1),
        (lambda lines: [*lines, b"{}\n"], 4),
        (lambda lines: [*lines, b"[" * 100_000 + b"\n"], 4),
        (lambda lines: [lines[0], b"\n", *lines[1:]], 2),
    ],
)
def test_a_changed_removed_or_moved_line_is_named(
    tmp_path: Path, change: Callable[[list[bytes]], list[bytes]], line: int
) -> None:
    path = _three(tmp_path)
    path.write_bytes(b"".join(change(path.read_bytes().splitlines(keepends=True))))
    with pytest.raises(BrokenJournal, match=f"line {line}:"):
        list(journal.read(path))


@pytest.mark.parametrize("left", [1, 40, 100_000])
def test_half_a_line_is_passed_over_and_cut_off_by_the_next(tmp_path: Path, left: int) -> None:
    path = _three(tmp_path)
    whole = path.read_bytes()
    path.write_bytes(whole + b"{" * left)
    lines = list(journal.read(path))
    assert len(lines) == 3
    journal.append(path, lines[-1], "tried", {"number": 3})
    assert path.read_bytes().startswith(whole + b'{"line":4,')
    assert [line.number for line in journal.read(path)] == [1, 2, 3, 4]


def test_half_a_first_line_is_cut_off_too(tmp_path: Path) -> None:
    path = tmp_path / "journal.jsonl"
    path.write_bytes(b'{"line":1')
    journal.append(path, None, "tried", {})
    assert [line.number for line in journal.read(path)] == [1]


@pytest.mark.parametrize(
    ("written", "otherwise"),
    [
        ('"event":"tried"', '"event": "tried"'),
        ('"event":"tried"', '"\\u0065vent":"tried"'),
        ('"event":"tried"', '"event":"tr\\u0069ed"'),
        ('"event":"tried"', '"event":"other","event":"tried"'),
        ('"text":"', '"event":"other","text":"'),
        ('{"line":1,', '{ "line":1,'),
        ('"line":1', '"line":true'),
        ('"event":"tried"', '"event":"\\ud800"'),
    ],
)
def test_a_line_in_another_spelling_is_refused_though_its_digest_fits(
    tmp_path: Path, written: str, otherwise: str
) -> None:
    path = tmp_path / "journal.jsonl"
    journal.append(path, None, "tried", {"text": "ä"})
    signed = path.read_text().rpartition(',"digest":"')[0]
    assert written in signed
    changed = signed.replace(written, otherwise).encode()
    digest = hashlib.sha256(changed).hexdigest().encode()
    path.write_bytes(changed + b',"digest":"' + digest + b'"}\n')
    why = "it is no JSON" if "ud800" in otherwise else "it does not begin as the program writes it"
    with pytest.raises(BrokenJournal, match=f"line 1: {why}"):
        list(journal.read(path))
