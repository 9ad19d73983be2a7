"""What becomes of a fault: an exit code and one or two lines on stderr, never a traceback."""

import os
import sys
import traceback
from collections.abc import Callable
from enum import IntEnum
from typing import Any

import click

from sweepbook.errors import PluginCrash, SweepbookError
from sweepbook.shown import shortened
from sweepbook.text import printable, utf8_safe

TRACEBACK = "SWEEPBOOK_TRACEBACK"


class Exit(IntEnum):
    """Exit codes; the two above 100 are what a shell reports of a signal."""

    CLEAN = 0
    FINDINGS = 1
    CRASHED = 2
    WRONG_USE = 3
    STOPPED = 130
    PIPE_CLOSED = 141


class PipeClosed(BaseException):
    """Nobody reads what is printed any longer: no fault, and nothing that a plugin may catch."""


def guarded(run: Callable[[], Any]) -> int:
    """Run a command.

    Args:
        run: returns the exit code, or None for 0.

    Returns:
        The exit code; for a fault, after it has been told on stderr.
    """
    _let_every_character_out()
    try:
        code = int(run() or 0)
        sys.stdout.flush()
    except click.ClickException as error:
        error.show()
        return Exit.WRONG_USE
    except (click.Abort, KeyboardInterrupt):
        click.echo("Stopped. What was finished is kept; run the same command again.", err=True)
        return Exit.STOPPED
    except SweepbookError as error:
        tell(error)
        return Exit.CRASHED if isinstance(error, PluginCrash) else Exit.WRONG_USE
    except (
        BrokenPipeError,
        PipeClosed,
        SystemExit,
    ):  # click leaves by SystemExit where a pipe is closed
        _drop_the_rest_of_stdout()
        return Exit.PIPE_CLOSED
    except OSError as error:
        return _of_the_machine(error)
    except Exception as error:  # noqa: BLE001 - the rim: no traceback reaches a user
        return _own_fault(error)
    return code


def tell(error: SweepbookError) -> None:
    """Print what is wrong, and on the next line what to do."""
    click.echo(f"Error: {shortened(printable(error.message))}", err=True)
    click.echo(f"       {shortened(printable(error.todo))}", err=True)


def _of_the_machine(error: OSError) -> int:
    """Tell what the operating system refused, be it of a file or of what is printed."""
    if os.environ.get(TRACEBACK) == "1":
        traceback.print_exception(error)
    why = error.strerror or str(error)
    if error.filename is None:
        said = f"The system refused to read or to write something: {why}."
        todo = "See where the output goes, and that there is room. What was finished is kept."
    else:
        said = f"{utf8_safe(os.fsdecode(error.filename))} cannot be used: {why}."
        todo = "See that the path is right, that you may use what is there, and that there is room."
    tell(SweepbookError(said, todo))
    _drop_the_rest_of_stdout()
    return Exit.WRONG_USE


def _own_fault(error: Exception) -> int:
    """Tell of a fault in this program, or of the machine it runs on."""
    if os.environ.get(TRACEBACK) == "1":
        traceback.print_exception(error)
        return Exit.CRASHED
    text = printable(str(error))[:300]
    click.echo(
        f"Error: sweepbook met an unforeseen fault ({type(error).__name__}: {text}).", err=True
    )
    click.echo(
        f"       Set {TRACEBACK}=1, run the same command again and report what it prints.", err=True
    )
    return Exit.CRASHED


def _let_every_character_out() -> None:
    """Have a terminal that lacks a character show its escape, instead of failing."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="backslashreplace")


def _drop_the_rest_of_stdout() -> None:
    """Point stdout at nothing, so that Python's last flush does not complain either."""
    try:
        nothing = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nothing, sys.stdout.fileno())
        os.close(nothing)
    except (OSError, ValueError):
        return
