"""The words for what is measured: complete, explained, and without contradiction."""

import json
from importlib.resources import files

from jsonschema import Draft202012Validator

from sweepbook.record import schema, vocabulary

WORDS = vocabulary.load().parameters
# The parameters of balanced cabling, as the trade names them: common practice, no source.
TRADE = {
    "wire_map",
    *("insertion_loss", "return_loss", "next", "psnext", "acr_n", "psacr_n"),
    *("fext", "psfext", "acr_f", "psacr_f", "tcl", "tctl", "eltctl", "coupling_attenuation"),
    *("anext", "psanext", "afext", "psafext", "psaacr_f"),
    *("propagation_delay", "delay_skew", "length", "dc_loop_resistance"),
    *("dc_resistance_unbalance_within_pair", "dc_resistance_unbalance_between_pairs"),
}


def test_the_file_follows_its_schema() -> None:
    folder = files("sweepbook_schemas")
    rules = json.loads(folder.joinpath("vocabulary-1.schema.json").read_text("utf-8"))
    words = json.loads(folder.joinpath("vocabulary-1.json").read_text("utf-8"))
    assert list(Draft202012Validator(rules).iter_errors(words)) == []
    assert len(WORDS) == len(words["parameters"]), "no word stands twice"


def test_every_parameter_of_the_trade_has_a_word() -> None:
    assert set(WORDS) == TRADE


def test_what_a_parameter_is_obtained_from_is_measured_or_obtained_in_turn() -> None:
    for parameter in WORDS.values():
        seen, wanted = set(), list(parameter.obtained_from)
        while wanted:
            word = wanted.pop()
            assert word != parameter.parameter, "it is obtained from itself"
            if word not in seen:
                seen.add(word)
                wanted.extend(WORDS[word].obtained_from)
        if parameter.obtained_from:
            assert parameter.formula


def test_units_are_those_of_the_members_that_hold_the_value() -> None:
    units = {
        "value_db": "dB",
        "delay_ns": "ns",
        "length_m": "m",
        "unbalance_percent": "percent",
        "resistance_ohm": "ohm",
    }
    for parameter in WORDS.values():
        assert parameter.unit == units.get(parameter.value_name, "1")
    members = schema.schema()["$defs"]["scalar"]["properties"]
    assert {
        name for word in WORDS.values() for name in word.values
    } == units.keys() & members.keys()


def test_less_is_better_for_what_stands_in_the_way_of_the_signal() -> None:
    lower = {word for word, parameter in WORDS.items() if parameter.better == "lower"}
    assert lower == {
        "insertion_loss",
        "propagation_delay",
        "delay_skew",
        "length",
        "dc_loop_resistance",
        "dc_resistance_unbalance_within_pair",
        "dc_resistance_unbalance_between_pairs",
    }


def test_far_end_crosstalk_has_an_order_and_near_end_crosstalk_has_none() -> None:
    assert WORDS["next"].pairs == "unordered", "a passive link is reciprocal"
    assert WORDS["fext"].pairs == WORDS["acr_f"].pairs == WORDS["acr_n"].pairs == "ordered"
    assert vocabulary.load().get("attenuation") is None
