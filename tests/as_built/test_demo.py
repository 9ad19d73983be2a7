"""The demo's building, asked; the answers are the model's own, which knows nothing of sweepbook.

`truth.json` and `schedule.csv` are written by the model. Tests in a format that no installed
plugin reads are left out on both sides.
"""

import csv
import json
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from sweepbook.cli import main
from sweepbook.registry import load

from .made_up import ask, dump

DEMO = Path(str(files("sweepbook_demo")))


def _truth() -> list[dict[str, Any]]:
    links: list[dict[str, Any]] = json.loads((DEMO / "truth.json").read_bytes())["links"]
    suffixes = {suffix for entry in load([]).formats.values() for suffix in entry.suffixes}
    return [
        link for link in links if Path(link["file"].removesuffix(".gz")).suffix in suffixes
    ]  # fmt: skip


def _schedule() -> dict[str, dict[str, str]]:
    with (DEMO / "schedule.csv").open(encoding="utf-8", newline="") as stream:
        return {row["label"]: row for row in csv.DictReader(stream)}


def _run(*arguments: object) -> None:
    result = CliRunner().invoke(main, [str(argument) for argument in arguments])
    assert result.exit_code == 0, result.output


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("demo")
    _run("demo", made)
    return made


@pytest.fixture(scope="module")
def database(folder: Path) -> Path:
    return folder / "as-built.sqlite"


def test_every_test_is_there_with_its_verdicts(database: Path) -> None:
    truth = [(t["label"], t["stated"], t["recomputed"], t["judgement"]) for t in _truth()]
    told = ask(database, "SELECT label, stated, recomputed, judgement FROM test")
    assert len(truth) >= 20
    assert sorted(told, key=str) == sorted(truth, key=str)


def test_links_open_on_a_floor(database: Path) -> None:
    """What fails, or was stated to, or is overturned or unproven, has to be among them."""
    schedule = _schedule()
    latest = {truth["label"]: truth for truth in _truth()}  # a retest stands after the first
    for floor in ("1", "2", "3", "4", "5"):
        here = {label for label, row in schedule.items() if row["from floor"] == floor}
        wrong = {
            label
            for label in here & set(latest)
            if latest[label]["judgement"] != "upheld" or latest[label]["recomputed"] != "pass"
        }
        question = "SELECT label, open_because FROM open_items WHERE near_floor = ?"
        told = dict(ask(database, question, floor))
        assert {label for label, why in told.items() if why != "findings"} & here == wrong
        assert set(told) & set(schedule) <= here


def test_the_worst_next_margin_of_every_link(database: Path) -> None:
    """To half of the truth's last printed digit."""
    question = (
        "SELECT test.label, source.name, MIN(result.worst_margin) FROM test "
        "JOIN result ON result.test_id = test.id AND result.parameter = 'next' "
        "JOIN test_source ON test_source.test_id = test.id "
        "JOIN source ON source.id = test_source.source_id GROUP BY test.id"
    )
    told = {(label, name): worst for label, name, worst in ask(database, question)}
    truth = {
        (link["label"], link["file"]): margin["margin_db"]
        for link in _truth()
        for margin in link["worst"]
        if margin["parameter"] == "next"
    }
    assert told == pytest.approx(truth, abs=5.1e-5)
    assert len(truth) >= 20


def test_terminations_are_those_of_the_schedule(database: Path) -> None:
    columns = ("near_termination", "far_termination", "near_space", "far_space")
    names = ("from termination", "to termination", "from space", "to space")
    schedule = _schedule()
    told = ask(database, f"SELECT label, {', '.join(columns)} FROM current_state")
    known = [row for row in told if row[0] in schedule]
    assert len(known) >= 18
    for label, *ends in known:
        assert ends == [schedule[label][name] for name in names]


def test_every_source_file_is_there_with_its_digest(database: Path) -> None:
    import hashlib

    exports = DEMO / "exports"
    read = {truth["file"] for truth in _truth()}
    assert set(ask(database, "SELECT name, sha256 FROM source")) == {
        (name, hashlib.sha256((exports / name).read_bytes()).hexdigest()) for name in read
    }


def test_exporting_the_book_again_changes_nothing(folder: Path, database: Path) -> None:
    before = dump(database)
    _run("export", folder / "book", "--to", "as-built", "-o", database)
    assert dump(database) == before
