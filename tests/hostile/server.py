"""Runs command lines, each in a process forked from this one, and says what each cost.

What is imported once is not counted, so the figures are those of the work. One request a line on
standard input: the words of a command line, and perhaps `file_size`, bytes of the largest file that
it may write, `seconds`, after which it is killed, `steps`, after how many steps towards the files
below `folder`, or `after`, seconds from the first of these steps on. One answer a line: exit code,
output, seconds of processor, MiB at the peak.
"""

import importlib
import json
import os
import resource
import signal
import sys
import tempfile
import traceback
from collections.abc import Callable
from typing import Any, TextIO

CPU_SECONDS = 30
MEMORY = 2 << 30
"""Of addresses, beyond which an allocation fails: a fault here must not take the machine down."""
_STEPS = {"open", "os.mkdir", "os.remove", "os.rename", "os.rmdir", "os.truncate"}
"""Events of the interpreter (PEP 578) that change files; `open` counts where it is for writing."""
_HEAVY = (
    "sweepbook.cli.program",
    "sweepbook.audit.run",
    "sweepbook.bag.repeat",
    "sweepbook.bag.unpack",
    "sweepbook.bag.verify",
    "sweepbook.record.codec",
    "jsonschema",
    "lxml.etree",
    "openpyxl",
    "pandas",
    "sqlalchemy",
    "xlsxwriter",
)


def main() -> None:
    """Answer until standard input ends."""
    for name in _HEAVY:
        importlib.import_module(name)
    answers = os.fdopen(os.dup(sys.stdout.fileno()), "w")
    for line in sys.stdin:
        answers.write(json.dumps(_answer(json.loads(line))) + "\n")
        answers.flush()


def _answer(asked: dict[str, Any]) -> dict[str, object]:
    with tempfile.TemporaryFile("w+", errors="backslashreplace") as output:
        child = os.fork()
        if not child:
            _run(asked, output)
        _, status, used = os.wait4(child, 0)
        output.seek(0)
        return {
            "exit_code": os.waitstatus_to_exitcode(status),
            "output": output.read(),
            "seconds": used.ru_utime + used.ru_stime,
            "mebibytes": used.ru_maxrss >> 10,
        }


def _run(asked: dict[str, Any], output: TextIO) -> None:
    """Run one command line and end this process."""
    resource.setrlimit(resource.RLIMIT_CPU, (CPU_SECONDS, CPU_SECONDS))
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    if "seconds" in asked:
        signal.signal(signal.SIGALRM, signal.SIG_DFL)  # which ends the process
        signal.setitimer(signal.ITIMER_REAL, asked["seconds"])
    if "file_size" in asked:
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)  # the write fails, as on a full disk
        resource.setrlimit(resource.RLIMIT_FSIZE, (asked["file_size"],) * 2)
    null = os.open(os.devnull, os.O_RDONLY)
    os.dup2(null, 0)
    os.dup2(output.fileno(), 1)
    os.dup2(output.fileno(), 2)
    code = 70
    try:
        from sweepbook.cli import main as program

        if "steps" in asked:
            sys.addaudithook(_dying(asked["steps"], asked["folder"]))
        if "after" in asked:
            sys.addaudithook(_dying_after(asked["after"], asked["folder"]))
        program(asked["words"])
        code = 0
    except SystemExit as end:
        code = end.code if isinstance(end.code, int) else 1
    except BaseException:  # noqa: BLE001 - whatever it is, the test has to see it
        traceback.print_exc()
    finally:
        sys.stdout.flush()
        sys.stderr.flush()
        os._exit(code)


def _dying(steps: int, folder: str) -> Callable[[str, tuple[Any, ...]], None]:
    """A hook that ends this process, as a loss of power does, before a step."""
    left = steps

    def step(event: str, arguments: tuple[Any, ...]) -> None:
        nonlocal left
        if _is_step(event, arguments, folder):
            if left == 0:
                os.kill(os.getpid(), signal.SIGKILL)
            left -= 1

    return step


def _dying_after(seconds: float, folder: str) -> Callable[[str, tuple[Any, ...]], None]:
    """A hook that has this process end so many seconds after the first step."""
    waiting = True

    def step(event: str, arguments: tuple[Any, ...]) -> None:
        nonlocal waiting
        if waiting and _is_step(event, arguments, folder):
            waiting = False
            signal.signal(signal.SIGALRM, signal.SIG_DFL)
            signal.setitimer(signal.ITIMER_REAL, seconds)

    return step


def _is_step(event: str, arguments: tuple[Any, ...], folder: str) -> bool:
    """Whether an event changes a file below a folder."""
    if event not in _STEPS or not str(arguments[0]).startswith(folder):
        return False
    return event != "open" or bool(arguments[2] & (os.O_WRONLY | os.O_RDWR))


if __name__ == "__main__":
    main()
