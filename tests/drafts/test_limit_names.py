"""What a draft makes of the names of limits.

How houses and languages call a permanent link and a channel is common practice in the trade, no
source; which table each means is written here by hand.
"""

from pathlib import Path

import pytest

from sweepbook.draft.field_times import Filled
from sweepbook.draft.limit_names import limit_table
from sweepbook.draft.limit_words import in_english

from .drafting import LIBRARY, draft_of, read
from .links import link, wide
from .test_titled import export, joined

ISO = "iso-11801-1-2017"
LINK, CHANNEL = f"{ISO}/class-ea/permanent-link", f"{ISO}/class-ea/channel"


def lines(name: str, *times: str) -> list[tuple[str, object, bool]]:
    """Path, name and whether it waits for a person, of each line for a name."""
    filled = [
        Filled("test.limit", ("limit",), [name]),
        Filled("test.started", ("date",), list(times)),
    ]
    table = limit_table(filled, LIBRARY)
    return [(line.key.strip('"'), line.value, line.asleep) for line in table.lines]


@pytest.mark.parametrize(
    ("name", "path"),
    [
        ("Kl.EA Installationsstrecke", LINK),
        ("Klasse EA, Installationsstrecke", LINK),
        ("ISO 11801 Kl. EA perm.", LINK),
        ("Klasse EA Übertragungsstrecke", CHANNEL),
        ("Klasse EA Übertragungsstrecke (Channel)", CHANNEL),
        ("ISO/IEC 11801-1 classe EA, lien permanent", LINK),
        ("ISO/CEI 11801 Classe EA, lien permanent", LINK),
        ("classe EA / canal", CHANNEL),
        ("Clase EA enlace permanente", LINK),
        ("Classe EA collegamento permanente", LINK),
        ("classe EA canale", CHANNEL),
        ("Classe EA, ligação permanente", LINK),
        ("klasse EA kanaal", CHANNEL),
        ("klasa EA, łącze stałe", LINK),
        ("klasa EA kanał", CHANNEL),
        ("Třída EA trvalý spoj", LINK),
        ("klass EA permanent länk", LINK),
        ("luokka EA, kiinteä yhteys", LINK),
        ("класс EA, постоянная линия", LINK),
        ("ISO/IEC 11801-1 EA级 永久链路", LINK),
        ("ISO/IEC 11801-1 クラスEA チャネル", CHANNEL),
        ("TIA 6A类 信道", "tia-568.2-d/cat6a/channel"),
        ("Class E fixed link (11801-1 Ed.1)", f"{ISO}/class-e/permanent-link"),
        ("Kl.D CH", f"{ISO}/class-d/channel"),
        ("TIA Kat. 6A Kanal", "tia-568.2-d/cat6a/channel"),
        ("Cat6A perm.", "tia-568.2-d/cat6a/permanent-link"),
    ],
)
def test_a_name_in_other_words_is_proposed(name: str, path: str) -> None:
    assert lines(name, "2024-03-04 14:22") == [(path, name, False)]


@pytest.mark.parametrize(
    ("name", "paths"),
    [
        ("Klasse EA", {LINK, CHANNEL}),
        ("EN 50173-1 Klasse EA Installationsstrecke", {LINK}),
        ("Klasse EA Installationsstrecke mit CP", {f"{LINK}-cp"}),
        ("Kategorie 6A Permanent Link", {"tia-568.2-d/cat6a/permanent-link"}),
    ],
)
def test_what_a_name_may_mean_waits_for_a_person(name: str, paths: set[str]) -> None:
    found = lines(name, "2024-03-04 14:22")
    assert paths <= {path for path, _, _ in found}
    assert all(asleep for _, _, asleep in found)


@pytest.mark.parametrize(
    ("name", "path"),
    [
        ("BS EN 50173 Class EA channel", CHANNEL),
        ("PN-EN 50173 Klasa EA, łącze stałe", LINK),
        ("EN 50173-1 Klasse EA Installationsstrecke mit CP", f"{LINK}-cp"),
    ],
)
def test_only_the_kind_of_link_that_a_name_says_is_offered(name: str, path: str) -> None:
    assert lines(name, "2024-03-04 14:22") == [(path, name, True)]


@pytest.mark.parametrize(
    "times", [(), ("04.03.24 14:22",), ("2014-03-04",), ("2014-03-04", "2024-03-04")]
)
def test_an_edition_that_was_not_out_is_never_proposed(times: tuple[str, ...]) -> None:
    """ISO/IEC 11801-1 is of 2017; a path stands whatever the day of a test."""
    found = lines("Kl.EA Installationsstrecke", *times)
    assert found
    assert all(asleep for _, _, asleep in found)


def test_two_names_of_one_limit_are_one_line() -> None:
    filled = [
        Filled("test.limit", ("limit",), ["Kl.EA PL", "Klasse EA Installationsstrecke"]),
        Filled("test.started", ("date",), ["2024-03-04"]),
    ]
    (line,) = limit_table(filled, LIBRARY).lines
    assert line.value == ["Kl.EA PL", "Klasse EA Installationsstrecke"]


def test_what_is_no_word_for_a_link_stays() -> None:
    name = "Werksnorm 7, Chemie, Permafrost EA-Kanalbau"
    assert in_english(name) == name


def test_the_draft_of_a_csv_reads_the_limit(tmp_path: Path) -> None:
    text = wide(link("L-1", 35.5), "insertion_loss", "return_loss", "next")
    text = text.replace("Cat 6A PL TIA 568.2-D", "Kl.EA Installationsstrecke")
    draft = draft_of(tmp_path, text)
    (record,), _ = read(tmp_path / "export.csv", draft)
    assert record.document["resolved"]["limit"]["path"] == LINK


def test_the_draft_of_an_xml_reads_the_limit(tmp_path: Path) -> None:
    text = export(joined(";")).replace("TIA-568.2-D Cat 6A PL", "classe EA, lien permanent")
    draft = draft_of(tmp_path, text, "export.xml")
    records, _ = read(tmp_path / "export.xml", draft)
    assert {of.document["resolved"]["limit"]["path"] for of in records} == {LINK}
