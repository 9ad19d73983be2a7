"""A table based on another one: what it changes, what it leaves alone, and every mistake in it."""

import copy
import json
import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from sweepbook.errors import SweepbookError
from sweepbook.limits.compare import changes
from sweepbook.limits.interpretations import Interpretations
from sweepbook.limits.library import AmbiguousLimit, Library, UnknownLimit
from sweepbook.limits.lines import unrounded_line
from sweepbook.limits.load import LimitFault
from sweepbook.limits.model import LimitTable
from sweepbook.limits.shapes import line, scalar_limit

BASE = "iso-11801-1-2017/class-ea/permanent-link"
LIBRARY, READINGS = Library.load(), Interpretations.load()
MHZ = np.linspace(1.0, 500.0, 999)
Change = Callable[[dict[str, Any]], Any]


def contract() -> dict[str, Any]:
    """The shortest own table: 3 dB more of NEXT."""
    return {
        "schema": "urn:sweepbook:limits-0",
        "path": "harbour-hall/ea/permanent-link",
        "title": "Harbour Hall, Class EA permanent link",
        "document": "Harbour Hall, works contract",
        "edition": "2",
        "published_year": 2024,
        "based_on": BASE,
        "adjustments": [adjustment(["next"], 3, "dB")],
        "sources": {"contract": "Clause 4.2"},
    }


def adjustment(words: list[str], by: float, unit: str) -> dict[str, Any]:
    return {"parameters": words, "tighter_by": by, "unit": unit, "source": "contract"}


def written(folder: Path, *documents: dict[str, Any]) -> list[Path]:
    found = []
    for i, document in enumerate(documents):
        found.append(folder / f"own-{i}.json")
        found[-1].write_text(json.dumps(document), encoding="utf-8")
    return found


def made(folder: Path, *, change: Change | None = None) -> LimitTable:
    document = contract()
    if change is not None:
        change(document)
    (file,) = written(folder, document)
    library, path = LIBRARY.adding(file)
    return library.table(path)


def test_a_minimum_is_raised_and_nothing_else_moves(tmp_path: Path) -> None:
    table, base = made(tmp_path), LIBRARY.table(BASE)
    for word in base.parameters:
        before = line(base, word, MHZ, READINGS)
        after = line(table, word, MHZ, READINGS)
        by = 3.0 if word == "next" else 0.0  # above the cap of 65 dB as well: 68 dB at 1 MHz
        np.testing.assert_allclose(after.value, before.value + by)
        np.testing.assert_allclose(after.low, before.low + by)
        np.testing.assert_array_equal(after.grade, before.grade)
    assert line(table, "next", MHZ, READINGS).value[0] == 68.0


def test_a_maximum_is_lowered(tmp_path: Path) -> None:
    table = made(
        tmp_path,
        change=lambda d: d.update(
            adjustments=[
                adjustment(["insertion_loss"], 1.5, "dB"),
                adjustment(["propagation_delay"], 5, "ns"),
                adjustment(["dc_loop_resistance"], 2, "ohm"),
                adjustment(["length"], 10, "m"),
                adjustment(["dc_resistance_unbalance_within_pair"], 1, "percent"),
            ]
        ),
    )
    # 42.1 dB at 500 MHz and 498 ns at 10 MHz (memory), 21 ohm, 90 m: less what the contract says.
    loss = line(table, "insertion_loss", np.array([500.0]), READINGS).value[0]
    assert round(loss, 1) == 40.6
    assert scalar_limit(table, "propagation_delay", READINGS).value == 493.0
    assert scalar_limit(table, "dc_loop_resistance", READINGS).value == 19.0
    assert scalar_limit(table, "length", READINGS).value == 80.0
    unbalance = scalar_limit(table, "dc_resistance_unbalance_within_pair", READINGS, base_ohm=20.0)
    assert unbalance.value == 2.0


def test_a_length_is_shortened_before_the_allowance(tmp_path: Path) -> None:
    def change(document: dict[str, Any]) -> None:
        document["based_on"] = "tia-568.2-d/cat6a/permanent-link"
        document["adjustments"] = [adjustment(["length"], 10, "m")]

    found = scalar_limit(made(tmp_path, change=change), "length", READINGS)
    assert found.nominal == 80.0
    assert found.value == pytest.approx(88.0)


