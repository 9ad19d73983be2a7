"""Schedules and settings made to harm are refused by one clear line, in bounded time and memory."""

from pathlib import Path

import pytest

from tests.program import DEMO

from .conftest import Limited
from .exports import HERON
from .settings import LIMITS, SCHEDULES, TOMLS


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
    schedule = ("--schedule", DEMO / "schedule.csv")
    for words in (
        ("check", book, "--project", path),
        ("check", tmp_path / "a.csv", "--dialect", path),
        ("reconcile", book, *schedule, "--label-scheme", path),
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


def test_what_has_no_end_is_no_setting(limited: Limited, book: Path) -> None:
    for option in ("--project", "--limits"):
        assert limited("check", book, option, "/dev/zero").exit_code == 3
