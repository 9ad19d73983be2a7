"""What lies on top of the repository: a delivery that was written into it by mistake is told."""

import shutil
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
FOLDERS = {"core", "plugins", "schemas", "tests", "demo_data"}
FILES = {"README.md", "DEVELOPERS.md", "pyproject.toml", "LICENSE", "CHANGELOG.md"}


@pytest.mark.skipif(
    not (ROOT / ".git").exists() or shutil.which("git") is None,
    reason="this is no clone, or there is no git",
)
def test_nothing_else_lies_on_top() -> None:
    told = subprocess.run(
        ["git", "-c", "safe.directory=*", "ls-files", "-z"],
        cwd=ROOT,
        check=True,
        capture_output=True,
        text=True,
    )
    tops = {path.partition("/")[0] for path in told.stdout.split("\0") if path}
    assert tops >= FOLDERS | FILES
    assert {of for of in tops - FOLDERS - FILES if not of.startswith(".")} == set()
