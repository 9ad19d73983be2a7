"""Folders and files that nobody may open, for tests that may run with every right there is."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

_NOBODY = 65534


@contextmanager
def closed(path: Path) -> Iterator[None]:
    """Take all rights to a path from this process; what lies beside it is named from here."""
    was, mighty = path.stat().st_mode, os.geteuid() == 0
    path.chmod(0)
    if mighty:
        os.seteuid(_NOBODY)
    try:
        yield
    finally:
        if mighty:
            os.seteuid(0)
        path.chmod(was)
