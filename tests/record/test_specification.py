"""The written specification: it names everything there is, and its examples are true."""

import hashlib
import json
import math
import re
from importlib.resources import files
from typing import Any

import rfc8785

from sweepbook.record import codec, strict, vocabulary
from sweepbook.record.grids import MOST_POINTS, frequency_mhz
from sweepbook.record.validate import problems

from .test_schema import RECORD, properties

TEXT = files("sweepbook_schemas").joinpath("record-1.md").read_text("utf-8")


def block(language: str) -> str:
    (found,) = re.findall(rf"```{language}\n(.*?)```", TEXT, re.DOTALL)
    return str(found)


def example() -> dict[str, Any]:
    parsed: dict[str, Any] = json.loads(block("json"))
    return parsed


def next_into(pair: str) -> list[list[float]]:
    return [
        sweep["value_db"]
        for sweep in example()["results"]["sweeps"]
        if sweep["parameter"] == "next" and pair in sweep["pairs"]
    ]


def test_it_names_every_property_and_every_word_of_the_schema() -> None:
    coded = set(re.findall(r"`([^`\n]+)`", TEXT))
    wanted = {path.rpartition(".")[2] for path, _ in properties(RECORD)}
    for definition in ("purpose", "screen", "form", "mode", "zone_source", "time_convention"):
        found = [part for path, part in properties(RECORD) if path.endswith(f".{definition}")]
        wanted |= {word for part in found for word in part["enum"]}
    wanted |= set(RECORD["$defs"]["verdict"]["enum"]) | set(RECORD["$defs"]["bound"]["enum"])
    assert wanted - coded == set()


def test_it_gives_a_formula_for_every_derived_parameter_of_one_link() -> None:
    alien = {"psanext", "psafext", "psaacr_f"}
    words = vocabulary.load().parameters.values()
    derived = {word.parameter for word in words if word.obtained_from} - alien
    rows = set(re.findall(r"^\| `(\w+)` \| .*(?:log|IL|delay)", TEXT, re.MULTILINE))
    assert derived == rows


def test_the_example_is_a_record_as_it_lies_on_disk() -> None:
    made = codec.loads(block("json").encode())
    assert problems(made.document) == ()
    assert codec.dumps(made).decode() == block("json")


def test_its_identity_follows_from_the_text_alone() -> None:
    document = example()
    for outside in ("schema", "record_id", "origin", "attachments", "resolved", "provenance"):
        assert f"`{outside}`" in TEXT.split("## 13.")[1].split("## 14.")[0]
        document.pop(outside, None)
    digest = hashlib.sha256(rfc8785.dumps(document)).hexdigest()
    assert example()["record_id"] == f"sb0-{digest}"


def test_the_canonical_example_is_right() -> None:
    value, text, digest = re.findall(r"^    (?:value|canonical text|SHA-256) +(\S.*)$", TEXT, re.M)
    assert rfc8785.dumps(json.loads(value)).decode() == text
    assert hashlib.sha256(text.encode()).hexdigest() == digest


def test_what_is_worked_out_by_hand_is_right() -> None:
    frequencies = frequency_mhz(codec.loads(block("json").encode()).document, "g1")
    assert frequencies[3] == 100.0
    assert 1 + 0.15 + 0.15 == 1.2999999999999998
    members = [values[3] for values in next_into("1-2")]
    assert members == [44.2, 47.1, 50]
    assert round(-10 * math.log10(sum(10 ** (-loss / 10) for loss in members)), 2) == 41.71
    loss, *_, far = example()["results"]["sweeps"]
    assert (far["gaps"][0]["from"], far["gaps"][0]["to"]) == (1, 1)
    assert round(far["value_db"][2] - loss["value_db"][3], 2) == 38.37
    for figure in ("41.71 dB", "50.62 - 12.25 = 38.37 dB"):
        assert figure in TEXT


def test_bounds_of_the_text_are_those_of_the_code() -> None:
    assert f"{MOST_POINTS:,} points a grid" in TEXT
    assert f"nesting deeper than {strict.DEEPEST}" in TEXT
