"""Drafts of tables whose rows a blank line parts from their titles."""

from collections.abc import Callable
from pathlib import Path

import pytest

from sweepbook.source import Source
from sweepbook_plugins.csv.draft.closed_up import closed_up
from sweepbook_plugins.csv.draft.text import read_all

from .curve_rows import in_titles
from .drafting import curves, draft_of, read, written
from .links import Link, link, long, wide

RAW = ("insertion_loss", "return_loss", "next")


def below_titles(text: str, titles: str) -> str:
    """A text with a blank line below its line of titles."""
    lines = text.splitlines()
    (at,) = [at for at, line in enumerate(lines) if line.startswith(titles)]
    return "\n".join([*lines[: at + 1], "", *lines[at + 1 :], ""])


def in_columns(one: Link) -> str:
    return below_titles(wide(one, *RAW), "Frequency/kHz;")


def in_rows(one: Link) -> str:
    return below_titles(in_titles([one], *RAW), "Circuit;")


def in_points(one: Link) -> str:
    text = long([one], lambda _, end: end)
    return below_titles(text, text.splitlines()[0])


@pytest.mark.parametrize("write", [in_columns, in_rows, in_points])
def test_the_table_is_drafted_as_without(write: Callable[[Link], str], tmp_path: Path) -> None:
    one = link("A-1", 31.0)
    draft = draft_of(tmp_path, write(one))
    records, problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert [record.label for record in records] == ["A-1"]
    held = curves(records[0].document)
    assert {key: of for key, of in held.items() if key[0] in RAW} == written(one, *RAW)


def test_titles_without_rows_above_the_same_ones_are_let_be(tmp_path: Path) -> None:
    """Of two tables in rows the first holds nothing, and a blank line ends it."""
    text = in_titles([link("A-1", 31.0)], *RAW)
    path = tmp_path / "export.csv"
    for twice in (False, True):
        path.write_text(f"{text.splitlines()[0]}\n\n" * twice + text, encoding="utf-8")
        (seen,) = read_all([Source(path)])
        assert seen is not None
        assert closed_up(seen) is seen
