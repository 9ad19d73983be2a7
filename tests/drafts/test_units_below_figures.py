"""Drafts of tables of figures with a line of units below their titles, and of remarks."""

import re
from pathlib import Path

import pytest

from sweepbook.draft import phrases
from sweepbook.draft.legend_order import first_in, order_told
from sweepbook_plugins.csv.draft.asides import asides_in
from sweepbook_plugins.csv.draft.text import Text, split
from tests.program import run

from .drafting import curves, read, written
from .links import KHZ, PAIRS, Link, link, shifted

WORDS = {
    "insertion_loss": "EINFÜGEDÄMPFUNG",
    "return_loss": "RÜCKFLUSSDÄMPFUNG",
    "next": "NAHNEBENSPRECHEN",
    "fext": "FERNNEBENSPRECHEN",
}
SIDES = {None: "", "near": " (Stammgerät)", "far": " (Partnergerät)"}
ASIDE = "Paare: gestört/störend"
MARGINS = {
    "Einfügedämpfung,,78": ("insertion_loss", "2.17", "3.5"),
    "Rückflussdämpfung,Partnergerät,36": ("return_loss", "4.05", "61.5"),
    '"Nahnebensprechen, Leistungssumme",Stammgerät,45': ("psnext", "3.3", "92.5"),
    "Fernnebensprechen bezogen auf die Dämpfung,Stammgerät,36/78": ("acr_f", "5.9", "180.5"),
}
"""The margins as they are written, with what each is of."""


def table(one: Link, parameter: str, end: str | None) -> list[str]:
    """A heading, a remark above FEXT, titles, a line of units, and the points."""
    some = {key: of for key, of in one.curves.items() if key[:2] == (parameter, end)}
    turned = [[*reversed(key[2])] if parameter == "fext" else [*key[2]] for key in some]
    titles = ["/".join(pair.replace("-", "") for pair in pairs) for pairs in turned]
    lines = ["", f"{WORDS[parameter]}{SIDES[end]}", *([ASIDE] if parameter == "fext" else [])]
    lines += [",".join(["Frequenz", *titles]), ",".join(["MHz", *["dB"] * len(titles)])]
    for at, khz in enumerate(KHZ):
        lines.append(",".join([shifted(khz, 3), *(shifted(of[at], 2) for of in some.values())]))
    return lines


def export(one: Link) -> str:
    """Key lines, figures of pairs and margins with units in a line of their own, and curves."""
    lines = ["Prüfbericht Kranich 8", "Ausgabe,04.03.2026 18:00", "", "ANGABEN"]
    lines += [f"Strecke,{one.label}", "Urteil,bestanden", "Messbeginn,03.03.2026 09:41:27"]
    lines += ["", "LÄNGE UND LAUFZEIT", "Paar,Länge,Laufzeit,Schleifenwiderstand", ",m,ns,Ohm"]
    metres = shifted(round(one.metres * 10), 1)
    lines += [f"{pair.replace('-', '')},{metres},{one.metres * 4.9:.0f},9.8" for pair in PAIRS]
    lines += ["", "KLEINSTE RESERVEN", "Messgrösse,Gemessen am,Paar(e),Reserve,bei", ",,,dB,MHz"]
    lines += [f"{what},{margin},{at}" for what, (_, margin, at) in MARGINS.items()]
    for parameter in WORDS:
        ends = {key[1] for key in one.curves if key[0] == parameter}
        for end in sorted(ends, key=lambda of: ["near", "far", None].index(of)):
            lines += table(one, parameter, end)
    return "\n".join(lines) + "\n"


def test_figures_below_a_line_of_units_need_no_change(tmp_path: Path) -> None:
    links = [link("K-1", 31.0), link("K-2", 64.5)]
    paths = [tmp_path / f"{one.label}.csv" for one in links]
    for path, one in zip(paths, links, strict=True):
        path.write_text(export(one), encoding="utf-8")
    draft = run("dialect", "draft", *paths).stdout
    assert '\nupper_titles = ["Paar", "Messgrösse"]\n' in draft
    assert f'\nskip = ["{ASIDE}"]\n' in draft
    assert f"# worked out: the export says so: '{ASIDE}'" in draft
    assert '\nfirst = "disturbed"\n' in draft
    assert "Einfügedämpfung" not in draft.partition("\nmissing = ")[2].partition("\n")[0]
    for path, one in zip(paths, links, strict=True):
        (record,), problems = read(path, draft)
        assert [problem.message for problem in problems] == []
        document = record.document
        assert curves(document) == written(one, *WORDS)
        assert document["test"]["started"]["as_stated"] == "03.03.2026 09:41:27"
        scalars = document["results"]["scalars"]
        lengths = [of["length_m"] for of in scalars if of["parameter"] == "length"]
        assert list(map(float, lengths)) == [one.metres] * len(PAIRS)
        items = [of for of in document["stated"]["items"] if "worst_margin" in of]
        stated = {
            (of["parameter"], of["worst_margin"]["margin_db"], of["worst_margin"]["frequency_mhz"])
            for of in items
        }
        assert {(of, str(a), str(b)) for of, a, b in stated} == {*MARGINS.values()}


