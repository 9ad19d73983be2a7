"""A bag that takes the place of another: the old one is never lost, nor where nobody looks."""

import multiprocessing
import os
import signal
from pathlib import Path
from unittest import mock

import pytest

from sweepbook import exchange
from sweepbook.bag import info, place
from sweepbook.errors import SweepbookError


def a_bag(folder: Path, text: str) -> Path:
    """A folder that calls itself a bag of this program."""
    folder.mkdir(parents=True)
    (folder / "bag-info.txt").write_bytes(info.whole([("Contact-Name", text)], [], "x", []))
    return folder


def whose(folder: Path) -> str:
    return info.read((folder / "bag-info.txt").read_bytes())["Contact-Name"]


def replace(out: Path, text: str) -> list[str]:
    told: list[str] = []
    with place.begun(out, None, replace=True, tell=told.append) as root:
        root.rmdir()
        a_bag(root, text)
    return told


def names(folder: Path) -> set[str]:
    return {path.name for path in folder.iterdir()}


@pytest.mark.parametrize("able", [True, False])
def test_the_new_bag_is_there_and_nothing_of_the_old_one_is_left(
    tmp_path: Path, able: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    if not able:
        monkeypatch.setattr(place, "exchange", lambda *_: False)
    out = a_bag(tmp_path / "library", "old")
    assert replace(out, "new") == []
    assert (whose(out), names(tmp_path)) == ("new", {"library"})


def test_a_bag_that_came_meanwhile_is_left_alone(tmp_path: Path) -> None:
    """Another program may put its bag there while this one is built."""
    out = tmp_path / "library"
    with pytest.raises(SweepbookError, match="is there already"), place.begun(out, None) as root:
        root.rmdir()
        a_bag(root, "late")
        a_bag(out, "early")
    assert (whose(out), names(tmp_path)) == ("early", {"library"})


def test_two_folders_change_places_in_one_step_or_nothing_happens(tmp_path: Path) -> None:
    one, other = a_bag(tmp_path / "one", "1"), a_bag(tmp_path / "other", "2")
    did = exchange.exchange(one, other)
    assert (whose(one), whose(other)) == (("2", "1") if did else ("1", "2"))
    assert not exchange.exchange(one, tmp_path / "none")
    with mock.patch("ctypes.CDLL", side_effect=OSError):
        assert not exchange.exchange(one, other)


def _killed_between_the_steps(out: Path) -> None:
    """Run until the old bag has stepped aside; the new one never comes."""
    real = Path.replace

    def one_step(self: Path, target: Path) -> Path:
        moved = real(self, target)
        os.kill(os.getpid(), signal.SIGKILL)
        return moved

    place.exchange = lambda *_: False  # type: ignore[attr-defined]  # this process ends in it
    with mock.patch.object(Path, "replace", one_step):
        replace(out, "new")


def test_a_kill_between_the_two_steps_leaves_the_old_bag_where_people_see_it(
    tmp_path: Path,
) -> None:
    out = a_bag(tmp_path / "library", "old")
    fork = multiprocessing.get_context("fork")
    process = fork.Process(target=_killed_between_the_steps, args=(out,))
    process.start()
    process.join(60)
    assert process.exitcode == -signal.SIGKILL
    seen = {name for name in names(tmp_path) if not name.startswith(".")}
    assert seen == {"library.before"}
    assert whose(tmp_path / "library.before") == "old"
    told: list[str] = []
    with pytest.raises(SweepbookError, match="--replace"), place.begun(out, None, tell=told.append):
        pass
    assert whose(out) == "old"
    assert "is back in its place" in told[0]
    assert replace(out, "newer") == []
    assert whose(out) == "newer"


def test_a_bag_left_over_is_told_of_and_left_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = a_bag(tmp_path / "library", "old")
    a_bag(tmp_path / "library.before", "older")
    monkeypatch.setattr(place, "exchange", lambda *_: False)
    (told,) = replace(out, "new")
    assert "library.before" in told
    assert (whose(out), whose(tmp_path / "library.before")) == ("new", "older")


def test_what_is_no_bag_is_never_put_in_the_place_of_one(tmp_path: Path) -> None:
    (tmp_path / "library.before").mkdir()
    (tmp_path / "library.before" / "letter.txt").write_text("keep me")
    assert replace(tmp_path / "library", "new") == []
    assert (tmp_path / "library.before" / "letter.txt").read_text() == "keep me"
