"""A draft of a long file goes through its lines once, whatever they are."""

from collections.abc import Callable
from pathlib import Path

import pytest

from sweepbook.draft import phrases
from sweepbook.draft.key_offers import offers_of
from sweepbook.draft.numbers import is_numeric
from sweepbook.source import Source
from sweepbook_plugins.csv.draft import bodies
from sweepbook_plugins.csv.draft.tables import shape_of
from sweepbook_plugins.csv.draft.text import read

COUNT = 8_000
LINES: dict[str, Callable[[int], str]] = {
    "keys": lambda at: f"key {at},{at}\n",
    "odd rows": lambda at: "x,y,z\n" if at else "1,2,3\n",
}


@pytest.mark.parametrize("kind", LINES)
def test_each_row_is_looked_at_some_times_and_not_once_a_line(
    kind: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    looks = 0

    def counted(text: str) -> bool:
        nonlocal looks
        looks += 1
        return is_numeric(text)

    path = tmp_path / "export.csv"
    path.write_text("".join(map(LINES[kind], range(COUNT))), encoding="utf-8")
    text = read(Source(path))
    assert text is not None and len(text.lines) == COUNT
    monkeypatch.setattr(bodies, "is_numeric", counted)
    shape_of(text)
    assert 0 < looks < 20 * COUNT


def test_a_long_row_of_numbers_is_not_searched_for_words() -> None:
    """A search costs by the letter; a row of a curve has thousands of them, a name has not."""
    text = "x" * 900 + " NEXT"
    found = phrases.parameter_in(text)
    assert found is not None and found.meaning == "next"
    assert phrases.parameter_in("1.25 " * 900 + "NEXT") is None


@pytest.mark.parametrize(
    "text", ["1" * 300_000 + "x", "<" + "1" * 300_000 + "x", "1" * 300_000 + "x dB", "1,2" * 99_999]
)
def test_a_long_row_of_digits_is_gone_through_once(text: str) -> None:
    """Tried at each of its lengths it would take minutes."""
    assert not is_numeric(text)


def test_a_long_key_is_gone_through_once() -> None:
    assert offers_of("a" + "_" * 300_000 + "b", None) == []
    assert [path for path, *_ in offers_of("nvp in percent", None)] == ["link.cable.nvp"]