def test_a_difference_is_made_of_limits_that_are_not_tightened(tmp_path: Path) -> None:
    table, base = made(tmp_path), LIBRARY.table(BASE)
    for t in (table, base):
        assert unrounded_line(t, "acr_n", np.array([1.0])).value[0] == 61.0


def test_limits_are_left_out_replaced_and_asked_for(tmp_path: Path) -> None:
    own = copy.deepcopy(LIBRARY.documents[BASE]["parameters"]["return_loss"])
    own["segments"] = [
        {
            "from_mhz": 1, "to_mhz": 500, "shape": {"kind": "constant", "value": 20},
            "grade": "A", "source": "contract",
        }
    ]  # fmt: skip

    def change(document: dict[str, Any]) -> None:
        document["without"] = ["tcl", "eltctl"]
        document["parameters"] = {"return_loss": own}
        document["adjustments"] = [
            {"parameters": ["psanext"], "obligation": "required", "source": "contract"}
        ]

    table = made(tmp_path, change=change)
    assert not {"tcl", "eltctl"} & set(table.parameters)
    assert line(table, "return_loss", MHZ, READINGS).value.tolist() == [20.0] * MHZ.size
    assert table.parameters["psanext"].obligation == "required"
    assert set(table.parameters) == set(LIBRARY.table(BASE).parameters) - {"tcl", "eltctl"}
    told = {change.parameter: change.text for change in changes(LIBRARY.table(BASE), table)}
    assert told["tcl"] == "no limit any more"
    assert told["psanext"] == "required instead of sampled"
    assert "dB looser at 1 MHz" in told["return_loss"]
    assert "dB tighter at 398.1 MHz" in told["return_loss"]
    assert told.keys() == {"tcl", "eltctl", "psanext", "return_loss"}


def test_what_is_required_and_too_poorly_known_is_told(tmp_path: Path) -> None:
    word = "dc_resistance_unbalance_within_pair"
    asked = {"parameters": [word], "obligation": "required", "source": "contract"}
    table = made(tmp_path, change=lambda d: d.update(adjustments=[asked]))
    (change,) = changes(LIBRARY.table(BASE), table)
    assert "nothing passes by it" in change.text


def test_tables_are_based_on_each_other_in_any_order(tmp_path: Path) -> None:
    second = {**contract(), "path": "harbour-hall/ea/tighter", "based_on": contract()["path"]}
    library = Library.load(tables=written(tmp_path, second, contract()))
    found = unrounded_line(library.table(second["path"]), "next", np.array([1.0])).value[0]
    assert found == 71.0
    assert list(library.based_on(second["path"])) == [contract()["path"], BASE]
    assert library.based_on(BASE) == {}


def test_a_circle_is_refused(tmp_path: Path) -> None:
    one = {**contract(), "path": "a/b", "based_on": "c/d"}
    other = {**contract(), "path": "c/d", "based_on": "a/b"}
    with pytest.raises(LimitFault, match=r"own-0.json .* there is no such table"):
        Library.load(tables=written(tmp_path, one, other))


def test_without_names_it_goes_by_path_and_title_alone(tmp_path: Path) -> None:
    library, path = LIBRARY.adding(written(tmp_path, contract())[0])
    assert library.resolve(path).by == "path"
    assert library.resolve("harbour hall CLASS EA permanent link").path == path
    assert library.resolve("Class EA permanent link").path == BASE
    with pytest.raises(UnknownLimit):
        library.resolve("Harbour Hall")


