"""How often Python looks for objects that hold each other, while the program runs."""

import subprocess
import sys

from sweepbook import garbage

ASK = """
import gc
from sweepbook.cli import main
main(["formats"], standalone_mode=False)
print(gc.get_threshold()[0])
"""


def test_a_command_looks_seldom_but_does_look() -> None:
    """Whoever only imports the library keeps what Python does unasked."""
    before, after = (
        int(subprocess.check_output([sys.executable, "-c", code], text=True).splitlines()[-1])
        for code in ("import gc, sweepbook.cli; print(gc.get_threshold()[0])", ASK)
    )
    assert (before, after) == (700, garbage.EVERY)
