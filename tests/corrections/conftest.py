"""A book of two links of the demo, with a label corrected or not."""

import shutil
from pathlib import Path

import pytest

from tests.program import DEMO, run

DIALECT = f"--dialect={DEMO / 'dialects' / 'brindlewick-heron-5.toml'}"
EXPORTS = [DEMO / "exports" / f"heron-1A-P1-0{n}.csv" for n in (1, 3)]
BY = ("--who", "K. Orme", "--why", "read off the panel")


@pytest.fixture(scope="module")
def gathered(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("corrections") / "book"
    assert run("gather", folder, *EXPORTS, DIALECT).exit_code == 0
    return folder


@pytest.fixture
def book(gathered: Path, tmp_path: Path) -> Path:
    """A book of its own, with one label corrected."""
    folder = shutil.copytree(gathered, tmp_path / "book")
    assert run("correct", folder, "1A-P1-01", "label", "1A-P1-11", *BY).exit_code == 0
    return folder
