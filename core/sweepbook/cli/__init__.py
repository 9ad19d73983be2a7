"""The command line: `sweepbook COMMAND`, each command loaded only when it is called."""

from sweepbook.cli.program import main

__all__ = ["main"]
