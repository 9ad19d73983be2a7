"""What a file explains itself: its units, its ends and its pairs, once for all that follows."""

import re
from pathlib import Path

import pytest

from sweepbook.draft.curve_facts import Measured
from sweepbook.draft.legend import legend, statements
from sweepbook.draft.legend_units import unit_named
from sweepbook.draft.legend_words import borne_out
from sweepbook.draft.parsed import Named

from .drafting import curves, draft_of, read, written
from .links import KHZ, Link, link, lists

LINKS = [link("L-1", 35.5), link("L-2", 80.0)]
RAW = ("insertion_loss", "return_loss", "next", "fext", "acr_f")


@pytest.mark.parametrize(
    ("text", "rows"),
    [
        ("Einheiten: f=kHz, daempfung=0,01 dB", [["f", "kHz"], ["daempfung", "0,01 dB"]]),
        ("# f: kHz; IL: dB/100", [["f", "kHz"], ["IL", "dB/100"]]),
        ("Seite A = Verteiler, Seite B = Dose", [["Seite A", "Verteiler"], ["Seite B", "Dose"]]),
        ("1=4-5,2=1-2", [["1", "4-5"], ["2", "1-2"]]),
        ("OR 1,2", []),
        ("Frequency in kHz", [["Frequency", "kHz"]]),
    ],
)
def test_statements(text: str, rows: list[list[str]]) -> None:
    assert list(map(list, statements(text))) == rows


@pytest.mark.parametrize(
    ("quantity", "text", "name"),
    [
        ("loss", "0,01 dB", "0.01 dB"),
        ("loss", "1/100 dB", "0.01 dB"),
        ("loss", "dB/10", "0.1 dB"),
        ("loss", "dB", "dB"),
        ("delay", "0.1 ns", "0.1 ns"),
        ("length", "cm", "cm"),
        ("frequency", "khz", "kHz"),
        ("length", "52.4 m", None),
        ("length", "10 m", None),
        ("loss", "ns", None),
        ("loss", "dB/3", None),
        ("loss", "0 dB", None),
        ("delay", "nsec a metre", None),
    ],
)
def test_units(quantity: str, text: str, name: str | None) -> None:
    assert unit_named(quantity, text) == name


@pytest.mark.parametrize(
    "text",
    [
        "Q1 = Kontakte 4/5 (blau); Q2 = Kontakte 1/2 (weiß); Q3 = Kontakte 3/6; Q4 = Kontakte 7/8",
        "Q1: pins 4-5, Q2: pins 1-2, Q3: pins 3-6, Q4: pins 7-8",
        "Q1: zorb 4-5; Q2: zorb 1-2; Q3: zorb 3-6; Q4: zorb 7-8",
        "Q1 = 4,5 (first) | Q2 = 1,2 (second) | Q3 = 3,6 (third) | Q4 = 7,8 (fourth)",
    ],
)
def test_contacts_stand_behind_a_word_and_before_what_is_in_brackets(text: str) -> None:
    told = legend([], [text]).pairs
    assert told is not None
    assert told.options == (("1-2", "Q2"), ("3-6", "Q3"), ("4-5", "Q1"), ("7-8", "Q4"))


def hundredths(one: Link) -> str:
    """Whole hundredths of a dB and kHz, which nothing but the legend says."""
    text = lists([one])
    axis = text[text.index('<grid id="a"') : text.index("</grid>")]
    text = text.replace(axis, '<grid id="a">' + " ".join(map(str, KHZ)))
    return re.sub(r"-[0-9]+,[0-9]{2}", lambda of: str(int(of[0].replace(",", ""))), text)


@pytest.mark.parametrize(
    "told",
    [
        "<note>Einheiten: f=kHz, daempfung=0,01 dB</note>",
        '<units><unit param="f">kHz</unit><unit param="IL">1/100 dB</unit></units>',
        '<units f="kHz" insertionloss="dB/100"/>',
        "<units><frequency>kHz</frequency><loss>0.01 dB</loss><next>0.01 dB</next></units>",
        '<unit of="Frequency" is="kHz"/><unit of="Attenuation" is="0.01 dB"/>',
    ],
)
def test_units_that_the_file_explains(told: str, tmp_path: Path) -> None:
    text = hundredths(LINKS[0]).replace("<survey>", "<survey>" + told)
    assert "," not in text[text.index("<sweep") :]
    draft = draft_of(tmp_path, text, "export.xml")
    assert 'loss = "0.01 dB"' in draft
    assert 'frequency = "kHz"' in draft
    (record,), problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert curves(record.document) == written(LINKS[0], *RAW)


def test_units_that_differ_wait_for_a_person(tmp_path: Path) -> None:
    told = "<note>IL = 0,01 dB, RL = 0,1 dB</note>"
    draft = draft_of(tmp_path, lists(LINKS).replace("<survey>", "<survey>" + told), "export.xml")
    assert "\nloss = " not in draft
    assert "# COULD NOT TELL: which unit of loss is meant" in draft


