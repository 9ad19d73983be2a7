"""A file is replaced whole or not at all."""

import os
from pathlib import Path

import pytest

from sweepbook.errors import SweepbookError
from sweepbook.files import replaced, write_bytes


def test_a_fault_while_writing_leaves_the_old_file(tmp_path: Path) -> None:
    target = tmp_path / "handover.xlsx"
    target.write_bytes(b"old")
    with pytest.raises(RuntimeError, match="stop"), replaced(target) as part:
        part.write_bytes(b"half")
        raise RuntimeError("stop")
    assert target.read_bytes() == b"old"
    assert [entry.name for entry in tmp_path.iterdir()] == ["handover.xlsx"]


def test_the_new_file_takes_the_place_and_has_usual_rights(tmp_path: Path) -> None:
    usual = tmp_path / "usual"
    usual.touch()
    write_bytes(tmp_path / "deep" / "record.json", b"{}")
    assert (tmp_path / "deep" / "record.json").read_bytes() == b"{}"
    assert (tmp_path / "deep" / "record.json").stat().st_mode == usual.stat().st_mode


def test_a_place_that_cannot_be_written_is_named_with_what_to_do(tmp_path: Path) -> None:
    (tmp_path / "plain").write_bytes(b"")
    for place, said in (
        (
            tmp_path / "plain" / "x.json",
            r"cannot be written: .*plain is a file and no folder\. Name",
        ),
        (tmp_path, r"is a folder, and what is written is one file\. Name a file in it"),
        (Path("/proc/x.json"), r"cannot be written: .* Check that the folder"),
    ):
        with pytest.raises(SweepbookError, match=said):
            write_bytes(place, b"")


def test_what_is_no_file_is_never_replaced_by_one(tmp_path: Path) -> None:
    """A device or a pipe; as the superuser one could."""
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    with pytest.raises(SweepbookError, match=r"is no regular file.* Name a file"):
        write_bytes(pipe, b"")
    with pytest.raises(SweepbookError, match="pipe is a file and no folder"):
        write_bytes(pipe / "x.json", b"")
    assert pipe.is_fifo()
    assert list(tmp_path.iterdir()) == [pipe]
