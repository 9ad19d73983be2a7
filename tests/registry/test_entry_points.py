"""A quick look at files says of no group that it is not there where the library finds it."""

import sys
import zipfile
from importlib.metadata import entry_points as by_library
from pathlib import Path

import pytest

from sweepbook import entry_points

NAMED = "[ghosts]\nboo = boo\n"
METADATA = "Metadata-Version: 2.1\nName: boo\nVersion: 1.0\n"


def test_every_group_that_the_library_finds_here_may_be() -> None:
    groups = by_library().groups
    assert groups
    assert all(entry_points.may_be(group, sys.path) for group in groups)


def test_a_group_that_nothing_names_is_not_there() -> None:
    assert not by_library(group="sweepbook_ghosts")
    assert not entry_points.may_be("sweepbook_ghosts", sys.path)
    assert entry_points.of("sweepbook_ghosts") == ()


@pytest.mark.parametrize("where", ["boo-1.0.dist-info", "Boo-1.0.EGG-INFO", "boo.egg/EGG-INFO"])
def test_one_in_a_folder_is_found(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, where: str
) -> None:
    info = tmp_path / where
    info.mkdir(parents=True)
    (info / "METADATA").write_text(METADATA)
    (info / "PKG-INFO").write_text(METADATA)
    (info / "entry_points.txt").write_text(NAMED)
    place = tmp_path / "boo.egg" if "/" in where else tmp_path
    monkeypatch.syspath_prepend(place)
    assert [of.name for of in by_library(group="ghosts")] == ["boo"]
    assert [of.name for of in entry_points.of("ghosts")] == ["boo"]


def test_one_in_an_archive_is_found(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    packed = tmp_path / "boo.zip"
    with zipfile.ZipFile(packed, "w") as archive:
        archive.writestr("boo-1.0.dist-info/METADATA", METADATA)
        archive.writestr("boo-1.0.dist-info/entry_points.txt", NAMED)
    monkeypatch.syspath_prepend(packed)
    assert [of.name for of in by_library(group="ghosts")] == ["boo"]
    assert [of.name for of in entry_points.of("ghosts")] == ["boo"]


def test_where_another_finder_knows_packages_the_library_is_asked(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    class Finder:
        """Knows packages that lie nowhere."""

        def find_distributions(self, context: object = None) -> list[object]:
            return []

        def find_spec(self, name: str, path: object = None, target: object = None) -> None:
            return None

    monkeypatch.setattr(sys, "meta_path", [*sys.meta_path, Finder()])
    assert entry_points.may_be("sweepbook_ghosts", [])
