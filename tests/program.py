"""The program's commands run in this process, and a book of all the demo to run them on."""

from importlib.resources import files
from pathlib import Path

from click.testing import CliRunner, Result

from sweepbook.cli import main

DEMO = Path(str(files("sweepbook_demo")))
DIALECTS = tuple(f"--dialect={path}" for path in sorted((DEMO / "dialects").glob("*.toml")))


def run(*arguments: str | Path) -> Result:
    """Run a command line; whatever happens, no traceback may show."""
    result = CliRunner().invoke(main, [str(argument) for argument in arguments])
    assert result.exception is None or isinstance(result.exception, SystemExit)
    assert "Traceback" not in result.output
    return result
