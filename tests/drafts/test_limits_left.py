"""A trial says of a table that may be meant how many stated margins come out by it."""

from pathlib import Path

from tests.csv_format.dialects import CURVES
from tests.program import run

NAME = "EN 50173-1 class EA channel"
HEAD = f"Link,A\nLimit,{NAME}\nResult,PASS\nMargin IL 1-2,1.3\n"
SWEPT = "MHz,IL 1-2,IL 3-6\n1,1.9,1.0\n500,48.0,47.0\n"
"""Class EA allows a channel 49.3 dB at 500 MHz: the course notes in tests/limits/checkpoints."""
DIALECT = CURVES.replace("Margin {parameter} {pairs} {end}", "Margin {parameter} {pairs}").replace(
    "At {parameter} {pairs} {end}", "At {parameter} {pairs}"
)


def tried(folder: Path, *contents: str, dialect: str = DIALECT) -> str:
    (folder / "d.toml").write_text(dialect, encoding="utf-8")
    files = [folder / f"e{number}.csv" for number in range(len(contents))]
    for file, content in zip(files, contents, strict=True):
        file.write_text(content, encoding="utf-8")
    return " ".join(run("dialect", "try", folder / "d.toml", *files).output.split())


def test_margins_that_come_out_by_a_table_speak_for_it(tmp_path: Path) -> None:
    said = tried(tmp_path, HEAD + SWEPT)
    told = "Of the worst margins that this test states 1 of 1 come out by iso-11801-1-2017/class-ea"
    assert f'"iso-11801-1-2017/class-ea/channel" = "{NAME}" if that is meant' in said
    assert told in said


def test_margins_that_do_not_are_counted(tmp_path: Path) -> None:
    """A last digit is let be, as of value and limit that were rounded before the difference."""
    said = tried(tmp_path, f"{HEAD}Margin IL 3-6,2.5\n{SWEPT}")
    assert "states 1 of 2 come out by" in said
    assert "states 2 of 2 come out by" in tried(tmp_path, f"{HEAD}Margin IL 3-6,2.4\n{SWEPT}")


def test_without_margins_nothing_is_said_for_a_table(tmp_path: Path) -> None:
    said = tried(tmp_path, HEAD.replace("Margin", "Room") + SWEPT)
    assert "if that is meant" in said
    assert "come out by" not in said


def test_a_name_that_several_tests_have_is_told_once(tmp_path: Path) -> None:
    others = [HEAD.replace("Link,A", f"Link,{of}") + SWEPT for of in "BC"]
    others.append(others[0].replace("Margin IL 1-2,1.3\n", ""))
    said = tried(tmp_path, HEAD + SWEPT, *others)
    assert said.count("if that is meant") == 1
