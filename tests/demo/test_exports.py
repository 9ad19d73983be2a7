"""The committed files: made again byte for byte, laid out as README.md says, small enough."""

import ast
import csv
import gzip
import json
import math
from importlib.resources import files
from typing import Any

import pytest

from sweepbook_demo.make import LINKS, exports, sheet_of
from sweepbook_demo.truth import describe

DEMO = files("sweepbook_demo")
MOST_BYTES = 6_000_000
MADE_AGAIN = (
    "heron-1A-P1-02.csv",
    "heron-2A-P1-11.csv.gz",
    "tolk-annexe-5.csv.gz",
    "erruk-printworks-2.xml.gz",
)
LINE_MODEL = ("grid", "line", "structure", "cascade", "plant", "parts", "instrument", "curves")


def _bytes(name: str) -> bytes:
    content = (DEMO / "exports" / name).read_bytes()
    return gzip.decompress(content) if name.endswith(".gz") else content


def _truth() -> dict[tuple[str, str], dict[str, Any]]:
    """Entries by file and label: a retest has the label of the first test."""
    document = json.loads((DEMO / "truth.json").read_text(encoding="utf-8"))
    return {(entry["file"], entry["label"]): entry for entry in document["links"]}


@pytest.mark.parametrize("name", MADE_AGAIN)
def test_making_a_file_again_gives_the_committed_bytes(name: str) -> None:
    """Compressed files are compared after decompression: compressors differ between systems."""
    made = [(link, sheet_of(link)) for link in LINKS if link.file == name]
    content = exports(made)[name]
    again = gzip.decompress(content) if name.endswith(".gz") else content
    assert again == _bytes(name)
    truth = _truth()
    for link, sheet in made:
        assert json.loads(json.dumps(describe(link, sheet))) == truth[name, link.facts["label"]]


def test_every_planned_link_is_committed_and_nothing_else() -> None:
    committed = {entry.name for entry in (DEMO / "exports").iterdir()}
    assert committed == {link.file for link in LINKS}
    planned = [(link.file, link.facts["label"]) for link in LINKS]
    assert list(_truth()) == planned
    assert len({label for _, label in planned}) >= 24


def test_the_demo_stays_small() -> None:
    """All of it: exports, truth, dialects, schedule and the model."""
    folders = (DEMO, DEMO / "exports", DEMO / "dialects")
    committed = [entry for folder in folders for entry in folder.iterdir() if entry.is_file()]
    assert sum(len(entry.read_bytes()) for entry in committed) < MOST_BYTES


def test_nothing_of_the_product_is_imported_and_the_line_model_knows_no_limit() -> None:
    for entry in DEMO.iterdir():
        if not entry.name.endswith(".py"):
            continue
        names = set()
        for node in ast.walk(ast.parse(entry.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom):
                names.add(node.module or "")
            elif isinstance(node, ast.Import):
                names.update(alias.name for alias in node.names)
        assert not {name for name in names if name.split(".")[0] == "sweepbook"}, entry.name
        if entry.name.removesuffix(".py") in LINE_MODEL:
            assert "sweepbook_demo.limit_lines" not in names
            assert "sweepbook_demo.tester" not in names


def test_a_heron_file_read_by_hand_gives_the_true_margin() -> None:
    """Insertion loss of 2A-P1-06 against the recalled TIA link limit, written out here."""
    rows = list(csv.reader(_bytes("heron-2A-P1-06.csv.gz").decode().splitlines()))
    assert rows[0] == ["Heron sweep report", "4"]
    blank = rows.index([])
    facts = {row[0]: row[1] for row in rows[:blank]}
    assert (facts["link"], facts["verdict"]) == ("2A-P1-06", "FAIL")
    column = rows[blank + 1].index("IL 7-8")
    worst = math.inf
    for row in rows[blank + 2 :]:
        f = float(row[0])
        root = math.sqrt(f)
        limit = 0.9 * (1.82 * root + 0.0091 * f + 0.25 / root) + 0.06 * root + 0.00015 * f**1.5
        worst = min(worst, limit - float(row[column]))
    true = [
        m for m in _truth()["heron-2A-P1-06.csv.gz", "2A-P1-06"]["margins"] if m["pairs"] == ["7-8"]
    ]
    assert true[0]["parameter"] == "insertion_loss"
    assert worst == pytest.approx(true[0]["margin_db"], abs=1e-4)


def test_points_are_missing_in_one_heron_file_only() -> None:
    holes = {}
    for name in sorted({link.file for link in LINKS if link.file.startswith("heron-")}):
        rows = list(csv.reader(_bytes(name).decode().splitlines()))
        titles = rows[rows.index([]) + 1]
        points = rows[rows.index([]) + 2 :]
        found = [
            (row[0], titles[k]) for row in points for k, cell in enumerate(row) if cell == "--"
        ]
        if found:
            holes[name] = found
    crosstalk = "NEXT A 3-6/4-5"
    assert holes == {
        "heron-2A-P1-11.csv.gz": [
            ("62.50", "IL 7-8"),
            *((mhz, crosstalk) for mhz in ("150.50", "151.00", "151.50")),
        ]
    }


def test_a_tolk_file_is_laid_out_as_described() -> None:
    lines = _bytes("tolk-annexe-3.csv.gz").decode().splitlines()
    assert lines[0] == "TOLK SURVEY;7"
    title = lines.index("test;what;pair;side;kHz;reading;text")
    rows = [line.split(";") for line in lines[title + 1 :]]
    assert {len(row) for row in rows} == {7}
    assert [row[6] for row in rows if row[1] == "link"] == ["03-11", "03-12", "03-13", "03-14"]
    losses = [row for row in rows if row[1] in ("damping", "echo", "near talk", "far talk")]
    assert all(row[5].startswith(("-", "<-")) for row in losses)
    assert {row[3] for row in losses if row[1] == "far talk"} == {"base"}
    assert not [row for row in rows if row[0] == "3" and row[1:3] == ["echo", "78"]]
