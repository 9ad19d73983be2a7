"""Drafts for XML whose lists are parted by a mark and wrapped into lines."""

from collections.abc import Sequence
from pathlib import Path

import pytest

from .drafting import curves, draft_of, read, written
from .links import KHZ, WORDS, link, shifted

LINKS = [link("Q-21", 41.0), link("Q-22", 66.5)]
RAW = ("insertion_loss", "return_loss", "next")
SIDES = {None: "", "near": ' at="main"', "far": ' at="remote"'}


def wrapped(texts: Sequence[str], mark: str, ends: bool) -> str:
    """A list of five texts a line, with a mark at the end of each line or none."""
    lines = [mark.join(texts[at : at + 5]) for at in range(0, len(texts), 5)]
    return "\n" + (mark.rstrip() * ends + "\n").join(lines) + "\n  "


def quay(mark: str, decimal: str, ends: bool) -> str:
    """Tests with a list of frequencies and one a curve."""
    lines = ["<quay>"]
    for one in LINKS:
        lines.append(f'<run link="{one.label}"><norm>Cat 6A PL</norm>')
        axis = [shifted(khz, 3, decimal) for khz in KHZ]
        lines.append(f'<frequencies unit="MHz">{wrapped(axis, mark, ends)}</frequencies>')
        for (parameter, end, pairs), values in one.curves.items():
            if parameter in RAW:
                text = wrapped([shifted(of, 2, decimal) for of in values], mark, ends)
                named = f'of="{WORDS[parameter]}" pairs="{"/".join(pairs)}"{SIDES[end]}'
                lines.append(f"<curve {named}>{text}</curve>")
        lines.append("</run>")
    return "\n".join([*lines, "</quay>\n"])


@pytest.mark.parametrize("ends", [True, False])
@pytest.mark.parametrize(("mark", "decimal"), [(";", ","), ("|", "."), ("; ", ","), (", ", ".")])
def test_a_line_end_in_a_list_parts_as_its_mark_does(
    mark: str, decimal: str, ends: bool, tmp_path: Path
) -> None:
    draft = draft_of(tmp_path, quay(mark, decimal, ends), "export.xml")
    assert "missing" not in draft
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    for one, record in zip(LINKS, records, strict=True):
        assert curves(record.document) == written(one, *RAW)
