"""Drafts of XML whose list of frequencies is called as those of the curves are."""

from pathlib import Path

import pytest

from .drafting import curves, draft_of, read, written
from .links import KHZ, Link, link, shifted

LINKS = [link("L-1", 35.5), link("L-2", 80.0)]
WORDS = {"insertion_loss": "Insertion loss", "return_loss": "Return loss", "next": "NEXT"}
SIDES = {"near": "local", "far": "remote"}
LIST = f"<numbers>{' | '.join(map(str, KHZ))}</numbers>"


def curve(one: Link, parameter: str, end: str | None, pairs: tuple[str, ...]) -> str:
    side = f"<side>{SIDES[end]}</side>" if end else ""
    values = " | ".join(shifted(value, 2) for value in one.curves[parameter, end, pairs])
    return (
        f"<line><what>{WORDS[parameter]}</what><pairs>{' / '.join(pairs)}</pairs>{side}"
        f"<numbers>{values}</numbers></line>"
    )


def export(axis: str) -> str:
    parts = []
    for one in LINKS:
        lines = "".join(curve(one, *key) for key in one.curves if key[0] in WORDS)
        parts.append(
            f'<link name="{one.label}"><limit>TIA-568.2-D Cat 6A PL</limit>'
            f"<started>2026-02-28T17:05:09Z</started><outcome>good</outcome>{axis}{lines}</link>"
        )
    return f"<survey>{''.join(parts)}</survey>"


@pytest.mark.parametrize(
    "axis",
    [
        f"<frequencies>{LIST}</frequencies>",
        f"<frequencies><in>kHz</in>{LIST}</frequencies>",
        f'<frequencies unit="kHz"><count>{len(KHZ)}</count>{LIST}</frequencies>',
        f'<scale of="Frequency">{LIST}</scale>',
    ],
)
def test_it_is_told_by_the_element_around_it(axis: str, tmp_path: Path) -> None:
    draft = draft_of(tmp_path, export(axis), "export.xml")
    assert "NOT READ" not in draft
    assert '\nlist = "numbers"\n' in draft
    assert '\nfrequency = "kHz"\n' in draft
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    for one, record in zip(LINKS, records, strict=True):
        assert curves(record.document) == written(one, *WORDS)


@pytest.mark.parametrize(
    "axis",
    [
        f'<scale of="Sample">{LIST}</scale>',
        f'<frequencies of="NEXT">{LIST}</frequencies>',
        f"<frequencies>{LIST}{LIST}</frequencies>",
        f"<frequencies>{LIST.replace('1000 ', '9000 ', 1)}</frequencies>",
    ],
    ids=["not called so", "of a curve", "two lists", "does not rise"],
)
def test_what_else_holds_a_list_is_no_axis(axis: str, tmp_path: Path) -> None:
    draft = draft_of(tmp_path, export(axis), "export.xml")
    assert '\nlist = "numbers"\n' not in draft
