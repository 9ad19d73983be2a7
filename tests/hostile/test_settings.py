"""Schedules and settings made to harm are refused by one clear line, in bounded time and memory."""

import os
from pathlib import Path

import pytest

from tests.program import DEMO

from .conftest import Limited
from .exports import HERON
from .settings import LIMITS, SCHEDULES, TOMLS

SCHEDULE = ("--schedule", DEMO / "schedule.csv")


@pytest.mark.parametrize("name", SCHEDULES)
def test_a_schedule_is_refused(limited: Limited, book: Path, tmp_path: Path, name: str) -> None:
    (tmp_path / name).write_bytes(SCHEDULES[name]())
    done = limited("reconcile", book, "--schedule", tmp_path / name)
    assert done.exit_code == 3
    assert name in done.output


@pytest.mark.parametrize("name", TOMLS)
def test_a_file_of_settings_is_refused(
    limited: Limited, book: Path, tmp_path: Path, name: str
) -> None:
    path = tmp_path / f"{name}.toml"
    path.write_bytes(TOMLS[name]())
    (tmp_path / "a.csv").write_bytes(HERON)
    for words in (
        ("check", book, "--project", path),
        ("check", tmp_path / "a.csv", "--dialect", path),
        ("reconcile", book, *SCHEDULE, "--label-scheme", path),
    ):
        done = limited(*words)
        assert done.exit_code == 3
        assert path.name in done.output.replace("\n       ", "")


@pytest.mark.parametrize("name", LIMITS)
def test_a_limit_table_is_refused(limited: Limited, book: Path, tmp_path: Path, name: str) -> None:
    path = tmp_path / f"{name}.json"
    path.write_bytes(LIMITS[name]())
    for words in (("check", book, "--limits", path), ("limits", "check", path)):
        done = limited(*words)
        assert done.exit_code in (1, 3)
        assert path.name in done.output.replace("\n", "")
        assert "no usable limit table" in done.text or "is larger than" in done.text
        assert len(done.output) < 50_000


NAMED = {
    "project": ("check", "BOOK", "--project", "FILE"),
    "limits": ("check", "BOOK", "--limits", "FILE"),
    "limits check": ("limits", "check", "FILE"),
    "dialect": ("check", "EXPORT", "--dialect", "FILE"),
    "dialect try": ("dialect", "try", "FILE", "EXPORT"),
    "dialect draft": ("dialect", "draft", "FILE"),
    "schedule": ("reconcile", "BOOK", "--schedule", "FILE"),
    "label scheme": ("reconcile", "BOOK", *SCHEDULE, "--label-scheme", "FILE"),
    "mapping": ("export", "BOOK", "--to", "as-built", "-o", "OUT", "--mapping", "FILE"),
    "export to read": ("convert", "FILE", "--to", "json", "-o", "OUT"),
}


@pytest.mark.parametrize("what", ["pipe", "endless"])
@pytest.mark.parametrize("name", NAMED)
def test_a_pipe_or_a_device_is_refused_and_not_waited_for(
    limited: Limited, book: Path, tmp_path: Path, name: str, what: str
) -> None:
    path = tmp_path / "named.csv"
    if what == "pipe":
        os.mkfifo(path)
    else:
        path.symlink_to("/dev/zero")
    (tmp_path / "a.csv").write_bytes(HERON)
    places = {"BOOK": book, "FILE": path, "EXPORT": tmp_path / "a.csv", "OUT": tmp_path / "out"}
    done = limited(*(places.get(str(word), word) for word in NAMED[name]), seconds=60)
    assert done.exit_code == (1 if name == "limits check" else 3)
    assert "no regular file" in done.text
    assert "opy what it gives into" in done.text
    assert not (tmp_path / "out").exists()
