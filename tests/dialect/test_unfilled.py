"""What a dialect names and no test has is told once a run, and changes no exit code."""

import json
from pathlib import Path

import pytest

from tests.csv_format.dialects import LEAST, changed
from tests.program import run

FIELDS = """
link.cable.maker = "Cable maker"
link.cable.nvp = "NVP"
test.operator = ["Tester's name", "By"]
link.external_ids = {cmms = "Asset"}
[defaults]
link.cable.maker = "Pellumbra"
"""
DIALECT = changed(LEAST, 'link.label = "Link"', f'link.label = "Link"{FIELDS}')
ROWS = "\nMHz;IL 1-2\n1;1.5\n2;1.9\n"
WHOLE = ("Asset;7", "NVP;0.69", "By;M.")


def _files(folder: Path, *heads: tuple[str, ...]) -> tuple[Path, str, Path]:
    """Exports of one test each, with the option that names their dialect."""
    (folder / "least.toml").write_text(DIALECT)
    exports = folder / "exports"
    exports.mkdir()
    for number, head in enumerate(heads):
        text = "\n".join((f"Link;L-{number}", *head))
        (exports / f"{number}.csv").write_text(f"{text}\n{ROWS}")
    return exports, "--dialect", folder / "least.toml"


@pytest.mark.parametrize("missing", WHOLE)
def test_a_key_that_no_test_has_is_told_once(tmp_path: Path, missing: str) -> None:
    head = tuple(line for line in WHOLE if line != missing)
    result = run("gather", tmp_path / "book", *_files(tmp_path, head, head))
    (told,) = [line for line in result.stderr.splitlines() if line.startswith("To know: ")]
    assert repr(missing.partition(";")[0]) in told
    assert "any of 2 tests read by the dialect least" in told
    assert result.exit_code == 0


@pytest.mark.parametrize("command", ["check", "show", "convert"])
def test_every_command_that_reads_exports_tells_it(tmp_path: Path, command: str) -> None:
    more = ("--to", "json", "-o", tmp_path / "out") if command == "convert" else ()
    result = run(command, *_files(tmp_path, WHOLE[:1]), *more)
    assert "\"Tester's name\" or 'By' (fields.test.operator)" in result.stderr
    assert "in the one test" in result.stderr
    assert "To know" not in result.stdout


@pytest.mark.parametrize(
    "heads",
    [
        (WHOLE,),
        (WHOLE[:1], WHOLE[1:]),  # each lacks what another has
        (("Asset;7", "NVP;sixty-nine", "Tester's name;M."),),  # there, though no number
    ],
)
def test_what_one_test_has_and_what_has_a_default_is_not_told(
    tmp_path: Path, heads: tuple[tuple[str, ...], ...]
) -> None:
    result = run("gather", tmp_path / "book", *_files(tmp_path, *heads), "--json")
    assert "To know" not in result.stderr
    assert len(json.loads(result.stdout)["sources"]) == len(heads)


def test_a_book_is_read_without_it(tmp_path: Path) -> None:
    run("gather", tmp_path / "book", *_files(tmp_path, ()))
    assert "To know" not in run("check", tmp_path / "book").stderr
