"""A program that is killed while it writes leaves the database as it was."""

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from sweepbook.database_url import DatabaseUrl
from sweepbook_plugins.asbuilt.load import BATCH

from .either import Place, content, write
from .made_up import assessed, record
from .test_postgresql import NewDatabase

WRITES = """
import os, signal, sys
from pathlib import Path
from sweepbook.database_url import DatabaseUrl
from sweepbook_plugins.asbuilt import database, load
from tests.as_built.made_up import assessed, delivery, record

place, moment = sys.argv[1:]

def dies(*_):
    os.kill(os.getpid(), signal.SIGKILL)

def entries():
    for number in range(load.BATCH + 2):
        yield assessed(record(f"N-{number}"))
    if moment == "among the tests":
        dies()

if moment == "at the end":
    load.take_out = dies
if "://" in place:
    database.write_url(delivery(entries()), DatabaseUrl(place))
else:
    database.write(delivery(entries()), Path(place))
"""


def _killed(place: Place, moment: str) -> int:
    roots = [str(Path(__file__).parents[2]), *sys.path]
    words = [place.text if isinstance(place, DatabaseUrl) else str(place), moment]
    done = subprocess.run(
        [sys.executable, "-c", WRITES, *words],
        env={**os.environ, "PYTHONPATH": os.pathsep.join(roots)},
        capture_output=True,
        check=False,
        timeout=300,
    )
    return done.returncode


@pytest.mark.parametrize("moment", ["among the tests", "at the end"])
@pytest.mark.parametrize("engine", ["sqlite", "postgresql"])
def test_a_kill_leaves_what_was_there(
    request: pytest.FixtureRequest, tmp_path: Path, engine: str, moment: str
) -> None:
    place: Place = tmp_path / "a.sqlite"
    if engine == "postgresql":
        made: NewDatabase = request.getfixturevalue("new_database")
        place = made()
    write(place, assessed(record("A")))
    before = content(place)
    assert _killed(place, moment) == -signal.SIGKILL
    assert content(place) == before
    assert _killed(place, "never") == 0
    assert len(content(place)["test"]) == len(before["test"]) + BATCH + 2


def test_a_kill_leaves_no_half_of_a_new_file(tmp_path: Path) -> None:
    assert _killed(tmp_path / "a.sqlite", "at the end") == -signal.SIGKILL
    assert not (tmp_path / "a.sqlite").exists()
