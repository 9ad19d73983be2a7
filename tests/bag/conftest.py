"""Bags for the tests of this folder, made once; copy one before changing it."""

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.program import DEMO, DIALECTS, run

LINKS = ("heron-1A-P1-01", "heron-1A-P1-03", "heron-1A-P1-04")
"""An upheld pass, an upheld fail, an overturned pass; each a few lines of words and 40 curves."""


@pytest.fixture(scope="session")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book of three demo links with a correction. Do not write to it."""
    folder = tmp_path_factory.mktemp("archived") / "book"
    exports = (DEMO / "exports" / f"{name}.csv" for name in LINKS)
    assert run("gather", folder, *exports, *DIALECTS).exit_code == 0
    who = ("--who", "K. Veldt", "--why", "typed wrong")
    words = ("1A-P1-04", "link.label", "1A-P1-40", *who)
    assert run("correct", folder, *words).exit_code == 0
    return folder


@pytest.fixture(scope="session")
def made(book: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The book as a bag. Do not write to it."""
    out = tmp_path_factory.mktemp("bag") / "library-east"
    words = ("--schedule", DEMO / "schedule.csv", "--info", "Source-Organization=Veldt & Daughters")
    result = run("archive", "make", book, out, *words)
    assert result.exit_code == 0, result.output
    return out


@pytest.fixture
def bag(made: Path, tmp_path: Path) -> Path:
    """A copy of the bag to change."""
    return Path(shutil.copytree(made, tmp_path / "bag"))


Reseal = Callable[[], None]


@pytest.fixture
def reseal(bag: Path) -> Reseal:
    """Writes the lists of the changed bag anew, as somebody would who wants to hide a change."""
    from sweepbook.bag.sealing import seal

    def again() -> None:
        seal(bag, "again", ((), ()), {})

    return again
