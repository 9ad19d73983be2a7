"""Tests that begin below their label are not told under that of the next one."""

from pathlib import Path

import pytest

from .dialects import CURVES
from .reading import read

TABLE = "MHz,IL 1-2,IL 3-6\n1,1.9,1.8\n2,2.5,2.4\n"


def export(labels: list[str], head: str = "") -> str:
    """A block for each test: its label, its verdict, its curves."""
    return head + "\n".join(f"Link,{label}\nResult,PASS\n\n{TABLE}" for label in labels)


def dialect(first_line: str) -> str:
    return CURVES.replace(
        "[csv.curves]", f'[csv.test]\nfirst_line = "{first_line}"\n\n[csv.curves]'
    )


def test_each_test_is_refused(tmp_path: Path) -> None:
    result = read(tmp_path, export(["L-1", "L-2", "L-3"]), dialect("Result"))
    assert result.records == []
    for problem in result.problems:
        assert problem.message.startswith("line 1: the label 'L-1' stands above the first test")
        assert "(line 8)" in problem.message
        assert "see csv.test.first_line" in problem.message
    assert len(result.problems) == 3


@pytest.mark.parametrize("head", ["", "Link,Quarry Row\n\n"])
def test_a_label_that_begins_its_test_is_its_own(head: str, tmp_path: Path) -> None:
    result = read(tmp_path, export(["L-1", "L-2", "L-3"], head), dialect("Link,L-"))
    assert result.problems == []
    assert [record.label for record in result.records] == ["L-1", "L-2", "L-3"]


def test_one_label_for_all_tests_of_a_file_stays_what_it_is(tmp_path: Path) -> None:
    tests = "\n".join(f"Result,PASS\n\n{TABLE}" for _ in range(2))
    result = read(tmp_path, f"Link,L-1\n\n{tests}", dialect("Result"))
    assert result.problems == []
    assert [record.label for record in result.records] == ["L-1", "L-1"]