@pytest.mark.parametrize(
    ("delimiter", "remark"),
    [
        (";", "; Kopf: störendes Paar > gestörtes Paar"),
        (",", "; Kopf: störendes Paar > gestörtes Paar"),
        (";", "; alle Werte mit dem Adapter aufgenommen"),
        (",", "# Werte, wie abgelesen"),
        ("\t", "// wie abgelesen"),
    ],
)
def test_a_remark_below_a_heading_hides_no_table(
    delimiter: str, remark: str, tmp_path: Path
) -> None:
    one = link("K-1", 31.0)
    text = export(one).replace('"', "").replace("Nahnebensprechen, Leist", "Nahnebensprechen Leist")
    text = text.replace(",", delimiter).replace(ASIDE, remark)
    if ">" in remark:
        text = re.sub("([0-9]{2})/([0-9]{2})", r"\2>\1", text)
    path = tmp_path / "K-1.csv"
    path.write_text(text, encoding="utf-8")
    draft = run("dialect", "draft", path).stdout
    assert f'\nskip = ["{remark}"]\n' in draft
    (record,), problems = read(path, draft.replace("TO-BE-SETTLED", "disturbed"))
    assert [problem.message for problem in problems] == []
    assert curves(record.document) == written(one, *WORDS)


@pytest.mark.parametrize(
    ("remark", "kept"),
    [
        ("# Remote", True),
        ("# Fernes Ende", True),
        ("# 36", True),
        ("# Messung der Dämpfung", True),
        ("= wie abgelesen", True),
        ("# wie abgelesen", False),
    ],
)
def test_a_line_that_says_what_is_measured_is_no_remark(remark: str, *, kept: bool) -> None:
    lines = ["RÜCKFLUSSDÄMPFUNG", remark, "Frequenz,12,36", "1,30.5,30.1"]
    rows = [split(line, ",") for line in lines]
    text = Text("utf-8", None, ",", lines, rows, [], cut=False)
    assert asides_in(text) == (set() if kept else {1})


def test_remarks_that_tell_tables_of_one_heading_apart_are_none() -> None:
    titles = ["Frequenz,12,36", "1,30.5,30.1"]
    lines = ["ECHO (RL)", "# am Stammgerät", *titles, "", "ECHO (RL)", "# am Partnergerät", *titles]
    rows = [split(line, ",") for line in lines]
    assert asides_in(Text("utf-8", None, ",", lines, rows, [], cut=False)) == set()


@pytest.mark.parametrize(
    ("remark", "first"),
    [
        ("Paare: störend-gestört", "disturbing"),
        ("interferido/interferente", "disturbed"),
        ("FEXT|disturbing>disturbed", "disturbing"),
        ("disturbed < disturbing", ""),  # an arrow turns the order of names, not of pairs
        ("disturbing, by far the worst of all, and disturbed", ""),
        ("disturbing", ""),
        ("disturbing/disturbing", ""),
    ],
)
def test_a_remark_may_name_both_pairs_in_their_order(remark: str, first: str) -> None:
    assert first_in(remark) == first


def test_remarks_that_contradict_each_other_say_nothing() -> None:
    one, other = "disturbing/disturbed", "disturbed/disturbing"
    assert order_told([one, "Pair"]) == ("disturbing", one)
    assert order_told([one, other]) is None


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("Nahnebensprechen, Leistungssumme", "psnext"),
        ("NEXT (Leistungssumme)", "psnext"),
        ("Gesommeerde ACR-F", "psacr_f"),
        ("Paradiafonia, soma de potências", "psnext"),
        ("Écart paradiaphonique", "acr_n"),
        ("Écart télédiaphonique cumulé", "psacr_f"),
        ("Effektsumma av närändesöverhörning", "psnext"),
        ("NEXT sumaryczny", "psnext"),
        ("NEXT", "next"),
        ("NEXT summary", "next"),
        ("return loss sum", "return_loss"),
    ],
)
def test_words_for_a_sum_stand_beside_what_was_added_up(text: str, meant: str) -> None:
    """From memory, no source."""
    found = phrases.parameter_in(text)
    assert found is not None
    assert found.meaning == meant
