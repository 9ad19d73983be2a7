"""Which key holds the label, and what stands beside it: by how its texts differ over the tests."""

from collections.abc import Sequence

import pytest

from sweepbook.draft import fields

SHEATHS = ["S/FTP kat. 7 4x2x0,58 LSOH", "U/UTP kat. 6 PVC"]
LABELS = [f"K{n}.{room}" for n, room in enumerate(("004", "009", "112", "M1"), 1)]
SAME_SHEATHS = ["Ferox 600", "Ferox 350"]


def label_of(properties: dict[str, Sequence[str]], tests: int) -> tuple[str, ...]:
    filled = fields.guess(properties, None, tests)
    return next((one.keys for one in filled if one.path == "link.label"), ())


@pytest.mark.parametrize("cable", ["Kabel", "Cable", "Câble", "Cavo", "Cabo"])
@pytest.mark.parametrize("sheaths", [SHEATHS, SAME_SHEATHS, SAME_SHEATHS[:1]])
@pytest.mark.parametrize(
    "label",
    [
        *("Oznaczenie łącza", "Oznaczenie toru", "Streckenbezeichnung", "Link name"),
        *("Désignation de la liaison", "Denominación del enlace", "Denominazione collegamento"),
        *("Verbindingsaanduiding", "Designação da ligação", "Linkbetegnelse", "Linkmerking"),
        *("Označení linky", "Länkbeteckning"),
    ],
)
def test_a_text_that_several_links_share_is_no_label(
    cable: str, sheaths: list[str], label: str
) -> None:
    assert label_of({cable: sheaths, label: LABELS}, 4) == (label,)
    assert label_of({label: LABELS, cable: sheaths}, 4) == (label,)


def test_a_link_that_was_tested_again_keeps_its_label() -> None:
    records = ["17", "18", "19", "20"]
    assert label_of({"Id": records, "Label": LABELS[:2]}, 4) == ("Label",)
    assert label_of({"Circuit": LABELS[:3], "Id": records}, 4) == ("Circuit",)


def test_what_names_the_link_goes_before_what_may_number_anything() -> None:
    records = ["17", "18", "19", "20"]
    assert label_of({"@id": records, "circuit": LABELS}, 4) == ("circuit",)
    assert label_of({"name": LABELS, "outlet": LABELS}, 4) == ("outlet",)


@pytest.mark.parametrize("bare", ["@id", "name", "Nr"])
@pytest.mark.parametrize("label", ["merking", "repère", "oznaczenie", "etichetta", "circuit"])
def test_what_is_called_a_label_in_any_language_goes_before_a_bare_name(
    bare: str, label: str
) -> None:
    records = ["t-8101", "t-8107", "t-8112", "t-8115"]
    assert label_of({bare: records, label: LABELS}, 4) == (label,)
    assert label_of({bare: LABELS}, 4) == (bare,)


@pytest.mark.parametrize("room", ["entrée", "ISOLIERRAUM", "Entrance 2"])
def test_words_that_begin_like_a_body_of_standards_name_no_limit(room: str) -> None:
    rooms = [f"R{n}.{room}" for n in range(4)]
    assert label_of({"Repère": rooms}, 4) == ("Repère",)


@pytest.mark.parametrize(
    "limit", ["EN50173-1 EA", "EN 50173-1", "ISO/IEC 11801", "iso11801 class E"]
)
def test_the_name_of_a_standard_is_no_label(limit: str) -> None:
    assert label_of({"Repère": [f"{limit} {n}" for n in range(4)]}, 4) == ()


def test_the_make_of_a_cable_is_no_label_though_no_other_key_reads_so() -> None:
    filled = {one.path: one for one in fields.guess({"Kabel": SHEATHS, "Xyz": LABELS}, None, 4)}
    assert filled["link.label"].keys == ("Xyz",)
    assert filled["link.label"].by_text
    assert filled["link.cable.part"].keys == ("Kabel",)


@pytest.mark.parametrize(("key", "by_text"), [("Cable", False), ("kabel", False), ("Art", True)])
def test_a_key_that_is_a_word_for_cable_speaks_for_its_make(key: str, by_text: bool) -> None:
    filled = fields.guess({"Link label": LABELS, key: SHEATHS}, None, 4)
    (part,) = (one for one in filled if one.path == "link.cable.part")
    assert part.by_text == by_text


@pytest.mark.parametrize(
    "key",
    [
        *("Gerätesoftware", "Gerätefirmware", "Oprogramowanie miernika", "Tester software"),
        "Programmaversie toestel",
        *("Micrologiciel", "Logiciel de l'appareil", "Versión de firmware", "Firmwareversie"),
        *("Versione del firmware", "Versão do firmware", "Fastvare", "Verze firmwaru"),
        *("Instrument/Programvara", "Instrument/Mjukvara", "Instrument/Programmel"),
    ],
)
def test_the_firmware_of_an_instrument_is_known_in_many_languages(key: str) -> None:
    filled = fields.guess({"Link label": LABELS, key: ["1.9.4"]}, None, 4)
    assert ("test.near.instrument.firmware", (key,)) in [(one.path, one.keys) for one in filled]


def test_what_only_an_instrument_has_goes_before_software() -> None:
    keys = {"Instrumentos Alba/Versión del programa": ["3.8"], "Firmware": ["1.2"]}
    filled = fields.guess({"Link label": LABELS, **keys}, None, 4)
    (one,) = (one for one in filled if one.path.endswith("firmware"))
    assert one.keys == ("Firmware",)


@pytest.mark.parametrize("key", ["Software", "Programvara", "Exportsoftware", "Oprogramowanie"])
def test_software_of_nothing_named_may_be_that_of_the_computer(key: str) -> None:
    filled = fields.guess({"Link label": LABELS, key: ["1.9.4"]}, None, 4)
    assert [one.path for one in filled] == ["link.label"]


@pytest.mark.parametrize(
    "key", ["Utförare", "Utforare", "Wykonujący", "Effectué par", "Udfører", "Utført av", "Provedl"]
)
def test_who_tested_is_known_with_and_without_marks(key: str) -> None:
    filled = fields.guess({"Link label": LABELS, key: ["Åsa Björkdahl"]}, None, 4)
    assert ("test.operator", (key,)) in [(one.path, one.keys) for one in filled]


@pytest.mark.parametrize(
    ("key", "limit"),
    [
        ("rule", "House rule seven"),
        ("gabarit", "Lien permanent E"),
        ("xyz", "ISO 11801-1 class E channel"),
        ("xyz", "Cat 6A PL"),
    ],
)
@pytest.mark.parametrize("sheaths", [SHEATHS, ["Cat 6 U/UTP"], ["Cat. 6"]])
def test_the_category_of_a_cable_is_no_limit_where_another_key_fits(
    key: str, limit: str, sheaths: list[str]
) -> None:
    for properties in ({"cable": sheaths, key: [limit]}, {key: [limit], "cable": sheaths}):
        filled = fields.guess({"Link label": LABELS, **properties}, None, 4)
        assert [one.keys for one in filled if one.path == "test.limit"] == [(key,)]


def test_a_construction_of_a_cable_is_never_a_limit() -> None:
    filled = fields.guess({"Link label": LABELS, "xyz": ["Cat 6 U/UTP"]}, None, 4)
    assert {one.path: one.keys for one in filled}.keys() == {"link.label", "link.cable.part"}
