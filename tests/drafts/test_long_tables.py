"""How the time of a draft grows with the rows of a table, counted by what it looks at."""

from pathlib import Path

import pytest

from sweepbook.source import Source
from sweepbook_plugins.xml.draft import curves
from sweepbook_plugins.xml.draft.lists import numbers_in
from sweepbook_plugins.xml.draft.tree import Tree
from sweepbook_plugins.xml.draft.tree import read as tree_of


def rows(path: Path, count: int) -> Tree:
    """A table with a row of twelve values a frequency, and no titles that are known."""
    lines = "".join(
        f"<r>{' '.join(f'{at % 70}.{n}' for n in range(12))}</r>" for at in range(count)
    )
    path.write_text(f"<job><t id='1'><grid>{lines}</grid></t></job>", encoding="utf-8")
    tree = tree_of(Source(path))
    assert tree is not None
    return tree


def test_no_row_is_held_against_all_others(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    looked: list[str] = []

    def counted(text: str) -> tuple[list[str], str]:
        looked.append(text)
        return numbers_in(text)

    monkeypatch.setattr(f"{curves.__name__}.numbers_in", counted)
    counts = []
    for count in (50, 200):
        looked.clear()
        found, _ = curves.find(rows(tmp_path / f"{count}.xml", count))
        assert len(found) == count
        counts.append(len(looked))
    assert counts[1] <= 5 * counts[0]
