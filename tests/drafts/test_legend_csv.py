"""Header lines of text tables that explain units, ends and pairs, as in XML."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from .drafting import curves, draft_of, read, written
from .links import PAIRS, blocks, link, long, wide

LINKS = [link("L-1", 35.5), link("L-2", 80.0)]
RAW = ("insertion_loss", "return_loss", "next", "fext")


def hundredths() -> str:
    """Whole hundredths of a dB over whole kHz, which no title says."""
    text = wide(LINKS[0], *RAW, "acr_f").replace("Frequency/kHz", "Frequency")
    text = text.replace("Length [m];35,5\n", "")
    head, table = text.split("\n\n", 1)
    titles, _, rows = table.partition("\n")
    rows = re.sub(r"([0-9]+),([0-9]{2})", lambda of: str(int(of[1] + of[2])), rows)
    return f"{head}\n\n{titles}\n{rows}"


@pytest.mark.parametrize(
    "told",
    [
        "Einheiten: f=kHz, daempfung=0,01 dB",
        "# f = kHz; IL = 1/100 dB",
        "Units;f=kHz;loss=0.01 dB",
        "Frequency unit;kHz\nUnit attenuation;dB/100",
        "f;kHz\nIL;0,01 dB",
    ],
)
def test_units(told: str, tmp_path: Path) -> None:
    text = hundredths().replace("Outcome;PASS", f"Outcome;PASS\n{told}")
    draft = draft_of(tmp_path, text)
    assert 'loss = "0.01 dB"' in draft
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert [one for one in problems if one.lost_record] == []
    assert curves(record.document) == written(LINKS[0], *RAW, "acr_f")


def same(parameter: str, end: str | None) -> str | None:
    return end


@pytest.mark.parametrize(
    ("told", "near", "far"),
    [
        ("Seite {near} = Verteiler, Seite {far} = Dose", "X", "V"),
        ("# {near}: patch panel; {far}: outlet", "Q1", "K1"),
        ("{near};near end\n{far};far end", "R", "M"),
    ],
)
def test_ends(told: str, near: str, far: str, tmp_path: Path) -> None:
    """M and R are ends of the trade too, the other way round."""
    text = long(LINKS, same)
    text = re.sub(",M,", f",{near},", re.sub(",R,", ",?,", text)).replace(",?,", f",{far},")
    text = told.format(near=near, far=far).replace(";", ",") + "\n\n" + text
    draft = draft_of(tmp_path, text)
    assert "the file says which is which" in draft
    records, problems = read(tmp_path / "export.csv", draft)
    assert [one for one in problems if one.lost_record] == []
    for one, record in zip(LINKS, records, strict=True):
        assert curves(record.document) == written(one, *RAW)


def of_sections(called: dict[str, str]) -> str:
    text = blocks(LINKS).replace("\t", ";")
    for pair, colour in zip(PAIRS, ("orange", "green", "blue", "brown"), strict=True):
        text = text.replace(colour, called[pair])
    return text


def of_titles(called: dict[str, str]) -> str:
    text = wide(LINKS[0], *RAW, "acr_f")
    digits = "|".join(pair.replace("-", "") for pair in called)
    pattern = re.compile(rf"(?<=[ +])({digits})(?![0-9])")
    return pattern.sub(lambda of: called["-".join(of[1])], text)


WORDS = [("OR", "GN", "BL", "BR"), ("P1", "P2", "P3", "P4")]


@pytest.mark.parametrize("words", WORDS)
@pytest.mark.parametrize("export", [of_sections, of_titles])
@pytest.mark.parametrize(
    "told",
    [
        "# {} = 1-2, {} = 3-6, {} = 4-5, {} = 7-8",
        "{};1-2\n{};3-6\n{};4-5\n{};7-8",
        "Names of pairs;{} = wires 1-2, {} = wires 3-6, {} = wires 4-5, {} = wires 7-8",
        "Name;{};{};{};{}\nContacts;1-2;3-6;4-5;7-8",
    ],
)
def test_pairs(
    words: tuple[str, str, str, str],
    export: Callable[[dict[str, str]], str],
    told: str,
    tmp_path: Path,
) -> None:
    """Numbers whose contacts are those of no scheme, and short names of colours."""
    text = export(dict(zip(PAIRS, words, strict=True)))
    first, _, rest = text.partition("\n")
    draft = draft_of(tmp_path, f"{first}\n{told.format(*words)}\n\n{rest}")
    assert "# worked out: the file tells the contacts of each." in draft
    records, problems = read(tmp_path / "export.csv", draft)
    assert [one for one in problems if one.lost_record] == []
    for one, record in zip(LINKS, records, strict=False):
        found = curves(record.document)
        whole = written(one, *RAW, "acr_f")
        assert found == {key: values for key, values in whole.items() if key in found}
        assert {key[0] for key in found} >= {"insertion_loss", "return_loss", "next"}
