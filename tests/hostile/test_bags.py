"""Bags made to harm: told what is wrong with them, nothing unpacked beyond a folder of its own."""

import shutil
from pathlib import Path

import pytest

from .bags import CHANGES, PACKED
from .conftest import Limited


@pytest.fixture(scope="session")
def bag(limited: Limited, book: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A good bag. Do not write to it."""
    folder = tmp_path_factory.mktemp("hostile-bag") / "bag"
    assert limited("archive", "make", book, folder).exit_code == 0
    return folder


@pytest.mark.parametrize("what", CHANGES)
def test_what_is_wrong_with_a_bag_is_told(
    limited: Limited, bag: Path, tmp_path: Path, what: str
) -> None:
    shutil.copytree(bag, tmp_path / "bag")
    CHANGES[what](tmp_path / "bag")
    done = limited("archive", "verify", tmp_path / "bag")
    assert done.exit_code == 1
    assert done.output.startswith(("changed: ", "doubtful: ", "extra: ", "missing: "))
    assert [path.name for path in tmp_path.iterdir()] == ["bag"]


@pytest.mark.parametrize("name", PACKED)
def test_a_packed_bag_is_refused(limited: Limited, tmp_path: Path, name: str) -> None:
    (tmp_path / name).write_bytes(PACKED[name]())
    done = limited("archive", "verify", tmp_path / name)
    assert done.exit_code == 3
    assert name in done.text
    assert [path.name for path in tmp_path.iterdir()] == [name]
