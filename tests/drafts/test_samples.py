"""Drafts for XML whose lists hold each frequency with its value."""

from pathlib import Path

import pytest

from .drafting import curves, draft_of, read, written
from .links import KHZ, WORDS, link, shifted

LINKS = [link("W-1", 35.5), link("W-2", 80.0)]
RAW = ("insertion_loss", "return_loss", "next")
SIDES = {None: "", "near": ' unit="main"', "far": ' unit="remote"'}
WIRES = "<wires>1:1 2:2 3:3 4:4 5:5 6:6 7:7 8:8</wires>"


def batch(form: str, separator: str, decimal: str, held: str) -> str:
    """Tests with an element a curve, whose samples are its text or that of an element in it."""
    lines = ["<batch>"]
    for one in LINKS:
        lines.append(f"<test><cable>{one.label}</cable><limit>Cat 6A PL</limit>{WIRES}")
        for (parameter, end, pairs), values in one.curves.items():
            if parameter not in RAW:
                continue
            both = (
                (shifted(khz, 3, decimal), shifted(value, 2, decimal))
                for khz, value in zip(KHZ, values, strict=True)
            )
            text = separator.join(form.format(frequency=of, value=value) for of, value in both)
            named = f'of="{WORDS[parameter]}" pairs="{"/".join(pairs)}"{SIDES[end]}'
            lines.append(f"<curve {named}>{held.format(text)}</curve>")
        lines.append("</test>")
    return "\n".join([*lines, "</batch>\n"])


@pytest.mark.parametrize("held", ["{}", "<samples>{}</samples>"])
@pytest.mark.parametrize(
    ("form", "separator", "decimal"),
    [
        ("{frequency}:{value}", " ", "."),
        ("{frequency}:{value}", "\n", ","),
        ("{value}@{frequency}", "; ", ","),
        ("{frequency},{value}", " ", "."),
        ("{frequency} {value}", ";", "."),
        ("{frequency}={value}", "|", "."),
    ],
)
def test_curves_and_wires_read_as_written(
    form: str, separator: str, decimal: str, held: str, tmp_path: Path
) -> None:
    draft = draft_of(tmp_path, batch(form, separator, decimal, held), "export.xml")
    assert f'sample = "{form}"' in draft
    assert "wire_map" in draft
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert [record.label for record in records] == ["W-1", "W-2"]
    for one, record in zip(LINKS, records, strict=True):
        assert curves(record.document) == written(one, *RAW)


def test_decimal_commas_are_no_marks_between_samples(tmp_path: Path) -> None:
    """Numbers that may be read as two each are values; of their frequencies nothing is told."""
    text = batch("{value}", " ", ",", "{}")
    assert "sample" not in draft_of(tmp_path, text, "export.xml")
