"""Files are recognised by their root element alone, and by nothing but their head."""

from pathlib import Path

import pytest

from sweepbook.dialect.load import parse
from sweepbook.errors import SweepbookError
from sweepbook.formats import ReadSetting, Strength
from sweepbook.source import Source
from sweepbook_plugins.xml import sweeps as xml_sweeps
from sweepbook_plugins.xml.identify import claims
from tests.reading import LIBRARY

from .reading import POINTS, TEST

PLAIN = parse(POINTS.encode(), "plain.toml")
VERSION = parse(
    POINTS.replace('"/r/t"', '"/r[@v=2]/t"').replace('"small"', '"version"').encode(), "v.toml"
)
SPACE = parse(
    POINTS.replace('"/r/t"', '"/r/t"\nnamespace = "urn:a"').replace('"small"', '"space"').encode(),
    "space.toml",
)
DIALECTS = {each.name: each for each in (PLAIN, VERSION, SPACE)}
CASES = {
    f"<r>{TEST}</r>": {"small": Strength.STRUCTURE},
    f'<r v="2">{TEST}</r>': {"small": Strength.STRUCTURE, "version": Strength.SIGNATURE},
    f'<r v="3">{TEST}</r>': {"small": Strength.STRUCTURE},
    '<?xml version="1.0"?>\n<!-- <x> --><?go?>\n<q:r xmlns:q="urn:a"/>': {
        "space": Strength.SIGNATURE
    },
    "<r><broken": {"small": Strength.STRUCTURE},
    "<x/>": {},
    f"<!DOCTYPE r><r>{TEST}</r>": {},
    "r,t\n1,2\n": {},
    "": {},
    '{"r": 1}': {},
}


@pytest.mark.parametrize("text", CASES)
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_claims(text: str, encoding: str, tmp_path: Path) -> None:
    path = tmp_path / "file.csv"
    path.write_bytes(text.encode(encoding))
    found = list(claims(Source(path), ReadSetting(LIBRARY, DIALECTS)))
    assert {claim.dialect.name: claim.strength for claim in found if claim.dialect} == CASES[text]


def test_binary_noise_is_nobodys(tmp_path: Path) -> None:
    for noise in (
        b"\x00" * 100,
        b"\xff\xfe\xff",
        b"<\x00\x00\x00",
        b"<" * 70_000,
        bytes(range(256)),
    ):
        path = tmp_path / "noise.xml"
        path.write_bytes(noise)
        assert list(claims(Source(path), ReadSetting(LIBRARY, DIALECTS))) == []


def test_the_strongest_claim_reads(tmp_path: Path) -> None:
    path = tmp_path / "file.xml"
    path.write_text(f'<r v="2">{TEST}</r>', encoding="utf-8")
    items = list(xml_sweeps.read(Source(path), ReadSetting(LIBRARY, DIALECTS)))
    assert len(items) == 1
    used = items[0].document["provenance"]["dialect"]  # type: ignore[union-attr]
    assert used == {"name": "version", "sha256": VERSION.sha256}
    assert "extra" not in items[0].document  # type: ignore[union-attr]


def test_a_file_that_no_dialect_fits_names_those_there_are(tmp_path: Path) -> None:
    path = tmp_path / "file.xml"
    path.write_text("<x/>", encoding="utf-8")
    with pytest.raises(SweepbookError, match="--dialect: small, space, version"):
        list(xml_sweeps.read(Source(path), ReadSetting(LIBRARY, DIALECTS)))
