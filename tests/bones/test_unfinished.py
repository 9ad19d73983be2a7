"""What a killed program left is removed by the next one, and what is being made is let alone."""

import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO

import pytest

from sweepbook import unfinished
from sweepbook.files import replaced, write_bytes
from sweepbook.locks import taken

_MAKER = """
import sys
from pathlib import Path
from sweepbook import unfinished

with getattr(unfinished, sys.argv[1])(Path(sys.argv[2])) as place:
    (place / "half" if place.is_dir() else place).write_bytes(b"half")
    print(place.name, flush=True)
    sys.stdin.read()
"""


@contextmanager
def _maker(kind: str, folder: Path) -> Iterator[tuple[subprocess.Popen[str], Path]]:
    """Another process, which makes something as long as this lasts; and what it makes."""
    with subprocess.Popen(
        [sys.executable, "-c", _MAKER, kind, str(folder)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    ) as process:
        assert process.stdout is not None
        yield process, folder / process.stdout.readline().strip()


@pytest.mark.parametrize("kind", ["file_in", "folder_in"])
def test_the_next_writer_tells_what_was_left_from_what_is_being_made(
    kind: str, tmp_path: Path
) -> None:
    with _maker(kind, tmp_path) as (killed, left):
        assert unfinished.is_unfinished(left)
        assert not unfinished.is_left(left)
        killed.kill()
    with _maker(kind, tmp_path) as (_, made):
        assert not left.exists()  # gone with the second maker
        with replaced(tmp_path / "report.html") as part:
            assert made.exists()
            unfinished.clear(tmp_path)
            assert part.exists()  # this process holds it, and does not take it from itself
            part.write_bytes(b"whole")
        assert made.exists()
    assert [entry.name for entry in tmp_path.iterdir()] == ["report.html"]
    assert (tmp_path / "report.html").read_bytes() == b"whole"


def test_a_folder_is_looked_through_once(tmp_path: Path) -> None:
    write_bytes(tmp_path / "1.json", b"")
    (tmp_path / ".sweepbook-x.part").write_bytes(b"half")
    (tmp_path / ".sweepbook-y.part").mkdir()
    write_bytes(tmp_path / "2.json", b"")
    assert (tmp_path / ".sweepbook-x.part").exists()
    unfinished.clear(tmp_path)
    assert sorted(entry.name for entry in tmp_path.iterdir()) == ["1.json", "2.json"]


def test_what_another_name_leads_to_is_let_alone(tmp_path: Path) -> None:
    (tmp_path / "letter.txt").write_text("keep me")
    (tmp_path / "job").mkdir()
    for number, place in enumerate(("letter.txt", "job")):
        (tmp_path / f".sweepbook-{number}.part").symlink_to(tmp_path / place)
    unfinished.clear(tmp_path)
    assert (tmp_path / "letter.txt").read_text() == "keep me"
    assert len(list(tmp_path.iterdir())) == 4


@pytest.mark.parametrize("kind", ["file_in", "folder_in"])
def test_what_is_taken_away_while_it_is_made_is_made_anew(
    kind: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Another program may look between the making and the locking."""
    tries: list[bool] = []

    def slow(stream: IO[bytes], at: int = 0) -> bool:
        if not tries:
            tries.append(True)
            with monkeypatch.context() as other:
                other.setattr(unfinished, "taken", taken)
                unfinished.clear(tmp_path)
        return taken(stream, at)

    monkeypatch.setattr(unfinished, "taken", slow)
    with getattr(unfinished, kind)(tmp_path) as place:
        assert place.exists()
        assert len(list(tmp_path.iterdir())) == 1
    assert tries
    assert list(tmp_path.iterdir()) == []
