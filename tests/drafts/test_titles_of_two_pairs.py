"""Drafts of XML whose titles have a text for each of two pairs, and words that nobody knows."""

from pathlib import Path

import pytest

from .drafting import curves, draft_of, read, written
from .links import KHZ, Link, link, shifted

LINKS = [link("L-1", 35.5), link("L-2", 80.0)]
KNOWN = {"insertion_loss": "Attenuation", "return_loss": "Return loss"}
UNKNOWN = {"next": "Murlin", "fext": "Vossel"}
SIDES = {None: "", "near": ' side="local"', "far": ' side="remote"'}


def title(parameter: str, end: str | None, pairs: tuple[str, ...], unit: str) -> str:
    """What a column says, in the order of its attributes; of FEXT the pairs by their part."""
    first, *second = (pair.replace("-", "") for pair in pairs)
    names = ("source", "victim") if parameter == "fext" else ("pair", "other")
    other = "".join(f' {names[1]}="{of}"' for of in second)
    what = {**KNOWN, **UNKNOWN}[parameter]
    return f'<c what="{what}" {names[0]}="{first}"{other}{SIDES[end]}{unit}/>'


def table(one: Link, unit: str) -> str:
    keys = [key for key in one.curves if key[0] in {**KNOWN, **UNKNOWN}]
    heads = "".join(title(*key, unit) for key in keys)
    rows = (
        [shifted(khz, 3), *(shifted(-one.curves[key][at], 2) for key in keys)]
        for at, khz in enumerate(KHZ)
    )
    lines = "".join(f"<line>{' '.join(row)}</line>" for row in rows)
    return f'<heads><c what="Frequency" unit="MHz"/>{heads}</heads><lines>{lines}</lines>'


@pytest.mark.parametrize("unit", [' unit="dB"', ""], ids=["units", "no units"])
def test_curves_of_two_pairs_are_told_by_their_course(unit: str, tmp_path: Path) -> None:
    parts = [
        f'<link name="{one.label}"><limit>TIA-568.2-D Cat 6A PL</limit>'
        f"<started>2026-02-28T17:05:09Z</started><outcome>good</outcome>{table(one, unit)}</link>"
        for one in LINKS
    ]
    draft = draft_of(tmp_path, f"<survey>{''.join(parts)}</survey>", "export.xml")
    assert "NOT READ" not in draft
    for parameter, word in UNKNOWN.items():
        before, found, _ = draft.partition(f'\n{parameter} = "{word}"\n')
        assert found
        assert "ASSUMED" in before.rpartition("=")[2]
    assert 'negative = ["insertion_loss", "return_loss", "next", "fext"]' in draft
    settled = draft.replace('first = "TO-BE-SETTLED"', 'first = "disturbing"')
    records, problems = read(tmp_path / "export.xml", settled)
    assert problems == []
    for one, record in zip(LINKS, records, strict=True):
        assert curves(record.document) == written(one, *KNOWN, *UNKNOWN)
