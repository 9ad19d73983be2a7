"""The file itself: the same bytes for the same delivery, whole or not at all, in flat memory."""

import gc
import os
import resource
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook
from xlsxwriter import Workbook as Writer

from sweepbook.errors import SweepbookError
from sweepbook.judging.assessment import Assessment
from sweepbook.record.model import Record
from sweepbook.registry import load
from sweepbook.retests.collect import OneTest
from sweepbook_plugins.xlsx import workbook as xlsx
from sweepbook_plugins.xlsx.cells import Cells
from sweepbook_plugins.xlsx.file import OPTIONS
from sweepbook_plugins.xlsx.look import Kind
from sweepbook_plugins.xlsx.styles import Styles

from .making import assessment, delivery, many, rows, written

MOMENT = 1_700_000_000


def test_the_same_delivery_gives_the_same_bytes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", str(MOMENT))
    one, two = tmp_path / "one.xlsx", tmp_path / "other name.xlsx"
    xlsx.write(delivery(many(20)), one)
    xlsx.write(delivery(many(20)), two)
    assert one.read_bytes() == two.read_bytes()
    assert load_workbook(one).properties.created == datetime.fromtimestamp(MOMENT, UTC).replace(
        tzinfo=None
    )


def test_a_crash_on_the_way_leaves_what_was_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    temporary = tmp_path / "tmp"
    temporary.mkdir()
    monkeypatch.setattr("tempfile.tempdir", str(temporary))
    target = tmp_path / "out" / "book.xlsx"
    xlsx.write(delivery(many(1)), target)
    before = target.read_bytes()

    def broken() -> Iterator[Assessment]:
        yield from many(5)
        raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        xlsx.write(delivery(broken()), target)
    assert target.read_bytes() == before
    assert [path.name for path in target.parent.iterdir()] == ["book.xlsx"]
    assert list(temporary.iterdir()) == []


def test_nothing_is_left_in_the_temporary_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    temporary = tmp_path / "tmp"
    temporary.mkdir()
    monkeypatch.setattr("tempfile.tempdir", str(temporary))
    xlsx.write(delivery(many(5)), tmp_path / "out" / "book.xlsx")
    assert list(temporary.iterdir()) == []


def test_a_target_that_cannot_be_written_is_named(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(SweepbookError, match="cannot be written"):
        xlsx.write(delivery(many(1)), tmp_path / "file" / "book.xlsx")


def test_a_full_disk_is_told_as_such(tmp_path: Path) -> None:
    """/dev/full refuses every byte, as a full disk does."""
    target = tmp_path / "book.xlsx"

    def fill_up() -> Iterator[Assessment]:
        yield from many(1)
        (part,) = tmp_path.glob(".sweepbook-*")
        open_files = [link for link in Path("/proc/self/fd").iterdir() if link.exists()]
        of_part = [int(link.name) for link in open_files if link.samefile(part)]
        assert of_part
        with Path("/dev/full").open("wb") as full:
            for number in of_part:
                os.dup2(full.fileno(), number)

    with pytest.raises(SweepbookError, match=r"cannot be written: No space left") as caught:
        xlsx.write(delivery(fill_up()), target)
    assert "the disk has room" in caught.value.todo
    assert list(tmp_path.iterdir()) == []
    del caught
    gc.collect()  # what an archive given up has to say, it says when it is freed


def test_a_full_temporary_folder_is_told_as_such(tmp_path: Path) -> None:
    """A limit on the length of files stands for the disk; the sheets reach it first."""
    target = tmp_path / "book.xlsx"
    before = resource.getrlimit(resource.RLIMIT_FSIZE)

    def fill_up() -> Iterator[Assessment]:
        resource.setrlimit(resource.RLIMIT_FSIZE, (20_000, before[1]))
        yield from many(200)

    try:
        with pytest.raises(SweepbookError, match="cannot be written: File too large"):
            xlsx.write(delivery(fill_up()), target)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)
    assert list(tmp_path.iterdir()) == []
    gc.collect()


def test_what_is_kept_of_the_tests_has_a_bound(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Of however many, as many are in memory as a sorter holds; here few."""
    monkeypatch.setattr("sweepbook.sorting.MOST", 20)
    held: list[int] = []

    def watched() -> Iterator[Assessment]:
        for number, each in enumerate(many(130)):
            yield each
            if number % 20 == 15:
                held.append(sum(isinstance(one, OneTest) for one in gc.get_objects()))

    target = tmp_path / "many.xlsx"
    xlsx.write(delivery(watched()), target)
    assert len(held) == 6
    assert max(held) <= 20
    assert len(rows(load_workbook(target), "Links")) == 130


def test_the_cells_that_are_kept_have_a_bound(tmp_path: Path) -> None:
    with Writer(str(tmp_path / "cells.xlsx"), OPTIONS) as writer:
        writer.add_worksheet()
        cells = Cells("A", Kind.TEXT, Styles(writer))
    assert len({cells[f"text {number}"] for number in range(1000)}) == 1000
    assert cells["x" * 10_000].count("x") == 10_000
    assert len(cells) < 200
    assert sum(map(len, cells.values())) < 20_000


@pytest.mark.parametrize(
    "document",
    [
        {},
        {"link": "A", "test": [], "results": 5, "origin": {}},
        {"link": {"label": 7, "near": [], "far": {"place": "x"}}, "test": {"near": "unit"}},
        {"test": {"near": {"instrument": {"serial": ["x"], "firmware": {}}}, "started": 5}},
        {"results": {"scalars": [5, {"parameter": "length", "length_m": "x"}]}, "origin": ["a"]},
    ],
)
def test_a_record_that_does_not_follow_its_schema_is_written(
    tmp_path: Path, document: dict[str, Any]
) -> None:
    broken = assessment(Record.of(document), margins=(), scalars=())
    (row,) = rows(written(tmp_path / "b.xlsx", [broken]), "Links")
    assert row["Link"] == "(no label)"
    assert row["Length of shortest pair, m"] is None


def test_the_format_is_there() -> None:
    found = load(()).writer("xlsx")
    assert found.suffixes == (".xlsx",)
    assert found.read is None
