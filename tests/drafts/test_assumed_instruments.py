"""What a draft assumes of a tester that is named without an end: common practice, no source."""

import pytest

from sweepbook.draft import fields
from sweepbook.draft.assumed_instruments import of_testers

MODEL = "Umbelwort T4"


def told(properties: dict[str, list[str]]) -> dict[str, str]:
    """Members of the near instrument by their keys."""
    filled = fields.guess(properties, None)
    found = of_testers(properties, filled)
    return {one.path.removeprefix("test.near.instrument."): one.keys[0] for one in found}


@pytest.mark.parametrize(
    "key",
    ["Tester", "STRUMENTO", "[Dati]/Strumento", "Equipamento", "run/@device", "row[c=Gerät]/c[2]"],
)
def test_a_key_called_after_a_tester_holds_make_and_model(key: str) -> None:
    assert told({key: [MODEL]}) == {"model": key}


@pytest.mark.parametrize(
    "properties",
    [
        {"Tester": ["Nora Quill"]},
        {"Tester": ["4471"]},
        {"Tester": ["T4-11803"]},
        {"Tester": [MODEL, "Nora Quill"]},
        {"Unit": ["Unit 2"]},
        {"Tester": ["12 March 2026"]},
        {"Main unit": [MODEL]},
        {"Tester calibration": [MODEL]},
        {"Serial number": ["0093"], "Version": ["2.1"]},
    ],
)
def test_people_numbers_and_what_names_an_end_are_no_model(
    properties: dict[str, list[str]],
) -> None:
    assert told(properties) == {}


@pytest.mark.parametrize("model", ["QT-40 Analyst", "QT40 Wort", "Umbelwort T4"])
def test_a_type_may_stand_before_the_name(model: str) -> None:
    named = {"Instrument": [model], "Sr. No.": ["QT/22/0457"]}
    assert told(named) == {"model": "Instrument", "serial": "Sr. No."}


@pytest.mark.parametrize("text", ["4471 Quill", "3rd floor", "2 Tester"])
def test_a_number_before_a_name_is_no_type(text: str) -> None:
    assert told({"Instrument": [text]}) == {}


@pytest.mark.parametrize(
    ("text", "within"),
    [
        (
            "Umbelwort T4, serie T4-0441, versión 2.18",
            {
                "model": "{}, serie {any}",
                "serial": "{any}, serie {}, versión {any}",
                "firmware": "{any}, versión {}",
            },
        ),
        (
            "Umbelwort T4 / Version: 2.18",
            {"model": "{} / Version: {any}", "firmware": "{any} / Version: {}"},
        ),
        ("Umbelwort T4; No. 0441", {"model": "{}; No. {any}", "serial": "{any}; No. {}"}),
    ],
)
def test_one_text_may_say_all_of_a_tester(text: str, within: dict[str, str]) -> None:
    properties = {"Link": ["A-1"], "Equipo": [text]}
    found = list(of_testers(properties, fields.guess(properties, None)))
    assert {of.path.removeprefix("test.near.instrument."): of.within for of in found} == within
    assert {of.keys for of in found} == {("Equipo",)}


@pytest.mark.parametrize("text", ["Umbelwort T4, Quill 12", "Umbelwort T4, serie 7, serie 8"])
def test_parts_that_say_nothing_of_themselves_are_the_model(text: str) -> None:
    found = list(of_testers({"Equipo": [text]}, []))
    assert [(of.path, of.within) for of in found] == [("test.near.instrument.model", "")]


@pytest.mark.parametrize("key", ["FW Ver", "FW", "fw_rev", "FW version"])
def test_a_short_name_of_firmware_names_no_end(key: str) -> None:
    """In one language "ver" is far."""
    filled = fields.guess({key: ["V3.08"]}, None)
    assert [one.path for one in filled] == ["test.near.instrument.firmware"]


def test_number_and_version_beside_a_tester_are_its_own() -> None:
    named = {"STRUMENTO": [MODEL], "NUM_SERIE": ["0441", "0447"], "VERSIONE": ["v2.18"]}
    found = {"model": "STRUMENTO", "serial": "NUM_SERIE", "firmware": "VERSIONE"}
    assert told({"CAVO": ["Cat 6A"], **named}) == found


@pytest.mark.parametrize("release", ["v2.18", "2.18.1-c", "3.0-beta2", "4.1 (2026)"])
def test_a_release_may_end_in_a_word(release: str) -> None:
    assert told({"Tester": [MODEL], "Version": [release]})["firmware"] == "Version"


