"""Drafts for exports in other languages, with codes, of single figures only, and of two files."""

from pathlib import Path

import pytest

from sweepbook.cli.asked import Asked
from sweepbook.cli.desk import Desk
from sweepbook.draft import phrases
from sweepbook.draft.dates import forms
from sweepbook.draft.naming import settle
from sweepbook.draft.verdicts import asks_for_a_pass, verdict_of
from sweepbook.errors import ReadProblem
from sweepbook.record.model import Record
from tests.program import run

from . import tongues
from .drafting import curves, draft_of, edited, read, written
from .links import PAIRS, link

LINKS = [link("L-1", 35.5), link("L-2", 80.0)]


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("Rückflussdämpfung 12 nah", "return_loss"),
        ("Rueckflussdaempfung", "return_loss"),
        ("DAMPFUNG", "insertion_loss"),
        ("Affaiblissement de réflexion", "return_loss"),
        ("affaiblissement d\u2019insertion", "insertion_loss"),
        ("Paradiafonia", "next"),
        ("TÉLÉDIAPHONIE", "fext"),
        ("Pérdidas de retorno", "return_loss"),
        ("Demping - zijde A", "insertion_loss"),
        ("Reflectiedemping", "return_loss"),
        ("Laufzeitunterschied", "delay_skew"),
        ("反射減衰量", "return_loss"),
        ("近端漏話減衰量(NEXT)", "next"),
        ("電力和近端漏話減衰量 親機", "psnext"),
        ("Вносимые потери", "insertion_loss"),
        ("ВОЗВРАТНЫЕ ПОТЕРИ, дБ", "return_loss"),
        ("Разность задержек пары 1, нс", "delay_skew"),
        ("Переходное затухание на ближнем конце", "next"),
        ("插入损耗 (dB)", "insertion_loss"),
        ("综合近端串扰", "psnext"),
        ("Araya girme kaybi", "insertion_loss"),
        ("Geri dönüş kaybı", "return_loss"),
        ("PARADIAFONIA CUMULATA - LATO 2", "psnext"),
        ("Paradiafonia (PS NEXT)", "psnext"),
        ("Nærendekrydstale, effektsum", "psnext"),
        ("EFFEKTSUM AF NÆRENDEKRYDSTALE", "psnext"),
        ("Fjernendekrysstale, effektsum", "psfext"),
        ("Effektsumma närändsöverhörning", "psnext"),
        ("Närändesöverhörning", "next"),
        ("FJARRANDESOVERHORNING, effektsumma", "psfext"),
        ("Effektsumma ACR-F", "psacr_f"),
        ("ACR-N, effektsum", "psacr_n"),
        ("Indsættelsestab", "insertion_loss"),
        ("INNSETTINGSTAP nær", "insertion_loss"),
        ("Refleksionstab", "return_loss"),
        ("Telediafonia cumulata", "psfext"),
        ("Rapporto attenuazione/paradiafonia", "acr_n"),
        ("RAPPORTO ATTENUAZIONE / PARADIAFONIA CUMULATO", "psacr_n"),
        ("rapporto_attenuazione_telediafonia", "acr_f"),
        ("Rapporto attenuazione/telediafonia cumulato", "psacr_f"),
        ("Relación atenuación/paradiafonía", "acr_n"),
        ("Relação atenuação/telediafonia acumulada", "psacr_f"),
        ("Scostamento del ritardo (ns)", "delay_skew"),
        ("Differenza dei ritardi", "delay_skew"),
        ("Resistenza dell'anello", "dc_loop_resistance"),
        ("DIF_ATRASO_NS", "delay_skew"),
        ("COMPR_M", "length"),
        ("RESIST_OHM_12", "dc_loop_resistance"),
    ],
)
def test_words_of_the_trade_are_known_with_and_without_their_marks(text: str, meant: str) -> None:
    found = phrases.parameter_in(text)
    assert found is not None
    assert found.meaning == meant


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("Échec", "fail"),
        ("ECHEC", "fail"),
        ("Nicht  bestanden", "fail"),
        ("NO APTO", "fail"),
        ("Sí", "pass"),
        ("superato", "pass"),
        ("Accettata", "pass"),
        ("NON IDONEA", "fail"),
        ("不合格", "fail"),
        ("Passa", "pass"),
        ("Falha", "fail"),
        ("Correto", "pass"),
        ("incorreta", "fail"),
        ("korrekt", "pass"),
        ("nicht korrekt", "fail"),
        ("w porządku", "pass"),
        ("НЕ СООТВЕТСТВУЕТ", "fail"),
        ("прошел", "pass"),
        ("不通过", "fail"),
        ("Başarısız", "fail"),
        ("vielleicht", None),
    ],
)
def test_verdicts_of_other_languages(text: str, meant: str | None) -> None:
    assert verdict_of(text) == meant


def test_a_key_that_asks_for_both_verdicts_asks_for_a_pass() -> None:
    assert asks_for_a_pass("PassFail", ["yes"])
    assert asks_for_a_pass("P/F", ["P", "F"])
    assert not asks_for_a_pass("Wing", ["P", "F"])
    assert asks_for_a_pass("Pass/Fail", ["FAIL"])
    assert not asks_for_a_pass("Failed", ["yes"])
    assert not asks_for_a_pass("Geschirmt", ["ja"])


