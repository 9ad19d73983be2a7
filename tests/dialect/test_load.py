"""Dialect files: what is wrong with one is told by key path, with what to do."""

import json
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from sweepbook.dialect.describe import describe
from sweepbook.dialect.fields import FIELDS
from sweepbook.dialect.load import BadDialect, load, load_folder, parse
from sweepbook.dialect.parameters import parameters
from sweepbook.dialect.schema_check import TRADE_WORDS
from sweepbook_plugins.csv.sweeps import check_dialect, describe_formats

FORMATS = {entry.name: entry for entry in describe_formats()}
HEAD = """
schema = "urn:sweepbook:dialect-0"
name = "tiny"
title = "A tiny dialect"
format = "csv"
"""
FIELDS_TABLE = """
[fields]
link.label = "Link"
"""
CSV = """
[csv]
layout = "curve-per-column"
curves.frequency = "MHz"
curves.name = "{parameter} {pairs}"
"""
WHOLE = HEAD + CSV + FIELDS_TABLE


def faults(text: str) -> str:
    with pytest.raises(BadDialect) as caught:
        check_dialect(parse(text.encode(), "mine.toml"))
    assert "mine.toml" in caught.value.message
    return "\n".join(caught.value.problems)


def test_the_smallest_dialect() -> None:
    dialect = parse(WHOLE.encode(), "mine.toml")
    assert (dialect.name, dialect.format, dialect.where) == ("tiny", "csv", "mine.toml")
    assert dialect.raw == WHOLE.encode()
    assert len(dialect.sha256) == 64
    assert dict(describe(dialect))["layout"] == "curve-per-column"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("nonsense = ", "it is no TOML: Invalid value (at end of document)"),
        ("a = 1\nb =\nc = 1", "line 2"),
        (CSV + FIELDS_TABLE, "title: is missing. One line for people"),
        (HEAD + CSV, "fields: is missing. Which key of the export fills"),
        (HEAD + CSV + '[fields]\nlink.lable = "x"', "fields.link.lable: there is no such key; did"),
        (HEAD + CSV + '[fields]\nlink.lable = "x"', "fields.link.label: is missing. Key of the"),
        (WHOLE + "[unit]\n", "unit: there is no such table"),
        (
            WHOLE.replace('format = "csv"', 'format = "cvs"'),
            "csv: there is no such table; the read",
        ),
        (WHOLE + '[words.parameters]\nattenuation = "A"', "did you mean 'insertion_loss'?"),
        (WHOLE + '[words.parameters]\nELFEXT = "E"', "did you mean 'acr_f'?"),
        (WHOLE + '[units]\nfrequency = "mhz"', "units.frequency: 'mhz' does not fit. "),
        (WHOLE + '[units]\nloss = "0.01dB"', "units.loss: '0.01dB' does not fit. Unit of losses"),
        (WHOLE + '[units]\nloss = "0.01 m"', "a number and a blank before it: '0.01 dB'"),
        (WHOLE + '[units]\nloss = "0.0 dB"', "units.loss: '0.0 dB' is no unit of loss"),
        (WHOLE + '[words.parameters]\nNEXT = "N"', "words.parameters.NEXT: there is no such key"),
        (WHOLE + "[words.pairs]\n1-2 = 12", "words.pairs.1-2: expected is a word, or a list of"),
        (WHOLE + '[numbers]\ndecimal = "."\nthousands = "."', "numbers.thousands"),
        (WHOLE + '[numbers]\nat_least = ">"', "numbers.at_least: expected is a form with {}"),
        (WHOLE + '[numbers]\nat_least = "{}"', "alone would clip every value"),
        (WHOLE + '[dates]\nforms = ["DD.MM."]', "dates.forms: 'DD.MM.'"),
        (WHOLE + '[dates]\nzone = "Middle/Earth"', "dates.zone: there is no time zone"),
        (WHOLE + '[words.parameters]\nnext = "N"', "crosstalk.first: is missing"),
        (WHOLE + '[words.parameters]\npsfext = "P"', "crosstalk.far_end: is missing"),
        (WHOLE + '[figures]\nvalue = "{quantity}"', "figures.value: '{quantity}' may hold these"),
        (WHOLE + '[figures]\nvalue = "{pairs}"', "figures.value: '{pairs}' does not hold"),
        (WHOLE + '[words.ends]\nnear = "A"\nfar = "A"', "words.ends: 'A' stands for 'near' and"),
        (WHOLE + '[defaults]\nstated.overall = "PASS"', "defaults.stated: there is no such key"),
        (WHOLE + '[defaults]\ntest.started = "now"', "defaults.test.started: there is no such key"),
        (WHOLE + '[limits]\n"Cat 6A" = "x"', "limits: 'Cat 6A' does not"),
        (HEAD.replace("tiny", "Tiny One") + CSV + FIELDS_TABLE, "name: 'Tiny One' does not fit"),
        (HEAD.replace('"csv"', '"words"') + FIELDS_TABLE, "format: 'words' is no reader"),
        (HEAD + FIELDS_TABLE, "csv.layout: is missing"),
        (WHOLE.replace("curves.freq", "curves.freek"), "csv.curves.freekuency"),
        (WHOLE.replace("{parameter}", "{param}"), "csv.curves.name: '{param} {pairs}' may hold"),
        (WHOLE.replace("{parameter} {pairs}", "{pairs}"), "csv.curves.name: no template holds"),
        (WHOLE.replace("[csv]", '[csv]\ndelimiter = ";;"'), "csv.delimiter"),
        (WHOLE.replace("[csv]", "[csv]\ndelimiter = '\"'"), "csv.quote: is the delimiter"),
        (WHOLE.replace("[csv]", '[csv]\nencoding = "utf8"'), "csv.encoding: 'utf8' is not one of"),
        (WHOLE.replace("curve-per-column", "point-per-row"), "csv.rows: is missing"),
        (WHOLE.replace("curve-per-column", "point-per-row"), "csv.curves: does not go with"),
    ],
)
def test_a_bad_dialect_says_where_and_what(text: str, expected: str) -> None:
    assert expected in faults(text)