@pytest.mark.parametrize(("number", "serial"), [("n/a", {}), ("QV4 30712", {"serial": "Målernr"})])
def test_a_version_stands_behind_a_number_whatever_that_holds(
    number: str, serial: dict[str, str]
) -> None:
    named = {"Måler": [MODEL], "Målernr": [number], "Program": ["v2.18"]}
    assert told(named) == {"model": "Måler", **serial, "firmware": "Program"}


def test_a_version_that_does_not_stand_right_behind_may_be_of_anything() -> None:
    apart = {"STRUMENTO": [MODEL], "CAVO": ["U/UTP Cat 6"], "VERSIONE": ["v2.18"]}
    assert told(apart) == {"model": "STRUMENTO"}


def test_what_is_known_of_a_unit_is_not_taken_again() -> None:
    known = {"Main unit serial": ["0441"], "Tester": [MODEL], "Serial number": ["9911"]}
    assert told(known) == {"model": "Tester"}


@pytest.mark.parametrize(
    ("member", "key", "text"),
    [
        ("serial", "Serial number", "QV-30712"),
        ("serial", "Seriennummer", "QV-30712"),
        ("serial", "instrument/@serialNo", "30712"),
        ("serial", "unit/@sn", "30712"),
        ("model", "instrument/@type", "QV40"),
        ("firmware", "unit/@rev", "3.1.0"),
        ("firmware", "instrument/@embedded", "3.1.0"),
        ("firmware", "tester/@program", "3.1.0"),
        ("firmware", "instrument/@programma", "v3.1"),
    ],
)
def test_what_stands_within_an_instrument_or_has_letters_needs_no_tester_beside_it(
    member: str, key: str, text: str
) -> None:
    assert told({key: [text], "Label": ["A-1", "A-2"]}) == {member: key}


@pytest.mark.parametrize(
    "properties",
    [
        {"Adaptor serial": ["HP-2204"]},
        {"cable/@type": ["Weft 6A U/UTP"]},
        {"Serial number": ["QV-1"], "Serial no": ["QV-2"]},  # which of two
        {"Serial number base unit": ["QV-1"]},
        {"tester/@program": ["Cat 6A"]},
        {"tester/@program": ["12"]},
        {"export/@program": ["3.1.0"]},
    ],
)
def test_what_is_of_something_else_or_of_one_of_two_is_left(
    properties: dict[str, list[str]],
) -> None:
    assert told(properties) == {}


@pytest.mark.parametrize("model", ["/jobs/@model", "/jobs/@modello", "/jobs/Modèle"])
def test_a_model_beside_both_number_and_firmware_is_that_of_the_tester(model: str) -> None:
    beside = {"/jobs/@serial": ["QV-30712"], "/jobs/@firmware": ["3.1.0"]}
    assert told({**beside, model: ["Umbelwort"]}) == {"serial": "/jobs/@serial", "model": model}
    for lacking in beside:
        some = {key: texts for key, texts in beside.items() if key != lacking}
        assert "model" not in told({**some, model: ["Umbelwort"]})
    assert "model" not in told({**beside, "/jobs/link/@model": ["Umbelwort"]})
    assert "model" not in told({**beside, model: ["Umbelwort"], "/jobs/instrument_model": ["Q"]})


def test_texts_beside_a_tester_may_say_themselves_what_they_are() -> None:
    cells = {"Gerät": [MODEL], "Gerät/2": ["Nr. UT-0441", "Nr. UT-0447"]}
    cells |= {"Gerät/3": ["Software 3.1.7"], "Gerät/4": ["Raum 12"], "Kabel/2": ["Nr. 12"]}
    filled = fields.guess(cells, None)
    found = {one.path.rpartition(".")[2]: one for one in of_testers(cells, filled)}
    assert found.keys() == {"model", "serial", "firmware"}
    assert (found["serial"].keys, found["serial"].within) == (("Gerät/2",), "Nr. {}")
    assert list(found["serial"].texts) == ["UT-0441", "UT-0447"]
    assert (found["firmware"].keys, found["firmware"].within) == (("Gerät/3",), "Software {}")


@pytest.mark.parametrize("texts", [["Nr. UT-0441", "No. UT-0447"], ["Nr. UT-0441", "UT-0447"]])
def test_texts_of_several_forms_beside_a_tester_are_left(texts: list[str]) -> None:
    assert told({"Gerät": [MODEL], "Gerät/2": texts}) == {"model": "Gerät"}
