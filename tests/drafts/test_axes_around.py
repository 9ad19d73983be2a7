"""Drafts of XML whose frequencies stand once: for the file by a name, or around ends of a test."""

from collections.abc import Callable
from pathlib import Path

import pytest

from .drafting import curves, draft_of, read, written
from .links import KHZ, WORDS, Link, link, shifted

LINKS = [link("L-1", 35.5), link("L-2", 80.0)]
RAW = ("insertion_loss", "return_loss", "next")
NUMBER = {"1-2": "2", "3-6": "3", "4-5": "1", "7-8": "4"}
SIDES = {"near": "Main", "far": "Remote"}
AXIS = " ".join(map(str, KHZ))


def named(one: Link, end: str | None, more: str = "") -> str:
    """The curves of an end, or those of none."""
    return "".join(
        f'<{WORDS[name].replace(" ", "")} pair="{"-".join(NUMBER[pair] for pair in pairs)}"{more}>'
        f"{' '.join(shifted(value, 2) for value in values)}</{WORDS[name].replace(' ', '')}>"
        for (name, at, pairs), values in one.curves.items()
        if name in RAW and at == end
    )


def head(one: Link) -> str:
    return (
        f'<link name="{one.label}"><limit>TIA-568.2-D Cat 6A PL</limit>'
        "<started>2026-02-28T17:05:09Z</started><outcome>good</outcome>"
    )


def once() -> str:
    """One list for all, which each curve names, by an attribute of any name."""
    lines = [f'<survey><raster code="R1" unit="kHz" count="{len(KHZ)}">{AXIS}</raster>']
    for one in LINKS:
        ends = (f'<side of="{SIDES[end]}">{named(one, end, ROW)}</side>' for end in SIDES)
        lines.append(f"{head(one)}{named(one, None, ROW)}{''.join(ends)}</link>")
    return "\n".join([*lines, "</survey>"])


ROW = ' grid="R1"'


def around() -> str:
    """A list for each test, beside curves of no end and around those of each."""
    lines = ["<survey>"]
    for one in LINKS:
        ends = (f'<side of="{SIDES[end]}">{named(one, end)}</side>' for end in SIDES)
        sweep = f"<frequencies_kHz>{AXIS}</frequencies_kHz>{named(one, None)}{''.join(ends)}"
        lines.append(f"{head(one)}<sweep>{sweep}</sweep></link>")
    return "\n".join([*lines, "</survey>"])


@pytest.mark.parametrize("export", [once, around])
def test_every_curve_has_its_frequencies(export: Callable[[], str], tmp_path: Path) -> None:
    draft = draft_of(tmp_path, export(), "export.xml")
    assert "# frequency" not in draft
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert len(records) == len(LINKS)
    for one, record in zip(LINKS, records, strict=True):
        assert curves(record.document) == written(one, *RAW)