def test_all_faults_of_a_file_are_told_at_once() -> None:
    told = faults(WHOLE + '[units]\nfrequency = "x"\ndelay = "y"\n[nowhere]\n')
    assert all(key in told for key in ("units.frequency", "units.delay", "nowhere"))


@pytest.mark.parametrize(
    ("raw", "expected"), [(b"\xff\xfe", "not UTF-8"), (b"#" * (2 << 20), "larger than 1 MiB")]
)
def test_a_file_that_is_not_utf8_or_too_large(raw: bytes, expected: str) -> None:
    with pytest.raises(BadDialect, match=expected):
        parse(raw)


def test_the_reader_must_be_there(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_text(HEAD.replace("csv", "punched-tape") + FIELDS_TABLE, encoding="utf-8")
    with pytest.raises(BadDialect, match="no reader 'punched-tape' reads by dialects"):
        load(path, FORMATS)


def test_a_missing_file(tmp_path: Path) -> None:
    with pytest.raises(BadDialect, match="cannot be opened"):
        load(tmp_path / "none.toml", FORMATS)


def test_a_bad_file_in_a_folder_stops_nothing(tmp_path: Path) -> None:
    (tmp_path / "a.toml").write_text(WHOLE, encoding="utf-8")
    (tmp_path / "b.toml").write_text("x = ", encoding="utf-8")
    (tmp_path / "c.toml").write_text(WHOLE, encoding="utf-8")
    (tmp_path / "notes.txt").write_text("no dialect", encoding="utf-8")
    loaded = load_folder(tmp_path, FORMATS)
    assert list(loaded.dialects) == ["tiny"]
    assert sorted(loaded.failures) == ["b.toml", "c.toml"]
    assert "is taken by a.toml" in str(loaded.failures["c.toml"])


def schema(name: str) -> dict[str, Any]:
    text = files("sweepbook_schemas").joinpath(name).read_text(encoding="utf-8")
    loaded: dict[str, Any] = json.loads(text)
    return loaded


@pytest.mark.parametrize("name", ["dialect-0.schema.json", "csv-layout-0.schema.json"])
def test_the_schemas_are_schemas(name: str) -> None:
    Draft202012Validator.check_schema(schema(name))


def test_the_schema_and_the_code_know_the_same_fields() -> None:
    whole = schema("dialect-0.schema.json")

    def leaves(node: dict[str, Any], path: str) -> list[str]:
        name = node.get("$ref", "").rpartition("/")[2]
        target = whole["$defs"].get(name, node) if name else node
        if "properties" not in target:
            return [path]
        inner = target["properties"].items()
        return [leaf for key, value in inner for leaf in leaves(value, f"{path}.{key}".strip("."))]

    found = leaves(whole["properties"]["fields"], "")
    assert sorted(found) == sorted([*FIELDS, "link.external_ids"])


def test_the_schema_and_the_vocabulary_know_the_same_parameters() -> None:
    declared = schema("dialect-0.schema.json")["properties"]["words"]["properties"]["parameters"]
    assert set(declared["properties"]) == set(parameters())


def test_every_word_of_the_trade_leads_to_a_parameter() -> None:
    assert set(TRADE_WORDS.values()) <= parameters().keys()
    assert not TRADE_WORDS.keys() & parameters().keys()


def test_a_question_at_the_end_of_a_message_gets_no_full_stop() -> None:
    with pytest.raises(BadDialect) as caught:
        parse((WHOLE + '[words.parameters]\nattenuation = "A"').encode(), "mine.toml")
    assert caught.value.message.endswith("did you mean 'insertion_loss'?")
