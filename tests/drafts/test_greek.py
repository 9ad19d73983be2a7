"""Drafts of XML in Greek whose names are in Latin letters and whose texts are not.

The words are common practice and memory, no source.
"""

from pathlib import Path

import pytest

from sweepbook.draft import phrases
from tests.program import run

from .drafting import curves, read, written
from .links import KHZ, PAIRS, Link, link, shifted

LINKS = [link("Β-31", 44.5), link("Β-32", 71.0)]
COLOURS = dict(zip(PAIRS, ("πορτοκαλί", "πράσινο", "μπλε", "καφέ"), strict=True))
WORDS = {
    "insertion_loss": "Απώλεια εισαγωγής",
    "return_loss": "Απώλεια επιστροφής",
    "next": "Παραδιαφωνία",
    "fext": "Τηλεδιαφωνία",
}
ENDS = {None: "", "near": ' akro="κύρια μονάδα"', "far": ' akro="απομακρυσμένη μονάδα"'}


def _sheet(one: Link, verdict: str = "ΕΠΙΤΥΧΙΑ", axis: str = "Sychnotites") -> str:
    lines = [f"<Metrisi><EtiketaZeuxis>{one.label}</EtiketaZeuxis><Enarxi>21/03/2026 "]
    lines[0] += f"9:41:07 μ.μ.</Enarxi><Apotelesma>{verdict}</Apotelesma>"
    lines.append("<Texnikos>Φωτεινή Καραβά</Texnikos><Ergo>Ελαιοτριβείο Πέτρας</Ergo>")
    lines.append("<Protypo>EN 50173-1 Κλάση EA, μόνιμη ζεύξη</Protypo>")
    for pair, colour in COLOURS.items():
        metres = shifted(round(one.metres * 10) + PAIRS.index(pair), 1, ",")
        lines.append(f'<Mikos zeugos="{colour}" monada="m">{metres}</Mikos>')
    lines.append(f'<{axis} monada="kHz">{" ".join(map(str, KHZ))}</{axis}>')
    for (parameter, end, pairs), values in one.curves.items():
        if parameter in WORDS:
            told = " προς ".join(COLOURS[pair] for pair in pairs)
            text = " ".join(shifted(value, 2, ",") for value in values)
            name = f'megethos="{WORDS[parameter]}" zeugos="{told}"{ENDS[end]}'
            lines.append(f"<Kampyli {name}>{text}</Kampyli>")
    lines.append('<Xeirotera><Timi megethos="Απώλεια επιστροφής" zeugos="καφέ"')
    lines.append(f'{ENDS["far"]} perithorio="1,9" syxnotita="12000"/></Xeirotera></Metrisi>\n')
    return "\n".join(lines)


def _draft(folder: Path, text: str) -> str:
    head = '<?xml version="1.0" encoding="windows-1253"?>\n'
    (folder / "a.xml").write_bytes((head + text).encode("cp1253"))
    result = run("dialect", "draft", folder / "a.xml")
    assert result.exit_code == 0, result.output
    return result.stdout


@pytest.mark.parametrize("axis", ["Sychnotites", "Syxnotites", "Syhnotites"])
@pytest.mark.parametrize("one", LINKS, ids=["44.5 m", "71 m"])
def test_names_in_latin_letters_are_known(one: Link, axis: str, tmp_path: Path) -> None:
    draft = _draft(tmp_path, _sheet(one, axis=axis))
    (record,), problems = read(tmp_path / "a.xml", draft)
    assert (problems, record.label) == ([], one.label)
    assert curves(record.document) == written(one, *WORDS)
    document = record.document
    assert document["test"]["operator"] == "Φωτεινή Καραβά"
    assert document["test"]["started"]["rfc3339"].startswith("2026-03-21T21:41:07")
    assert document["link"]["near"]["place"]["site"] == "Ελαιοτριβείο Πέτρας"
    lengths = [of["length_m"] for of in document["results"]["scalars"]]
    assert lengths == [pytest.approx(one.metres + 0.1 * at) for at in range(4)]
    (item,) = document["stated"]["items"]
    assert (item["parameter"], item["pairs"], item["end"]) == ("return_loss", ["7-8"], "far")
    worst = item["worst_margin"]
    assert (worst["margin_db"], worst["frequency_mhz"]) == (1.9, 12.0)


@pytest.mark.parametrize(
    ("said", "verdict"),
    [("ΕΠΙΤΥΧΙΑ", "pass"), ("Αποτυχία", "fail"), ("μη αποδεκτό", "fail"), ("Εντός ορίων", "pass")],
)
def test_verdicts_are_known_with_and_without_accents(
    said: str, verdict: str, tmp_path: Path
) -> None:
    draft = _draft(tmp_path, _sheet(LINKS[0], said))
    (record,), _ = read(tmp_path / "a.xml", draft)
    assert record.document["stated"]["overall"]["verdict"] == verdict


@pytest.mark.parametrize(
    ("text", "meaning"),
    [
        ("ΠΑΡΑΔΙΑΦΩΝΙΑ", "next"),
        ("Αθροιστική παραδιαφωνία", "psnext"),
        ("DiaforaKathysterisis", "delay_skew"),
        ("antistasi_broxou", "dc_loop_resistance"),
        ("Τηλεδιαφωνία ίσης στάθμης", "acr_f"),
    ],
)
def test_a_sum_or_a_difference_is_not_what_it_is_of(text: str, meaning: str) -> None:
    span = phrases.parameter_in(text)
    assert span is not None
    assert (span.meaning, span.end - span.start) == (meaning, len(text))
