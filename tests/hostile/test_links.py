"""Links in a book: nothing is written to where they lead, and a pipe is not waited for."""

import os
import shutil
from pathlib import Path

import pytest

from tests.program import DEMO, DIALECTS

from .conftest import Limited

HERONS = sorted((DEMO / "exports").glob("heron-1A-*.csv"))[:2]
ACCEPT = ("accept", "REC004", "--everywhere", "--who", "K. Orme", "--why", "w")
CORRECT = ("correct", "1A-P1-01", "link.label", "X-1", "--who", "K. Orme", "--why", "w")
WITHDRAW = ("withdraw", "heron-*", "--who", "K. Orme", "--why", "w")
WRITTEN = {
    "records": ("gather",),
    "records/*": ("gather",),
    "sources": ("gather",),
    "dialects": ("gather",),
    "journal.jsonl": ("gather", *CORRECT, *WITHDRAW),
    ".lock": ("gather", *CORRECT, *WITHDRAW, *ACCEPT),
    "project.toml": ACCEPT,
}


def _state(folder: Path) -> dict[Path, bytes | None]:
    """Every place below a folder and what it holds; links not followed."""
    every = (Path(at, name) for at, folders, files in os.walk(folder) for name in folders + files)
    return {one: one.read_bytes() if one.is_file() else None for one in every}


def _commands(names: tuple[str, ...], book: Path) -> list[tuple[str | Path, ...]]:
    """The commands that write to a place, on a book."""
    gather = ("gather", book, *HERONS, *DIALECTS)
    entered = [(one[0], book, *one[1:]) for one in (CORRECT, WITHDRAW, ACCEPT)]
    return [one for one in (gather, *entered) if one[0] in names]


@pytest.mark.parametrize("place", WRITTEN)
def test_nothing_is_written_to_where_a_link_leads(
    limited: Limited, book: Path, tmp_path: Path, place: str
) -> None:
    copy, elsewhere = tmp_path / "copy", tmp_path / "elsewhere" / "kept"
    shutil.copytree(book, copy)
    (copy / "project.toml").write_text('schema = "urn:sweepbook:project-0"\n', encoding="utf-8")
    linked = next(copy.glob(place))
    elsewhere.parent.mkdir()
    linked.rename(elsewhere)
    linked.symlink_to(elsewhere)
    if place == "dialects":  # the one at hand is to be written
        next(elsewhere.iterdir()).unlink()
    before = _state(elsewhere.parent)
    for words in _commands(WRITTEN[place], copy):
        done = limited(*words)
        if place != "records/*":  # a record may go into another folder
            assert done.exit_code == 3
            assert f"{linked.name} is a symbolic link" in done.text
        assert _state(elsewhere.parent) == before
        assert linked.is_symlink()


@pytest.mark.parametrize("place", ["journal.jsonl", ".lock", "project.toml", "corrections.csv"])
def test_a_link_to_nothing_makes_nothing(
    limited: Limited, book: Path, tmp_path: Path, place: str
) -> None:
    copy = tmp_path / "copy"
    shutil.copytree(book, copy)
    (copy / place).unlink(missing_ok=True)
    (copy / place).symlink_to(tmp_path / "elsewhere")
    for words in _commands(("gather", "correct", "accept"), copy):
        limited(*words)
    assert not (tmp_path / "elsewhere").exists()


@pytest.mark.parametrize("place", [".lock", "index.csv", "project.toml"])
@pytest.mark.parametrize("what", ["pipe", "endless"])
def test_what_is_no_file_is_not_waited_for(
    limited: Limited, book: Path, tmp_path: Path, place: str, what: str
) -> None:
    copy = tmp_path / "copy"
    shutil.copytree(book, copy)
    (copy / place).unlink(missing_ok=True)
    if what == "pipe":
        os.mkfifo(copy / place)
    else:
        (copy / place).symlink_to("/dev/zero")
    for words in _commands(("gather", "accept"), copy):
        assert limited(*words, seconds=120).exit_code in (0, 3)