def test_heads_and_curves_in_two_files_need_no_change(tmp_path: Path) -> None:
    names = ("kopf-17.csv", "kurven-17.csv")
    for name, text in zip(names, (tongues.heads(LINKS), tongues.courses(LINKS)), strict=True):
        (tmp_path / name).write_text(text, encoding="utf-8")
    dialect = tmp_path / "draft.toml"
    paths = [tmp_path / name for name in names]
    assert run("dialect", "draft", *paths, "-o", dialect).exit_code == 0
    items = list(Desk(Asked(dialects=(str(dialect),))).items(paths))
    assert [item for item in items if isinstance(item, ReadProblem)] == []
    records = [item for item in items if isinstance(item, Record)]
    assert [record.label for record in records] == ["L-1", "L-2"]
    for one, verdict, record in zip(LINKS, ("pass", "fail"), records, strict=True):
        assert curves(record.document) == written(one, *tongues.GERMAN)
        assert [e["length_m"] for e in record.document["results"]["scalars"]] == [one.metres]
        assert record.document["stated"]["overall"]["verdict"] == verdict
        assert record.document["test"]["started"]["rfc3339"] == "2026-03-02T17:05:00-00:00"
        assert record.document["test"]["operator"] == "nb"


def test_french_points_with_limits_beside_them_need_no_change(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, tongues.points(LINKS[0]))
    assert "# ASSUMED: no number is above 12; in the language of the words the day" in draft
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert record.label == "L-1"
    assert curves(record.document) == written(LINKS[0], *tongues.FRENCH)
    assert record.document["stated"]["overall"]["verdict"] == "fail"
    assert record.document["test"]["started"]["rfc3339"] == "2026-03-02T17:05:00-00:00"
    assert "\n# ASSUMED: 'Perturbatrice' and 'Perturbée' name the disturbing" in draft
    assert "# seen: '20,0'" not in draft


def test_italian_lists_of_decimal_commas_need_no_change(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, tongues.lists(LINKS), "export.xml")
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    for one, record in zip(LINKS, records, strict=True):
        assert curves(record.document) == written(one, *tongues.ITALIAN)
        assert [e["length_m"] for e in record.document["results"]["scalars"]] == [one.metres]
        assert record.document["stated"]["overall"]["verdict"] == "fail"


def test_an_axis_in_an_attribute_and_codes_for_ends(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, tongues.codes(LINKS[0]), "export.xml")
    draft = edited(draft, ('first = "TO-BE-SETTLED"', 'first = "disturbing"'))
    (record,), problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert record.label == "L-1"
    assert curves(record.document) == written(LINKS[0], *tongues.CODES)
    assert record.document["stated"]["overall"]["verdict"] == "pass"


def test_what_stands_around_curves_is_no_label_and_axes_are_told_apart(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, tongues.wrapped(LINKS), "export.xml")
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert [record.label for record in records] == ["L-1", "L-2"]
    for one, record in zip(LINKS, records, strict=True):
        assert curves(record.document) == written(one, *tongues.CODES)
        assert record.document["stated"]["overall"]["verdict"] == "fail"


def test_a_rising_list_among_many_others_is_their_axis(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, tongues.dutch(LINKS), "export.xml")
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    for one, record in zip(LINKS, records, strict=True):
        assert curves(record.document) == written(one, *tongues.ITALIAN)
        assert record.document["stated"]["overall"]["verdict"] == "fail"


def test_a_line_that_begins_with_the_mark_of_keys_is_no_key(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, tongues.ruled(LINKS))
    records, problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert [record.label for record in records] == ["L-1", "L-2"]
    for one, record in zip(LINKS, records, strict=True):
        assert curves(record.document) == written(one, *tongues.ITALIAN)
        assert record.document["stated"]["overall"]["verdict"] == "pass"
        assert not record.document.get("extra")


def test_two_tables_without_headings_and_codes_of_colours(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, tongues.coded(LINKS[1]))
    (record,), problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert record.label == "L-2"
    assert curves(record.document) == written(LINKS[1], *tongues.ITALIAN)
    assert len(record.document["results"]["scalars"]) == 2 * len(PAIRS)


def test_one_row_a_test_needs_no_change(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, tongues.rows(LINKS))
    records, problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert [record.label for record in records] == ["L-1", "L-2"]
    for one, record in zip(LINKS, records, strict=True):
        found = {e["pairs"][0]: e["length_m"] for e in record.document["results"]["scalars"]}
        assert found == {pair: pytest.approx(one.metres, abs=0.02) for pair in PAIRS}
        assert record.document["stated"]["overall"]["verdict"] == "pass"


def test_one_row_a_pair_needs_no_change(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, tongues.pair_rows(LINKS))
    records, problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert [record.label for record in records] == ["L-1", "L-2"]
    for one, record in zip(LINKS, records, strict=True):
        scalars = record.document["results"]["scalars"]
        assert {e["length_m"] for e in scalars if "length_m" in e} == {one.metres}
        assert len(scalars) == 2 * len(PAIRS)
        assert record.document["stated"]["overall"]["verdict"] == "fail"


@pytest.mark.parametrize(("word", "order"), [("Affaiblissement", "DD/MM"), ("Attenuation", None)])
def test_a_day_comes_first_where_words_are_not_english(word: str, order: str | None) -> None:
    naming = settle([f"{word} 12", f"{word} 36"])
    part = naming.parse(f"{word} 12")
    naming.take(part, naming.together([part]))
    found = forms(["07/03/2026 08:12"], foreign=naming.foreign)
    assert found is not None
    assert found.forms[0] == "DD/MM/YYYY hh:mm"
    assert (len(found.forms) == 1) == (order is not None)
    assert not found.sure
