"""Drafts of XML with the figures of all pairs in one text, beside a list of the pairs."""

from collections.abc import Callable
from pathlib import Path

import pytest

from .drafting import curves, draft_of, read, written
from .links import KHZ, PAIRS, WORDS, Link, link, shifted

LINKS = [link("L-1", 35.5), link("L-2", 80.0)]
NUMBER = {"1-2": "2", "3-6": "3", "4-5": "1", "7-8": "4"}
ORDER = ["4-5", "1-2", "3-6", "7-8"]

Write = Callable[[str, str, str], str]


def in_attributes(name: str, pairs: str, figures: str) -> str:
    return f'<item of="{name}" pairs="{pairs}" values="{figures}"/>'


def in_its_text(name: str, pairs: str, figures: str) -> str:
    return f'<item of="{name}" pairs="{pairs}">{figures}</item>'


def in_children(name: str, pairs: str, figures: str) -> str:
    return f"<item><of>{name}</of><pairs>{pairs}</pairs><values>{figures}</values></item>"


def figures(one: Link) -> dict[str, list[str]]:
    return {
        "Length": [f"{one.metres + at:.1f}" for at in range(4)],
        "Delay": [f"{round(one.metres * 4.9) + at}" for at in range(4)],
    }


def export(write: Write, mark: str, order: dict[str, list[str]]) -> str:
    lines = ["<survey>"]
    for one in LINKS:
        pairs = order.get(one.label, ORDER)
        lines.append(f'<link name="{one.label}"><limit>TIA-568.2-D Cat 6A PL</limit>')
        lines.append("<started>2026-02-28T17:05:09Z</started><outcome>good</outcome>")
        lines.append("<lot>Cat 6A U/FTP LSZH</lot>")
        for name, texts in figures(one).items():
            told = [texts[ORDER.index(pair)] for pair in pairs]
            lines.append(write(name, mark.join(NUMBER[of] for of in pairs), mark.join(told)))
        for pair in PAIRS:
            values = one.curves["insertion_loss", None, (pair,)]
            points = "".join(
                f'<p khz="{khz}" db="{shifted(value, 2)}"/>'
                for khz, value in zip(KHZ, values, strict=True)
            )
            word = WORDS["insertion_loss"]
            lines.append(f'<curve of="{word}" pair="{NUMBER[pair]}">{points}</curve>')
        lines.append("</link>")
    return "\n".join([*lines, "</survey>\n"])


@pytest.mark.parametrize("write", [in_attributes, in_its_text, in_children])
@pytest.mark.parametrize("mark", [",", ";", " "])
def test_every_figure_goes_to_its_pair(write: Write, mark: str, tmp_path: Path) -> None:
    draft = draft_of(tmp_path, export(write, mark, {}), "export.xml")
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    for one, record in zip(LINKS, records, strict=True):
        assert curves(record.document) == written(one, "insertion_loss")
        told = {
            (of["parameter"], *of["pairs"]): of.get("length_m", of.get("delay_ns"))
            for of in record.document["results"]["scalars"]
        }
        assert told == {
            (parameter, pair): float(text)
            for parameter, name in (("length", "Length"), ("propagation_delay", "Delay"))
            for pair, text in zip(ORDER, figures(one)[name], strict=True)
        }
        assert (
            "/@values" not in draft.partition("no field for these keys")[2].partition("[fields]")[0]
        )


def test_pairs_in_an_order_of_their_own_in_each_test_are_left(tmp_path: Path) -> None:
    """No key of a dialect can say it, and a figure of another pair is worse than none."""
    text = export(in_its_text, ",", {"L-2": ORDER[::-1]})
    draft = draft_of(tmp_path, text, "export.xml")
    assert "[[cells]]" not in draft
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert all("scalars" not in record.document["results"] for record in records)
