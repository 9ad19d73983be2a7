"""Files from strangers: each gets one clear line, the rest is done, no terminal obeys them."""

import gzip
import json
import os
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.program import DIALECTS

from .conftest import UPHELD, Run

HEAD = b"Heron sweep report,4\nmaker,Brindlewick\nmodel,Heron 5\n"
RECORD = b'{"schema": "urn:sweepbook:record-1", "kind": "balanced-link", '
FILES: dict[str, Callable[[], bytes]] = {
    "empty.csv": lambda: b"",
    "nul.csv": lambda: b"\0" * 10_000,
    "noise.csv": lambda: bytes(range(256)) * 100,
    "head-only.csv": lambda: HEAD,
    "cut-off.csv": lambda: UPHELD.read_bytes()[:40_000],
    "quote.csv": lambda: UPHELD.read_bytes().replace(b"link,", b'link,"', 1),
    "nul-inside.csv": lambda: UPHELD.read_bytes().replace(b"TR-1A", b"TR\x001A", 1),
    "bad-utf8.csv": lambda: UPHELD.read_bytes().replace(b"Reading Room", b"Reading\xff Room", 1),
    "long-line.csv": lambda: HEAD + b"link," + b"x" * 5_000_000 + b"\n\nMHz,IL 1-2\n1,1\n",
    "wide.csv": lambda: HEAD + b"\nMHz" + b",IL 1-2" * 200_000 + b"\n",
    "not-numbers.csv": lambda: UPHELD.read_bytes().replace(b"\n1.00,", b"\n1_000,", 1),
    "infinite.csv": lambda: UPHELD.read_bytes().replace(b"\n1.00,", b"\n1e999,", 1),
    "broken.csv.gz": lambda: gzip.compress(UPHELD.read_bytes())[:-2000],
    "zeros.csv.gz": lambda: gzip.compress(HEAD + b"\0" * 60_000_000),
    "not-gzip.csv.gz": lambda: b"\x1f\x8bnonsense",
    "deep.json": lambda: b"[" * 200_000,
    "deep-record.json": lambda: RECORD + b'"extra": ' + b'{"a":' * 100_000,
    "twice.json": lambda: RECORD + b'"kind": "cord"}',
    "nan.json": lambda: RECORD + b'"link": {"label": NaN}}',
    "huge.json": lambda: RECORD + b'"link": {"label": 1e999}}',
    "digits.json": lambda: RECORD + b'"link": {"label": ' + b"9" * 10_000 + b"}}",
    "surrogate.json": lambda: RECORD + b'"link": {"label": "\\ud800"}}',
    "list.json": lambda: b"[1, 2, 3]",
    "no-origin.json": lambda: RECORD + b'"record_id": "sb0-../../x", "origin": 7}',
    "tree.json": lambda: json.dumps({"schema": "urn:sweepbook:record-1", "link": [], "test": "x",
                                     "results": None, "stated": 3, "origin": [{}]}).encode(),
    "\x1b[2Jname.csv": lambda: b"hello",
    "new\nline.csv": lambda: b"hello",
}  # fmt: skip


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """All of them, a good export, and things that are no files."""
    exports = tmp_path / "exports"
    exports.mkdir()
    for name, content in FILES.items():
        (exports / name).write_bytes(content())
    (exports / "zz-good.csv").write_bytes(UPHELD.read_bytes())
    (exports / b"bytes\xff.csv".decode("utf-8", "surrogateescape")).write_bytes(b"hello")
    os.mkfifo(exports / "pipe.csv")
    (exports / "round").symlink_to(exports, target_is_directory=True)
    (exports / "gone.csv").symlink_to(exports / "nowhere")
    return exports


def _is_one_screen_line(text: str) -> bool:
    return all(line.isprintable() for line in text.splitlines())


def test_a_folder_of_them_is_gathered_checked_and_converted(run: Run, folder: Path) -> None:
    book, out = folder.parent / "book", folder.parent / "out.json"
    gathered = run("gather", book, folder, *DIALECTS)
    assert gathered.exit_code == 1
    assert _is_one_screen_line(gathered.stdout)
    assert "gathered: zz-good.csv: 1 test, 1 new" in gathered.stdout
    told = json.loads(run("gather", book, folder, *DIALECTS, "--json").stdout)
    names = {source["name"] for source in told["sources"]}
    assert names >= {*FILES, "pipe.csv", "gone.csv", r"bytes\udcff.csv"}
    checked = run("check", folder, *DIALECTS)
    assert checked.exit_code == 1
    assert _is_one_screen_line(checked.stdout)
    assert run("convert", folder, *DIALECTS, "--to", "json", "-o", out).exit_code == 1
    again = run("gather", book, folder, *DIALECTS)
    assert "gathered:" not in again.stdout
    assert run("doctor", book).exit_code == 0
    outside = {path.name for path in folder.parent.iterdir()}
    assert outside == {"exports", "book", "out.json"}


@pytest.mark.parametrize("name", FILES)
def test_each_alone_is_answered_by_a_line_with_its_name(
    run: Run, tmp_path: Path, name: str
) -> None:
    (tmp_path / name).write_bytes(FILES[name]())
    result = run("check", tmp_path / name, *DIALECTS)
    assert result.exit_code in (1, 3)
    assert _is_one_screen_line(result.output)
    assert name.encode("unicode_escape").decode()[:20] in result.output.replace("\n", "")


def test_a_bomb_is_not_unpacked(run: Run, tmp_path: Path) -> None:
    filling = (b" " * 50_000 + b"\n") * 2_000
    (tmp_path / "bomb.csv.gz").write_bytes(gzip.compress(UPHELD.read_bytes() + filling))
    result = run("check", tmp_path / "bomb.csv.gz", *DIALECTS)
    assert result.exit_code in (1, 3)
    assert "expands to more than" in " ".join(result.stdout.split())
