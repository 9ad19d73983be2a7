"""A draft of a long file is made in a few seconds, whatever the lines are."""

import gzip
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from sweepbook.limits.library import Library
from sweepbook.source import Source
from sweepbook_plugins.csv.draft.drafting import draft

MOST_SECONDS = 5.0
"""Of the processor: what a hostile file may cost."""
LIBRARY = Library.load()

LINES: dict[str, Callable[[int], str]] = {
    "keys": lambda at: f"key {at},{at}\n",
    "odd rows": lambda at: "x,y,z\n" if at else "1,2,3\n",
    "words": lambda at: f"word {at}\n",
    "one letter": lambda _: "x\n",
}


@pytest.mark.parametrize("kind", LINES)
def test_a_long_file_takes_no_longer_than_its_lines(kind: str, tmp_path: Path) -> None:
    path = tmp_path / "export.csv.gz"
    path.write_bytes(gzip.compress("".join(map(LINES[kind], range(200_000))).encode(), 1))
    begin = time.process_time()
    draft([Source(path)], LIBRARY)
    assert time.process_time() - begin < MOST_SECONDS
