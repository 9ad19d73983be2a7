"""Two paths that change places in one step, so that neither is ever missing."""

import ctypes
import os
import sys
from pathlib import Path

_HERE = -100
"""AT_FDCWD of Linux: paths are taken from the folder that the program runs in."""
_EXCHANGE = 2
"""RENAME_EXCHANGE of Linux (renameat2(2)); RENAME_SWAP of macOS (renamex_np(2)) has the same."""


def exchange(one: Path, other: Path) -> bool:
    """Let two paths that are there change places.

    Returns:
        Whether they did. Where not, nothing was done: the system, or the disk, cannot do it.
    """
    ends = os.fsencode(one), os.fsencode(other)
    try:
        system = ctypes.CDLL(None, use_errno=True)
        if sys.platform == "linux":
            return bool(system.renameat2(_HERE, ends[0], _HERE, ends[1], _EXCHANGE) == 0)
        if sys.platform == "darwin":
            return bool(system.renamex_np(*ends, _EXCHANGE) == 0)
    except (AttributeError, OSError, TypeError):
        return False
    return False
