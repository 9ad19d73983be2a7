"""Kill commands at random moments, and look at what they leave.

    python -m tests.by_hand.kills [COUNT] [SEED]

Prints one line a kill, and what was wrong.
"""

import json
import random
import sqlite3
import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

from tests.program import DEMO, DIALECTS

HERONS = sorted((DEMO / "exports").glob("heron-1A-*.csv"))[:3]
_TARGETS = {"xlsx": "out.xlsx", "as-built": "out.sqlite", "report": "out.html"}
_NOTHING = 3
"""Exit code where there is no test but what is withdrawn."""
_WHO = ("--who", "K. Orme", "--why", "another building")
_ENTERED: dict[str, tuple[str, ...]] = {
    "correct": ("1A-P1-01", "operator", "op-99", *_WHO),
    "withdraw": ("heron-*", *_WHO),
    "accept": ("REC003", "1A-P1-01", *_WHO),
}
"""What goes into a book in some milliseconds: killed after the first step towards its files."""
Run = Callable[..., dict[str, Any]]


def main() -> None:
    """Kill, look, and say so."""
    given = [int(word) for word in sys.argv[1:]]
    count, seed = [*given, *(100, 1)[len(given) :]]
    chance, wrong = random.Random(seed), 0
    with subprocess.Popen(
        [sys.executable, "-m", "tests.hostile.server"],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    ) as server:
        assert server.stdin is not None
        assert server.stdout is not None
        asked, answers = server.stdin, server.stdout

        def run(*words: str | Path, **limits: object) -> dict[str, Any]:
            asked.write(json.dumps({"words": [str(word) for word in words], **limits}) + "\n")
            asked.flush()
            answer: dict[str, Any] = json.loads(answers.readline())
            return answer

        for number in range(count):
            with tempfile.TemporaryDirectory() as folder:
                what = chance.choice(["gather", *_ENTERED, "archive", "replace", *_TARGETS])
                told, fault = _kill(run, Path(folder), what, chance.uniform(0.05, 1.5))
            wrong += bool(fault)
            print(number, what, told, fault or "whole", flush=True)
        asked.close()
    print(f"{count} commands, {wrong} of them left something wrong")


def _kill(run: Run, folder: Path, what: str, seconds: float) -> tuple[str, str]:
    """Kill one command: its exit code, and what is wrong behind it; "" for nothing."""
    book, bag = folder / "book", folder / "bag"
    gather = ("gather", book, *HERONS, *DIALECTS)
    if what == "gather":
        code = run(*gather, seconds=seconds)["exit_code"]
        again = run(*gather)["exit_code"]
        return str(code), "" if not again and not run("doctor", book)["exit_code"] else "the book"
    run(*gather)
    if what in _ENTERED:
        words = (what, book, *_ENTERED[what])
        code = run(*words, after=seconds / 75, folder=str(book))["exit_code"]
        again = run(*words)
        sound = not run("doctor", book)["exit_code"] and (
            not again["exit_code"] or "already" in again["output"]
        )
        there = "another building" in " ".join(run(what, book)["output"].split())
        left = run("check", book)["exit_code"] == _NOTHING
        whole = sound and there and left == (what == "withdraw")
        return str(code), "" if whole else "the book"
    if what in ("archive", "replace"):
        make = ("archive", "make", book, bag, *(["--replace"] if what == "replace" else []))
        if what == "replace":
            run(*make)
        code = run(*make, seconds=seconds)["exit_code"]
        gone = what == "replace" and not bag.exists()
        whole = not gone and (not bag.exists() or not run("archive", "verify", bag)["exit_code"])
        return str(code), "" if whole else "the bag"
    target = folder / _TARGETS[what]
    export = ("export", book, "--to", what, "-o", target)
    run(*export)
    before = _content(target)
    code = run(*export, "--rule", "REC004", seconds=seconds)["exit_code"]
    after = _content(target)
    fault = "" if after == before or code == 0 else "the target"
    return str(code), fault or ("" if not run(*export)["exit_code"] else "the next export")


def _content(target: Path) -> object:
    """What a file says; of a database the rows of its tests."""
    if target.suffix != ".sqlite":
        return target.read_bytes()
    with sqlite3.connect(target) as database:
        whole = database.execute("PRAGMA integrity_check").fetchone()
        return whole, database.execute("SELECT * FROM test ORDER BY 1").fetchall()


if __name__ == "__main__":
    main()
