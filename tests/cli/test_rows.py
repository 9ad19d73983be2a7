"""The row of a record tells the part that decides, in its own unit, and what was assumed."""

import json
from pathlib import Path
from typing import Any

import pytest

from sweepbook.record import codec
from sweepbook.record.model import Record

from .conftest import Run


@pytest.fixture(scope="module")
def document(book: Path) -> dict[str, Any]:
    """The record of 1A-P1-01, a pass, as its file has it."""
    for path in sorted(book.glob("records/*/*.json")):
        found: dict[str, Any] = json.loads(path.read_bytes())
        if found["link"]["label"] == "1A-P1-01":
            return found
    raise AssertionError("1A-P1-01 is not in the book")


def of_delay(document: dict[str, Any], ns: int) -> dict[str, Any]:
    """The same with another delay of every pair."""
    changed: dict[str, Any] = json.loads(json.dumps(document))
    scalars = [s for s in changed["results"]["scalars"] if s["parameter"] != "delay_skew"]
    for item in scalars:
        if item["parameter"] == "propagation_delay":
            item["delay_ns"] = ns
    changed["results"]["scalars"] = scalars
    return changed


def written(document: dict[str, Any], folder: Path) -> Path:
    members = ("link", "test", "results", "stated", "extra")
    parts = {name: document[name] for name in members if name in document}
    record = Record.build(origin=document["origin"], resolved=document["resolved"], **parts)
    path = folder / "record.json"
    path.write_bytes(codec.dumps(record))
    return path


def test_where_a_delay_fails_the_row_shows_the_delay(
    run: Run, document: dict[str, Any], tmp_path: Path
) -> None:
    result = run("check", written(of_delay(document, 520), tmp_path))
    row = next(line for line in result.stdout.splitlines() if line.startswith("1A-P1-01"))
    assert "-22 ns" in row
    assert "propagation_delay" in row
    assert row.endswith("overturned")


def test_what_was_assumed_is_said_by_check_and_by_show(
    run: Run, document: dict[str, Any], tmp_path: Path
) -> None:
    path = written(document, tmp_path)
    for command in ("check", "show"):
        said = " ".join(run(command, path).stdout.split())
        assert "judged at 10 MHz, since it names no frequency" in said


def test_a_rule_is_shown_without_the_marks_of_its_template(run: Run) -> None:
    said = run("rules", "show", "SWP006").stdout
    assert "<step_mhz> MHz" in said
    assert "{" not in said
    assert "clause ," not in said


def test_a_verdict_held_against_another_limit_is_told_in_its_row_and_once_at_the_end(
    run: Run, book: Path
) -> None:
    lesser = ("--against", "tia-568.2-d/cat6/permanent-link")
    for command in (("check", book), ("show", book, "1A-P1-01")):
        said = " ".join(run(*command, *lesser).stdout.split())
        rows = said.count("under another limit: tia-568.2-d/cat6a/permanent-link")
        assert rows == (3 if command[0] == "check" else 1)
        assert said.count("Stated under another limit than held against here") == 1
        assert f"not known: {rows} verdict" in said
    assert "another limit" not in run("check", book).stdout


def test_two_tests_of_one_label_are_told_apart_by_when_they_were_made(
    run: Run, demo_book: Path
) -> None:
    """PW-1-02 was tested on 8 March and, after a repair, on the 14th; so the demo's model says."""
    lines = run("check", demo_book).stdout.splitlines()
    below = [lines[at + 1] for at, line in enumerate(lines) if line.startswith("PW-1-02 ")]
    assert sorted(line.split(". ")[0].strip() for line in below) == [
        "Tested 2023-03-08 08:16", "Tested 2023-03-14 09:07"
    ]  # fmt: skip
