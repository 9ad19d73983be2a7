"""What is installed is what lies in the repository: no less, and nothing beside it."""

import subprocess
import sys
import tomllib
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
SOURCE_ROOTS = {
    "core": "sweepbook",
    "plugins": "sweepbook_plugins",
    "schemas": "sweepbook_schemas",
    "demo_data": "sweepbook_demo",
}


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> set[str]:
    """Names of the files in a wheel built from this repository."""
    folder = tmp_path_factory.mktemp("wheel")
    build = "from hatchling.build import build_wheel; print(build_wheel({!r}))"
    subprocess.run(
        [sys.executable, "-c", build.format(str(folder))], cwd=ROOT, check=True, capture_output=True
    )
    (path,) = folder.glob("*.whl")
    with zipfile.ZipFile(path) as archive:
        return set(archive.namelist())


def _in_repository() -> set[str]:
    files = set()
    for root, package in SOURCE_ROOTS.items():
        for path in (ROOT / root / package).rglob("*"):
            if path.is_file() and "__pycache__" not in path.parts:
                files.add(path.relative_to(ROOT / root).as_posix())
    return files


def test_the_wheel_holds_every_file_of_the_four_packages(wheel: set[str]) -> None:
    missing = _in_repository() - wheel
    assert missing == set()


def test_the_wheels_top_level_is_the_four_packages_and_its_own_metadata(wheel: set[str]) -> None:
    top = {name.partition("/")[0] for name in wheel}
    metadata = {name for name in top if name.endswith(".dist-info")}
    assert len(metadata) == 1
    assert top - metadata == set(SOURCE_ROOTS.values())


def test_the_wheel_holds_the_guide_that_messages_point_to(wheel: set[str]) -> None:
    assert "sweepbook_plugins/README.md" in wheel


def test_each_source_root_holds_one_package_and_nothing_else() -> None:
    for root, package in SOURCE_ROOTS.items():
        visible = {p.name for p in (ROOT / root).iterdir() if not p.name.startswith(".")}
        assert visible - {"README.md", "__pycache__"} == {package}


def test_each_package_says_that_it_is_typed(wheel: set[str]) -> None:
    assert {f"{package}/py.typed" for package in SOURCE_ROOTS.values()} <= wheel


def test_the_command_is_installed() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert project["scripts"] == {"sweepbook": "sweepbook.cli:main"}