@pytest.mark.parametrize(
    ("told", "near", "far"),
    [
        ("<note>Seite {near} = Verteiler, Seite {far} = Dose</note>", "X", "V"),
        ('<end id="{near}" name="patch panel"/><end id="{far}" name="outlet 2"/>', "Q", "K"),
        ("<note>{near}: near end; {far}: far end</note>", "E2", "E1"),
        ("<a><i>{far}</i><is>remote</is></a><a><i>{near}</i><is>local</is></a>", "2", "1"),
        ("<note>{near} = local, {far} = remote</note>", "B", "A"),
    ],
)  # fmt: skip
def test_ends_that_the_file_explains(told: str, near: str, far: str, tmp_path: Path) -> None:
    """Words that the trade does not know, or would take the other way round."""
    text = lists(LINKS).replace('"local"', f'"{near}"').replace('"remote"', f'"{far}"')
    legends = told.format(near=near, far=far)
    text = text.replace("<survey>", f"<survey><legend>{legends}</legend>")
    draft = draft_of(tmp_path, text, "export.xml")
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    for one, record in zip(LINKS, records, strict=True):
        assert curves(record.document) == written(one, *RAW)
    assert "the file says which is which" in draft


def test_what_says_otherwise_twice_is_not_taken() -> None:
    remarks = ["A = distributor, B = outlet", "B = patch panel, A = socket"]
    assert legend([], remarks).ends is None
    assert legend([], remarks[:1]).ends is not None


@pytest.mark.parametrize(
    "told",
    [
        "<note>Paar OR = 1-2, Paar GN = 3-6, Paar BL = 4-5, Paar BR = 7-8</note>",
        "<note>OR: 1,2; GN: 3,6; BL: 4,5; BR: 7,8</note>",
        '<pairs OR="1-2" GN="3-6" BL="4-5" BR="7-8"/>',
        "<pairs><OR>1/2</OR><GN>3/6</GN><BL>4/5</BL><BR>7/8</BR></pairs>",
    ],
)
def test_pairs_that_a_remark_or_names_explain(told: str, tmp_path: Path) -> None:
    words = {"2": "OR", "3": "GN", "1": "BL", "4": "BR"}
    text = lists(LINKS).replace("<survey>", "<survey>" + told)
    text = re.sub(r'(pair|from|to)="([1-4])"', lambda of: f'{of[1]}="{words[of[2]]}"', text)
    draft = draft_of(tmp_path, text, "export.xml")
    assert "# worked out: the file tells the contacts of each.\n[words.pairs]\n" in draft
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    for one, record in zip(LINKS, records, strict=True):
        assert curves(record.document) == written(one, *RAW)


@pytest.mark.parametrize(
    ("row", "words"),
    [
        (
            ("# DX insertion loss", "DN NEXT (near-end crosstalk)"),
            {"DX": "insertion_loss", "DN": "next"},
        ),
        (("DX insertion loss", "DN NEXT, paradiaphonie", "DX return loss"), {"DN": "next"}),
        (("DX insertion loss",), {}),  # one alone may be a key with its text
        (
            ("NEXT insertion loss", "RL longueur de câble"),
            {},
        ),  # words of the trade mean what they do
        (("Worst insertion loss", "a NEXT of the near end"), {}),
    ],
)
def test_short_words_for_parameters(row: tuple[str, ...], words: dict[str, str]) -> None:
    assert legend([[row]], []).words == words


POLISH = ["TŁM = tłumienie", "SXT = suma mocy NEXT", "RKM = tłumienie odbiciowe"]


@pytest.mark.parametrize(
    ("word", "said", "meant"),
    [
        ("RXT", "NEXT minus tłumienie pary", "acr_n"),
        ("SRXT", "SXT mniej tłumienie pary", "psacr_n"),
        ("DRF", "FEXT less the attenuation of the disturbed pair", "acr_f"),
        ("DRF", "power sum FEXT - insertion loss", "psacr_f"),
        ("ŚRZ", "NEXT reduced by the greater attenuation of both", "acr_n"),
        ("RXT", "QQT minus tłumienie pary", None),
        ("RXT", "NEXT minus return loss", None),
        ("RXT", "tłumienie minus NEXT", None),
    ],
)
def test_a_difference_is_none_of_its_parts(word: str, said: str, meant: str | None) -> None:
    """By the definitions of ACR-N and ACR-F in the vocabulary; the words from memory, no source."""
    told = legend([], [", ".join([*POLISH, f"{word} = {said}"])]).words
    known = {"TŁM": "insertion_loss", "SXT": "psnext", "RKM": "return_loss"}
    assert told == known | ({word: meant} if meant else {})


def test_no_word_is_insertion_loss_whose_curves_fall() -> None:
    axis = [1.0, 10.0, 50.0, 100.0, 200.0, 250.0]
    down = Measured(Named("insertion_loss", ("1-2",), None), axis, [81.0, 64.0, 48.0, 39.0, 30.0])
    up = Measured(down.name, axis, [2.0, 6.0, None, 14.0, 20.0, 33.0])
    words = {"DX": "insertion_loss", "QX": "insertion_loss", "RX": "return_loss"}
    curves_of = [("DX", up), ("QX", down), ("RX", down)]
    assert borne_out(words, curves_of) == {"DX": "insertion_loss", "RX": "return_loss"}


def test_a_legend_that_calls_an_echo_attenuation_is_not_taken_at_its_word(tmp_path: Path) -> None:
    text = lists(LINKS).replace('"RL"', '"UXV"')
    told = "<note>UXV = attenuation of echoes, KXV = near end crosstalk</note>"
    draft = draft_of(tmp_path, text.replace("<survey>", "<survey>" + told), "export.xml")
    assert '\ninsertion_loss = "Attenuation"\n' in draft
    assert '\nreturn_loss = "UXV"\n' in draft
