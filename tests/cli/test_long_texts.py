"""A text of an export may have any length; a message says its beginning, and how long it is."""

import json
import re
from pathlib import Path

import pytest

from sweepbook.shown import shortened
from tests.program import DIALECTS

from .conftest import FAILED, UPHELD, Run

LENGTH = 300_000
FEW = 6_000
"""Characters of a whole command, more than it has of short labels."""
DIALECT = next(of.removeprefix("--dialect=") for of in DIALECTS if "heron" in of)


@pytest.fixture(scope="module")
def exports(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A failed test with a label that no cable has, and one that passes."""
    folder = tmp_path_factory.mktemp("long")
    text = FAILED.read_text("utf-8").replace("\nlink,1A-P1-03", f"\nlink,{'A-' * (LENGTH // 2)}")
    (folder / "long.csv").write_text(text, encoding="utf-8")
    (folder / "short.csv").write_text(UPHELD.read_text("utf-8"), encoding="utf-8")
    return folder


def test_commands_say_of_a_long_label_how_long_it_is(
    run: Run, exports: Path, tmp_path: Path
) -> None:
    book = tmp_path / "book"
    run("gather", book, exports, *DIALECTS)
    for command in ("check", "retests", "testers", "compare", "show"):
        said = run(command, book).output
        assert len(said) < FEW, command
    assert "(300,000 characters)" in " ".join(run("check", book).stdout.split())
    kept = json.loads(run("check", book, "--json").stdout)["records"]
    assert max(len(one["label"]) for one in kept) == LENGTH, "a machine gets it whole"
    tried = run("dialect", "try", DIALECT, exports / "long.csv").output
    assert len(tried) < FEW
    named = re.search(r"sweepbook show \S+ (sb0-[0-9a-f]{64}) --dialect", tried)
    assert named is not None, "the command that it offers can be typed"
    asked = run("show", exports / "long.csv", named[1], *DIALECTS)
    assert asked.exit_code == 0


def test_a_fault_is_shortened_too(run: Run, tmp_path: Path) -> None:
    assert len(run("rules", "show", "x" * LENGTH).output) < 500


@pytest.mark.parametrize("text", ["", "A-1", "x" * 400, " ".join(["word"] * 1_500), "a  b "])
def test_what_people_read_stays_as_it_is(text: str) -> None:
    assert shortened(text) == text


def test_words_are_shortened_one_by_one_and_a_text_as_a_whole() -> None:
    assert shortened(f"label {'x' * 5_000} fails") == (
        f"label {'x' * 200}... (5,000 characters) fails"
    )
    assert shortened("ab " * 4_000) == f"{('ab ' * 4_000)[:8_000]}... (12,000 characters in all)"
