"""Drafts of XML whose axes are even steps, each of them told by elements, or that has no axis."""

from pathlib import Path

import pytest

from sweepbook.record.model import frequency_mhz
from tests.program import run

from .drafting import draft_of, read

BANDS = ((1000, 250, 5), (2500, 500, 9))
"""Start, step in kHz and count; the second band begins where the first one has not come to."""
KHZ = [start + step * at for start, step, count in BANDS for at in range(count)]


def text(bands: str) -> str:
    """Four curves of insertion loss over bands of frequencies."""
    values = " ".join(f"{1.5 + at / 4:.2f}" for at in range(len(KHZ)))
    pairs = ("12", "36", "45", "78")
    traces = [f"<trace><pair>{pair}</pair><db>{values}</db></trace>" for pair in pairs]
    inner = f'<loss of="Insertion Loss">{"".join(traces)}</loss>'
    return f'<set><link name="L-1" standard="Cat 6A PL">{bands}{inner}</link></set>'


@pytest.mark.parametrize("names", [("First", "Step", "Count"), ("start", "delta", "points")])
def test_bands_in_elements_are_an_axis(names: tuple[str, str, str], tmp_path: Path) -> None:
    said = [
        "".join(f"<{name}>{of}</{name}>" for name, of in zip(names, band, strict=True))
        for band in BANDS
    ]
    bands = "".join(f"<band>{one}</band>" for one in said)
    draft = draft_of(tmp_path, text(f'<steps unit="kHz">{bands}</steps>'), "export.xml")
    start, step, count = names
    line = f'run = {{ path = "band", start = "{start}", step = "{step}", count = "{count}" }}'
    assert f'\npath = "steps"\n{line}\n' in draft
    assert '\nfrequency = "kHz"\n' in draft
    assert "xml.curves.frequency" not in draft
    (record,), problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    document = record.document
    assert len(document["results"]["sweeps"]) == 4
    (grid,) = document["results"]["grids"]
    assert [float(mhz) * 1000 for mhz in frequency_mhz(document, grid["id"])] == KHZ


def test_curves_without_an_axis_are_told_at_the_head(tmp_path: Path) -> None:
    (tmp_path / "export.xml").write_text(text(""), encoding="utf-8")
    draft = run("dialect", "draft", tmp_path / "export.xml").stdout
    head, _, rest = draft.partition("\n\n")
    assert "xml.curves.frequency" in " ".join(head.split())
    assert '\n# frequency = "TO-BE-SETTLED"\n' in rest
    assert "nothing in the file reads as an axis" in " ".join(rest.replace("\n#", "").split())
    records, problems = read(tmp_path / "export.xml", draft)
    assert not records
    assert "see xml.axes" in problems[0].message


@pytest.mark.parametrize("count", ["1e999", "inf", "-3", "", "x", "9" * 30])
def test_a_count_that_is_none_breaks_no_draft(count: str, tmp_path: Path) -> None:
    band = f"<band><First>1000</First><Step>250</Step><Count>{count}</Count></band>"
    (tmp_path / "export.xml").write_text(text(f'<steps unit="kHz">{band}</steps>'))
    drafted = run("dialect", "draft", tmp_path / "export.xml")
    assert drafted.exit_code in (0, 1)
    assert "Traceback" not in drafted.output
    assert not read(tmp_path / "export.xml", drafted.stdout)[0]
