"""No command opens a connection, asks for a name or starts another program."""

import subprocess
import sys
from pathlib import Path

from tests.program import DEMO, DIALECTS

WATCHED = """
import sys

def watch(event, arguments):
    if event.split(".")[0] in ("socket", "urllib", "http", "ftplib", "smtplib") or event in (
        "subprocess.Popen", "os.system", "os.exec", "os.posix_spawn", "os.startfile",
        "webbrowser.open",
    ):
        sys.stderr.write(f"WATCHED {event} {arguments!r}\\n")
        raise PermissionError(event)

sys.addaudithook(watch)
from sweepbook.cli import main
sys.exit(main.main(sys.argv[1:], standalone_mode=False))
"""


def watched(*arguments: str | Path) -> subprocess.CompletedProcess[str]:
    """A command in a process of its own, under an audit hook that sees what Python does."""
    words = [sys.executable, "-c", WATCHED, *map(str, arguments)]
    return subprocess.run(words, capture_output=True, encoding="utf-8", check=False, timeout=300)


def test_the_whole_job_needs_no_network_and_no_other_program(tmp_path: Path) -> None:
    demo = watched("demo", tmp_path / "demo")
    assert (demo.returncode, demo.stderr.count("WATCHED")) == (0, 0), demo.stderr
    book = tmp_path / "demo" / "book"
    jobs: tuple[tuple[str | Path, ...], ...] = (
        ("doctor", book),
        ("show", book, "1A-P1-04", "--why", "return loss"),
        ("retests", book),
        ("dialect", "draft", next((DEMO / "exports").glob("heron-1A-P1-01*"))),
        ("convert", DEMO / "exports", *DIALECTS, "--to", "json", "-o", tmp_path / "records.json"),
        ("limits", "plot", "tia-568.2-d/cat6a/channel", "-o", tmp_path / "limit.svg"),
    )
    for words in jobs:
        done = watched(*words)
        assert done.returncode in (0, 1), (words, done.stderr)
        assert "WATCHED" not in done.stderr, (words, done.stderr)


def test_the_watch_sees_a_connection(tmp_path: Path) -> None:
    code = WATCHED.replace(
        "from sweepbook.cli import main", "import socket; socket.create_connection(('::1', 9))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert "WATCHED socket." in done.stderr