def test_with_names_a_spelling_leads_to_it_or_is_refused_as_ambiguous(tmp_path: Path) -> None:
    document = contract()
    document["names"] = {"body": ["Harbour Hall"], "document": [], "edition": []}
    library, path = LIBRARY.adding(written(tmp_path, document)[0])
    assert library.resolve("Class EA PL Harbour Hall").path == path
    with pytest.raises(AmbiguousLimit) as caught:
        library.resolve("Class EA PL")
    assert set(caught.value.candidates) == {BASE, path}


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda d: d.pop("title"), "$ lacks title"),
        (lambda d: d.pop("based_on"), "$ gives adjustments without based_on"),
        (lambda d: d.update(based_on="iso-11801-1-2017/class-ea/permanent-lnk"), "perhaps iso-118"),
        (lambda d: d["adjustments"][0].update(parameters=["nxt"]), "perhaps next is meant"),
        (lambda d: d["adjustments"][0].update(unit="ns"), "in ns, but its limit is in dB"),
        (lambda d: d["adjustments"][0].update(tighter_by=-1), "-1 is less than or equal to"),
        (lambda d: d["adjustments"][0].update(tighter_by="3"), "is '3'; it must be of type number"),
        (lambda d: d["adjustments"][0].pop("unit"), "gives tighter_by without unit"),
        (lambda d: [d["adjustments"][0].pop(k) for k in ("tighter_by", "unit")],
         "must give tighter_by or obligation"),
        (lambda d: d["adjustments"][0].update(source="annex"), "names the source 'annex'"),
        (lambda d: d["adjustments"].append(d["adjustments"][0]), "has tightened already"),
        (lambda d: d.update(without=["next"]), "which $.without leaves out"),
        (lambda d: d.update(without=["fext"]), f"for which {BASE} sets no limit"),
        (lambda d: d["sources"].update(memory="ours"), "$.sources.memory is the name of another"),
        (lambda d: d.update(parameters={"next": {}}), "$.parameters.next lacks title"),
        (lambda d: d.update(adjustment=[]), "$ has adjustment, which is not known here"),
    ],
)  # fmt: skip
def test_each_mistake_is_named_with_its_place(change: Change, said: str, tmp_path: Path) -> None:
    with pytest.raises(LimitFault) as caught:
        made(tmp_path, change=change)
    assert any(said in fault for fault in caught.value.faults), caught.value.faults


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda p: p.update(nextt=p.pop("next")), "$.parameters.nextt is no word"),
        (lambda p: p["next"].update(sense="max"), "of next a higher value is better"),
        (lambda p: p["next"].update(unit="ns"), "next is in dB"),
        (lambda p: p.update(wire_map=p.pop("next")), "what it must show stands in $.wire_map"),
    ],
)
def test_a_limit_of_ones_own_keeps_to_the_vocabulary(
    change: Change, said: str, tmp_path: Path
) -> None:
    own = {"next": copy.deepcopy(LIBRARY.documents[BASE]["parameters"]["next"])}
    change(own)
    with pytest.raises(LimitFault) as caught:
        made(tmp_path, change=lambda d: d.update(parameters=own, adjustments=[
            adjustment(["psnext"], 1, "dB")]))  # fmt: skip
    assert any(said in fault for fault in caught.value.faults), caught.value.faults


def test_a_limit_too_doubtful_to_be_used_cannot_be_tightened(tmp_path: Path) -> None:
    doubtful = "tia-568.2-d/cat6a/permanent-link"
    with pytest.raises(LimitFault, match="too doubtful to be used"):
        made(tmp_path, change=lambda d: d.update(
            based_on=doubtful, adjustments=[adjustment(["psaacr_f"], 1, "dB")]))  # fmt: skip


def test_a_limit_of_ones_own_takes_the_place_of_a_doubtful_one(tmp_path: Path) -> None:
    own = copy.deepcopy(LIBRARY.documents["iso-11801-1-2017/class-fa/channel"]["parameters"])
    words = ("next", "psnext")

    def change(document: dict[str, Any]) -> None:
        document["based_on"] = "iso-11801-1-2017/class-fa/permanent-link"
        document["parameters"] = {word: own[word] for word in words}
        document.pop("adjustments")

    table = made(tmp_path, change=change)
    assert {entry.parameter for entry in table.not_usable} == {"acr_n", "psacr_n"}
    assert not math.isnan(line(table, "next", np.array([100.0]), READINGS).value[0])


def test_a_path_in_use_is_refused(tmp_path: Path) -> None:
    with pytest.raises(SweepbookError, match="which another table has"):
        made(tmp_path, change=lambda d: d.update(path=BASE))
