"""Words for places, people and units in drafts; what these are is common practice, no source."""

import pytest

from sweepbook.draft.fields import guess
from sweepbook.draft.verdicts import verdict_of

KEYS = {
    "Room": ("2.04", "link.near.place.space"),
    "Raum": ("2.04", "link.near.place.space"),
    "Rack": ("R1", "link.near.place.cabinet"),
    "Liegenschaft": ("Werk Süd", "link.near.place.site"),
    "Geschoss": ("EG", "link.near.place.floor"),
    "Verteilfeld": ("VF-A2", "link.near.place.panel"),
    "Anschluss": ("12", "link.near.place.port"),
    "Recinto": ("Sala 101", "link.near.place.space"),
    "Oficina": ("3.12", "link.near.place.space"),
    "Divisão": ("0.04", "link.near.place.space"),
    "Kancelář": ("214", "link.near.place.space"),
    "Certificador": ("I. Puelma", "test.operator"),
    "Pomiary wykonał": ("J. Wilk", "test.operator"),
    "Tech": ("P. Quill", "test.operator"),
    "[Head]/Hauptgerät Nr.": ("HK5-20417", "test.near.instrument.serial"),
    "[Head]/Gegengerät Nr.": ("HK5-20418", "test.far.instrument.serial"),
    "Técnico/Equipo remoto N.º de serie": ("QY-22082", "test.far.instrument.serial"),
    "Obra/NVP (%)": ("69,0", "link.cable.nvp"),
    "Kabel/@nvp_prozent": ("78.0", "link.cable.nvp"),
    "cable/@nvpPercent": ("67.5", "link.cable.nvp"),
    "Percent": ("67.5", ""),
    "Main unit no.": ("MX 1", ""),
    "place.site": ("Kiln Row", "link.near.place.site"),
    "place.room": ("B2", "link.near.place.space"),
    "/Sheets/@station": ("Kiln Row", "link.near.place.site"),
    "Pavimento": ("2", "link.near.place.floor"),
    "Gear/MainUnitSN": ("KX-3019", "test.near.instrument.serial"),
    "UnitePrincipale/@Version": ("6.1", "test.near.instrument.firmware"),
    "Identification/Appareil local (n° de série)": ("AC4-20933", "test.near.instrument.serial"),
    "Identification/Appareil distant (n° de série)": ("AC4-20934", "test.far.instrument.serial"),
    "Version interne": ("4.2.1", "test.near.instrument.firmware"),
    "ラベル": ("1F-01-L", "link.label"),
    "UniteDistante/@Version": ("6.1", "test.far.instrument.firmware"),
    "Blad/@Version": ("6.1", ""),
    "Oprogramowanie przyrządów": ("2.8", "test.near.instrument.firmware"),
    "Firmware": ("5.2.1", "test.near.instrument.firmware"),
    "Version du micrologiciel": ("4.0b", "test.near.instrument.firmware"),
    "Software version": ("4.0", ""),
    "lieu/local": ("SR1", "link.near.place.space"),
    "cable/@vitesseNominalePourcent": ("78,5", "link.cable.nvp"),
    "mätare": ("Maj Sandelin", "test.operator"),
    "Configuration/LossUnit": ("dB", ""),
    "Configuration/ConnectorWiring": ("T568B", ""),
    "Configuration/Type": ("Channel", "test.configuration"),
}


@pytest.mark.parametrize("key", KEYS)
def test_a_key_says_where_who_or_with_what(key: str) -> None:
    text, member = KEYS[key]
    assert [one.path for one in guess({key: [text]}, None)] == [member] * bool(member)


def test_a_room_in_a_language_in_which_it_is_called_local_is_no_end() -> None:
    for ends, member in (
        (("principal", "distant"), ["link.near.place.space"]),
        (("local", "remote"), []),
    ):
        assert [one.path for one in guess({"local": ["SR1"]}, ends)] == member
    rooms = {"Bâtiment": ["Atelier"], "Local": ["0.12"]}
    found = [one.path for one in guess(rooms, ("local", "distant"))]
    assert found == ["link.near.place.building", "link.near.place.space"]
    assert len(guess({**rooms, "Distant": ["0.13"]}, ("local", "distant"))) == 1


def test_a_serial_number_in_short_is_of_the_end_that_its_key_names() -> None:
    ends = ("upper", "lower")
    keys = {"Gear/UpperUnitSN": ["KX-3019"], "Gear/LowerUnitSN": ["KX-3020"]}
    found = {one.path: one.texts for one in guess(keys, ends)}
    assert found == {
        "test.near.instrument.serial": ["KX-3019"],
        "test.far.instrument.serial": ["KX-3020"],
    }


def test_a_pass_with_a_word_for_not_fails_however_it_is_spaced() -> None:
    assert [verdict_of(text) for text in ("i. O.", "nicht i. O.", "not OK")] == [
        "pass",
        *["fail"] * 2,
    ]


@pytest.mark.parametrize("turned", [False, True])
def test_of_two_keys_called_after_a_site_the_one_that_tests_share_is_it(turned: bool) -> None:
    keys = {"objekt": ["N-07", "N-08", "N-31"], "anlaggning": ["Thornmere kvarn"]}
    keys = dict([*keys.items()][::-1]) if turned else keys
    found = {one.path: one.keys for one in guess(keys, None, tests=3)}
    assert found == {"link.near.place.site": ("anlaggning",), "link.label": ("objekt",)}
    alone = {one.path: one.keys for one in guess({"objekt": ["Thornmere", "Kiln Row"]}, None)}
    assert alone == {"link.near.place.site": ("objekt",)}
