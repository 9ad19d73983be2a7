"""The second reader judges from a bag alone, and its README says how to read one."""

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.program import DEMO, DIALECTS, run

ALONE = Path(__file__).with_name("from_bag.py")
SPLIT = re.compile(r"^\d\. ", re.MULTILINE)


@pytest.fixture(scope="module")
def bag(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A bag of five demo links, in a folder of its own."""
    folder = tmp_path_factory.mktemp("from-bag")
    exports = sorted((DEMO / "exports").glob("heron-1A-*.csv"))
    assert run("gather", folder / "book", *exports, *DIALECTS).exit_code == 0
    assert run("archive", "make", folder / "book", folder / "bag").exit_code == 0
    shutil.rmtree(folder / "book")
    return folder / "bag"


def alone(*arguments: str | Path) -> str:
    """Run Python without any installed package, and without our paths."""
    words = [sys.executable, "-I", "-S", *map(str, arguments)]
    done = subprocess.run(words, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_every_judgement_of_the_bag_follows_from_its_files_alone(bag: Path) -> None:
    answer = json.loads(alone(ALONE, bag))
    assert answer["differences"] == []
    assert answer["compared"] > 350
    entries = json.loads((bag / "data/audit.json").read_bytes())["records"]
    decided = {e["record_id"]: e["recomputed"] for e in entries if e["recomputed"] != "undecided"}
    assert set(decided.values()) == {"pass", "fail"}
    assert {name: answer["verdicts"][name] for name in decided} == decided


def section(readme: str, number: int) -> str:
    return SPLIT.split(readme)[number]


@pytest.fixture(scope="module")
def readme(bag: Path) -> str:
    return (bag / "README.txt").read_text("utf-8")


def test_the_readme_can_be_read_in_any_editor(bag: Path, readme: str) -> None:
    assert all(len(line) <= 100 for line in readme.splitlines())
    assert readme.isascii()
    assert re.search(r"Tests +5: ", section(readme, 8))
    assert "tia-568.2-d/cat6a/permanent-link" in section(readme, 8)


def test_every_place_that_the_readme_names_is_there(bag: Path, readme: str) -> None:
    folder, found = bag, 0
    for line in section(readme, 1).splitlines():
        named = re.match(r"( +)(\S+[./]\S*) {2,}(.*)", line)
        if named is None:
            continue
        inner = len(named[1]) > 4
        folder = folder if inner else bag / named[2]
        place = folder / named[2] if inner else bag / named[2]
        if "if it is there" in line or "schedule" in line:
            continue
        assert list(place.parent.glob(place.name)), line
        found += 1
    assert found > 15


def test_the_program_in_the_readme_computes_every_id(
    bag: Path, readme: str, tmp_path: Path
) -> None:
    code = re.search(r"\n    import hashlib.*?\n\n", section(readme, 4), re.DOTALL)
    assert code is not None
    (tmp_path / "id.py").write_text(re.sub(r"(?m)^ {4}", "", code[0]), "utf-8")
    records = sorted(bag.glob("data/book/records/*/*"))
    assert len(records) == 5
    for record in records:
        digest, named = alone(tmp_path / "id.py", record).split()
        assert named == record.stem == named.partition("-")[0] + "-" + digest


def test_the_example_in_the_readme_is_what_the_table_says(bag: Path, readme: str) -> None:
    """0.9 of 100 m of cable, three connections and the deviation, by hand: 17.97 dB."""
    from .limit import limit

    table = json.loads(
        (bag / "data/judged-by/limits/tia-568.2-d/cat6a/permanent-link.json").read_bytes()
    )
    by_hand = 0.9 * (1.82 * 10 + 0.0091 * 100 + 0.25 / 10) + 3 * 0.02 * 10 + 0.00015 * 1000
    assert f"= {by_hand:.2f} dB" in " ".join(section(readme, 6).split())
    assert abs(limit(table, "insertion_loss", 100.0) - by_hand) < 1e-9


def test_no_path_of_this_machine_is_in_the_bag(bag: Path) -> None:
    for file in bag.rglob("*"):
        if file.is_file():
            assert os.fsencode(bag.parent) not in file.read_bytes(), file
