"""How to call the program once more from where it was called now."""

import shlex
import shutil
import sys
from pathlib import Path

import click

from sweepbook.text import utf8_safe

_NAME = "sweepbook"


def program() -> str:
    """The word that starts the program again: its name where that is found, else its path."""
    told = click.get_current_context().find_root().info_name or _NAME
    here = Path(sys.argv[0])
    if here.stem != _NAME:
        return told if told.endswith(f" {_NAME}") else _NAME  # python -m sweepbook
    found = shutil.which(_NAME)
    if found is not None and here.exists() and here.samefile(found):
        return _NAME
    return utf8_safe(shlex.quote(sys.argv[0]))
