"""Drafts of a table with a row a test: no column has two roles, none comes a second time."""

from collections.abc import Sequence
from pathlib import Path

import pytest

from .drafting import curves, written
from .links import KHZ, WORDS, Link, link, shifted
from .test_tables_joined import drafted, gathered

RAW = ("insertion_loss", "return_loss", "next")
NONE = "n/a"
SIDES = {None: NONE, "near": "Main", "far": "Far"}
NUMBERS = {
    "T568A": {"4-5": "1", "3-6": "2", "1-2": "3", "7-8": "4"},
    "T568B": {"4-5": "1", "1-2": "2", "3-6": "3", "7-8": "4"},
}
"""Numbers of the pairs under both schemes (ANSI/TIA-568, recalled)."""
MARGINS: tuple[tuple[str, str | None, tuple[str, ...], str], ...] = (
    ("insertion_loss", None, ("4-5",), "3.3"),
    ("return_loss", "near", ("3-6",), "2.5"),
    ("next", "far", ("1-2", "4-5"), "4.1"),
)
"""Parameter, end, pairs, margin in dB; of no calculation, for the reading alone."""


def _on(pairs: Sequence[str], scheme: str) -> str:
    return "-".join(NUMBERS[scheme][pair] for pair in pairs)


def export(links: Sequence[Link], schemes: Sequence[str], again: str = "") -> dict[str, str]:
    """A row a test, and a row a point; of the last test nothing is measured but its length."""
    titles = ["Circuit", "Limit", "Plan", "Measured"]
    for name, *_ in MARGINS:
        titles += [f"{WORDS[name]} margin (dB)", f"{WORDS[name]} margin pair"]
        titles += [f"{WORDS[name]} margin end"]
    rows, dots = [",".join([*titles, *([again] if again else [])])], []
    for one, scheme in zip(links, schemes, strict=True):
        cells = [one.label, "Cat 6A PL", scheme, "2026-03-04 14:22"]
        for _, end, pairs, margin in MARGINS:
            measured = one is not links[-1]
            cells += [margin, _on(pairs, scheme), SIDES[end]] if measured else [NONE] * 3
        rows.append(",".join([*cells, *(["7.7"] if again else [])]))
        for (name, end, pairs), values in one.curves.items() if one is not links[-1] else ():
            if name in RAW:
                head = f"{one.label},{WORDS[name]},{_on(pairs, scheme)},{SIDES[end]}"
                both = zip(KHZ, values, strict=True)
                dots += [f"{head},{khz},{shifted(value, 2)}" for khz, value in both]
    dots = ["Circuit,Quantity,Wires,Heard at,kHz,dB", *dots]
    return {"tests.csv": "\n".join([*rows, ""]), "points.csv": "\n".join([*dots, ""])}


LINKS = [link("W-1", 30.0), link("W-2", 61.0), link("W-3", 0.0)]


@pytest.mark.parametrize("second", ["T568A", "T568B"])
def test_ends_of_margins_are_no_margins_and_each_test_says_its_scheme(
    second: str, tmp_path: Path
) -> None:
    draft = drafted(tmp_path, export(LINKS, ["T568A"] * 3))
    assert 'worst_margin.margin = "{parameter} margin ({unit})"' in draft
    assert 'worst_margin.pairs = "{parameter} margin pair"' in draft
    assert 'worst_margin.end = "{parameter} margin end"' in draft
    assert 'key = "Plan"' in draft
    texts = export(LINKS, ["T568A", second, "T568A"])
    for name, text in texts.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    documents = gathered(tmp_path, texts, draft)
    for one, document in zip(LINKS[:2], documents, strict=False):
        assert curves(document) == written(one, *RAW)
        stated = [
            (of["parameter"], of.get("end"), tuple(of["pairs"]), of["worst_margin"]["margin_db"])
            for of in document["stated"]["items"]
        ]
        assert [(*of, f"{float(margin):.1f}") for *of, margin in stated] == [*MARGINS]


def test_what_would_come_a_second_time_is_left_and_told(tmp_path: Path) -> None:
    texts = export(LINKS, ["T568A"] * 3, again="RL reserve")
    draft = drafted(tmp_path, texts)
    assert "'RL reserve'" in draft.rpartition("no field")[2]
    documents = gathered(tmp_path, texts, draft)
    assert [document["extra"]["RL reserve"] for document in documents] == ["7.7"] * 2


def test_a_column_of_few_words_that_name_nothing_is_told(tmp_path: Path) -> None:
    texts = export(LINKS, ["T568A"] * 3)
    lines = texts["points.csv"].splitlines()
    words = ("even", "high", "odd")
    said = [f"{line},{words[at % 3]}" for at, line in enumerate(lines[1:])]
    texts["points.csv"] = "\n".join([f"{lines[0]},Grade", *said, ""])
    draft = drafted(tmp_path, texts)
    above = draft[: draft.index("[csv.rows.point]")].rpartition("\n\n")[2]
    assert "COULD NOT TELL" in above and "Grade" in above
