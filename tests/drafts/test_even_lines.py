"""Drafts of exports that a spreadsheet saved, with as many cells in each line."""

from dataclasses import replace
from pathlib import Path

import pytest

from tests.made_even import made_even
from tests.text_layouts import export
from tests.text_layouts.choices import Choices, draw
from tests.text_layouts.trial import run_in

from .headed import Export
from .test_headed_tables import LINKS, read_all

SEEDS = (2, 8, 34, 35, 41, 43, 50)
PLAIN = export._text


@pytest.mark.parametrize("seed", SEEDS)
def test_a_draft_reads_all_of_a_layout_made_even(
    seed: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Headings in frames and without, key lines in cells, with a colon or below titles."""

    def even(lines: list[list[str]], choices: Choices) -> str:
        plain = PLAIN(lines, replace(choices, line_end="\n"))
        return made_even(plain, choices.delimiter).replace("\n", choices.line_end)

    monkeypatch.setattr(export, "_text", even)
    outcome = run_in(draw(seed), tmp_path)
    assert outcome.faults == []


def test_all_structures_are_among_them() -> None:
    drawn = [draw(seed) for seed in SEEDS]
    assert {of.structure for of in drawn} == {draw(seed).structure for seed in range(60)}
    assert {of.heading for of in drawn} == {"{}", "[{}]", "--- {} ---", "# {}"}
    assert {of.head for of in drawn} == {"cells", "colon", "equals", "titles"}


@pytest.mark.parametrize("curves", ["points", "columns", "rows"])
def test_parts_of_a_file_made_even(curves: str, tmp_path: Path) -> None:
    text = Export(LINKS, curves=curves).text()
    draft = read_all(tmp_path, {"export.csv": made_even(text, ";")}, LINKS)
    assert draft.count("\npart = ") == 2
    assert ";;" not in draft
