"""A limit file that somebody writes by hand: each mistake is named with its place."""

import copy
import json
from collections.abc import Callable
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

from sweepbook.errors import SweepbookError
from sweepbook.limits.library import Library
from sweepbook.limits.load import LimitFault, load

CHANNEL: dict[str, Any] = json.loads(
    files("sweepbook_schemas").joinpath("limits/tia-568.2-d/cat6a/channel.json").read_bytes()
)
Change = Callable[[dict[str, Any]], Any]


def changed(change: Change) -> bytes:
    document = copy.deepcopy(CHANNEL)
    change(document)
    return json.dumps(document).encode()


def next_(document: dict[str, Any]) -> dict[str, Any]:
    limit: dict[str, Any] = document["parameters"]["next"]
    return limit


def shape(document: dict[str, Any], parameter: str = "return_loss", i: int = 1) -> dict[str, Any]:
    found: dict[str, Any] = document["parameters"][parameter]["segments"][i]["shape"]
    return found


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda d: d.pop("family"), "$ lacks family"),
        (lambda d: d.update(famly="tia"), "$ has famly, which is not known here"),
        (lambda d: d.update(family="etsi"), "$.family is 'etsi'; it must be one of tia, iso"),
        (lambda d: d.update(schema="urn:x"), "it must be 'urn:sweepbook:limits-0'"),
        (lambda d: next_(d).update(cap="65"), "$.parameters.next.cap is '65'; it must be of type"),
        (lambda d: next_(d).update(unit="db"), "it must be one of dB, ns, ohm, percent, m"),
        (lambda d: next_(d).pop("segments"), "$.parameters.next lacks segments"),
        (lambda d: next_(d)["segments"][0].pop("to_mhz"), "give both or neither"),
        (lambda d: next_(d)["segments"][0].update(grade="D"), "is 'D'; it must be one of A, B, C"),
        (lambda d: next_(d)["segments"][0].update(interval=[0.1]), "segments[0].interval: "),
        (lambda d: shape(d).update(kind="formula"), "is 'formula'; it must be one of sum, log_"),
        (lambda d: shape(d).pop("f0_mhz"), "segments[1].shape lacks f0_mhz"),
        (lambda d: shape(d).update(expression="24-5*log10(f)"), "has expression, which is not"),
        (lambda d: shape(d).update(f0_mhz=0), "segments[1].shape.f0_mhz: 0 is less than or equal"),
    ],
)
def test_a_breach_of_the_schema_is_named_with_its_place(change: Change, said: str) -> None:
    with pytest.raises(LimitFault) as caught:
        load(changed(change), "own.json")
    assert any(said in fault for fault in caught.value.faults)
    assert caught.value.message.startswith("own.json is no usable limit table: $")


def test_every_breach_is_told_not_the_first_alone() -> None:
    def two(document: dict[str, Any]) -> None:
        document.pop("family")
        document.pop("notes")
        next_(document).update(sense="least")

    with pytest.raises(LimitFault, match="and 1 more") as caught:
        load(changed(two), "own.json")
    assert any("lacks family, notes" in fault for fault in caught.value.faults)
    assert any("'least'; it must be one of max, min" in fault for fault in caught.value.faults)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda d: next_(d)["segments"][1].update(from_mhz=331), "they must meet"),
        (lambda d: next_(d)["segments"][1].update(to_mhz=300), "segments[1] ends below its start"),
        (lambda d: d["steps"]["ranges"][1].update(from_mhz=31), "$.steps.ranges[1] starts at 31"),
        (lambda d: next_(d).update(floor=4), "only a maximum limit can have one"),
        (lambda d: d["parameters"]["insertion_loss"].update(cap=9), "only a minimum limit can"),
        (lambda d: next_(d).update(allowance_percent=10), "only a length can have one"),
        (lambda d: next_(d)["segments"][0].update(source="book"), "names the source 'book'"),
        (lambda d: d["steps"].update(source="book"), "$.steps names the source 'book'"),
        (lambda d: next_(d)["segments"][0].update(from_mhz=0), "starts at 0 MHz"),
        (lambda d: d["parameters"]["length"]["segments"].append(
            d["parameters"]["length"]["segments"][0]), "must be the only one"),
        (lambda d: next_(d).update(segments=[{
            "shape": {"kind": "log_line", "a": 1, "b": 2, "f0_mhz": 1},
            "grade": "B", "source": "memory"}]), "has no frequencies, but its shape (log_line)"),
        (lambda d: next_(d)["segments"][0].update(shape={
            "kind": "difference_of", "minuend": "fext", "subtrahend": "next"}), "takes fext"),
        (lambda d: next_(d)["segments"][0].update(shape={
            "kind": "difference_of", "minuend": "next", "subtrahend": "acr_f"}), "comes back to"),
        (lambda d: next_(d)["segments"][0].update(shape={"kind": "greater_of", "of": [
            {"value": 3, "unit": "percent"}, {"value": 1, "unit": "percent"}]}), "percent against"),
    ],
)  # fmt: skip
def test_a_table_that_contradicts_itself_is_refused(change: Change, said: str) -> None:
    with pytest.raises(LimitFault) as caught:
        load(changed(change), "own.json")
    assert any(said in fault for fault in caught.value.faults)


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        (b"\xff\xfe", "it is not UTF-8 text"),
        (b'{"schema": ', "it is no JSON at line 1, column 12"),
        (b'{"a": 1, "a": 2}', "it gives 'a' twice in one object"),
        (b'{"a": NaN}', "it holds NaN, which is no number of JSON"),
        (b"[1]", "it holds no object at the top"),
        (b"[" * 100_000, "it is nested too deeply"),
    ],
)
def test_what_is_no_strict_json_is_refused(raw: bytes, said: str) -> None:
    with pytest.raises(LimitFault, match="is no usable limit table") as caught:
        load(raw, "own.json")
    assert said in caught.value.faults[0]
    assert caught.value.todo


def test_a_folder_of_data_brings_its_own_tables(tmp_path: Path) -> None:
    place = tmp_path / "limits" / "site"
    place.mkdir(parents=True)
    named = {"path": "site-7/own/channel", "title": "Site 7, channel"}
    place.joinpath("own.json").write_bytes(changed(lambda d: d.update(named)))
    library = Library.load([tmp_path, tmp_path / "nothing-here"])
    assert library.table("site-7/own/channel").parameters["next"].cap == 65.0
    assert library.resolve("site-7/own/channel").by == "path"


def test_two_tables_of_one_path_are_refused(tmp_path: Path) -> None:
    (tmp_path / "limits").mkdir()
    (tmp_path / "limits" / "copy.json").write_bytes(json.dumps(CHANNEL).encode())
    with pytest.raises(SweepbookError, match=r"copy\.json gives the path tia-568\.2-d"):
        Library.load([tmp_path])


def test_the_digest_is_that_of_the_bytes() -> None:
    one, other = changed(lambda d: None), changed(lambda d: d.update(notes=[]))
    assert load(one, "a").sha256 == load(one, "b").sha256 != load(other, "a").sha256
