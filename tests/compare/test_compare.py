"""Two tests of one link: ends matched by termination, differences held against accuracy."""

import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from sweepbook import schemas
from sweepbook.compare.ends import Ends
from sweepbook.compare.figures import MOST, MOST_SHARE
from sweepbook.compare.tests import (
    NO_ORDER,
    NOT_KNOWN,
    NOTHING_CHANGED,
    ONE_TEST,
    OTHER_CABLE,
    OTHER_LINK,
    OTHER_PLACE,
    Comparison,
    Judged,
    comparisons,
)
from sweepbook.record import codec, identity
from sweepbook.record.model import Record
from sweepbook.rules.catalogue import built_in_entries
from tests.judging.links import Change, judged
from tests.program import run

TURNED = {"near": "far", "far": "near"}


def on_day(day: int, near: str = "P1-01", far: str = "O-01", verdict: str = "pass") -> Change:
    def change(body: dict[str, Any]) -> None:
        stamp = f"2024-05-{day:02}T08:00:00+02:00"
        body["test"]["started"] = {
            "as_stated": stamp, "rfc3339": stamp, "zone": "+02:00", "zone_source": "stated"
        }  # fmt: skip
        body["link"]["near"] = {"termination": near}
        body["link"]["far"] = {"termination": far}
        body["stated"]["overall"]["verdict"] = verdict

    return change


def declared(db: float) -> Change:
    names = ("insertion_loss", "return_loss", "next", "acr_f")

    def change(body: dict[str, Any]) -> None:
        body["test"]["accuracy"] = [{"parameter": name, "constant_db": db} for name in names]

    return change


def moved(parameter: str, end: str | None, pairs: tuple[str, ...], db: float) -> Change:
    def change(body: dict[str, Any]) -> None:
        for one in body["results"]["sweeps"]:
            if (one["parameter"], one.get("end"), tuple(one["pairs"])) == (parameter, end, pairs):
                one["value_db"] = (one["value_db"] + db).round(2)

    return change


def turned(body: dict[str, Any]) -> None:
    """The same link with the testers at exchanged ends: FEXT is then received at the near end."""
    for one in body["results"]["sweeps"]:
        if "end" in one:
            one["end"] = TURNED[one["end"]]


def one_of(*changes: Change) -> Judged:
    return Judged.of(*judged(*changes))


def compared(*tests: Judged) -> Comparison:
    (found,) = comparisons(tests)
    return found


def test_what_was_moved_is_found_by_how_much_and_where() -> None:
    first = one_of(on_day(1), declared(0.3))
    second = one_of(on_day(2), declared(0.2), moved("return_loss", "far", ("4-5",), 0.75))
    found = compared(second, first)  # in any order
    assert found.ends is Ends.SAME
    (one,) = found.changed
    assert (one.key.parameter, one.key.end, one.key.pairs) == ("return_loss", "far", ("4-5",))
    assert one.largest_db == pytest.approx(0.75, abs=0.0101)
    assert one.allowed_db == pytest.approx(0.3 + 0.2 + 0.005 + 0.005)
    assert len(found.differences) == 4 + 8 + 12 + 24
    assert not found.remarks


def test_exchanged_testers_are_seen_by_what_the_ends_are_connected_to() -> None:
    first = one_of(on_day(1), declared(0.02))
    second = one_of(
        on_day(2, near="o-01 ", far="P1-01"), declared(0.02), turned,
        moved("next", "near", ("1-2", "3-6"), -1.0),
    )  # fmt: skip
    found = compared(first, second)
    assert found.ends is Ends.TURNED
    (one,) = found.changed
    assert (one.key.end, one.key.pairs) == ("far", ("1-2", "3-6"))  # as the earlier test has it
    assert one.largest_db == pytest.approx(-1.0, abs=0.011)


def test_a_difference_within_the_accuracy_and_the_digits_is_none() -> None:
    first, second = (
        one_of(on_day(day), declared(0.1), moved("insertion_loss", None, ("1-2",), db))
        for day, db in ((1, 0.0), (2, 0.21))
    )
    assert not compared(first, second).changed
    third = one_of(on_day(3), declared(0.1), moved("insertion_loss", None, ("1-2",), 0.22))
    assert len(compared(first, third).changed) == 1


def test_what_lies_in_the_noise_of_a_tester_is_no_change() -> None:
    """NEXT of 87 and of 83 dB are both deeper than 60 dB; 87 and 45 differ."""
    first = one_of(on_day(1), declared(0.3), moved("next", "near", ("1-2", "3-6"), 5.0))
    second = one_of(on_day(2), declared(0.3))
    (one,) = compared(first, second).changed  # from 100 MHz on, where both are below 60 dB
    assert one.largest_db == pytest.approx(-5.0, abs=0.011)
    assert one.at_mhz > 100.0


def test_without_an_accuracy_the_difference_is_shown_and_not_judged() -> None:
    found = compared(one_of(on_day(1)), one_of(on_day(2), declared(0.1)))
    assert {one.agrees for one in found.differences} == {None}
    assert {one.allowed_db for one in found.differences} == {None}


def test_a_fail_that_became_a_pass_though_nothing_changed_calls_for_a_question() -> None:
    """Insertion loss at 100 MHz may be 17.97 dB: 18.02 fails and 17.92 passes."""

    def lifted(db: float) -> Change:
        def change(body: dict[str, Any]) -> None:
            grid = np.asarray(body["results"]["grids"][0]["frequency_mhz"])
            for one in body["results"]["sweeps"]:
                if one["parameter"] == "insertion_loss" and one["pairs"] == ["1-2"]:
                    one["value_db"][grid == 100.0] = db

        return change

    first = one_of(on_day(1, verdict="fail"), declared(0.3), lifted(18.02))
    second = one_of(on_day(2), declared(0.3), lifted(17.92))
    assert (first.test.recomputed, second.test.recomputed) == ("fail", "pass")
    assert compared(first, second).remarks == (NOTHING_CHANGED,)
    elsewhere = moved("return_loss", "near", ("7-8",), 4.0)  # is no reason for it
    assert compared(first, one_of(on_day(2), declared(0.3), lifted(17.92), elsewhere)).remarks == (
        NOTHING_CHANGED,
    )
    untold = one_of(on_day(1, verdict="fail"), lifted(18.02))
    assert compared(untold, one_of(on_day(2), lifted(17.92))).remarks == (NOT_KNOWN,)
    mended = one_of(on_day(2), declared(0.02), lifted(17.92))
    exact = one_of(on_day(1, verdict="fail"), declared(0.02), lifted(18.02))
    assert compared(exact, mended).remarks == ()
    assert [one.key.parameter for one in compared(exact, mended).mended] == ["insertion_loss"]


def test_other_ends_are_not_compared_and_a_missing_order_is_told() -> None:
    others = compared(one_of(on_day(1)), one_of(on_day(2, near="P1-07", far="O-07")))
    assert (others.differences, others.remarks) == ((), (OTHER_LINK,))
    other = one_of(on_day(1), declared(0.2), moved("next", "near", ("1-2", "3-6"), 0.1))
    same_moment = compared(one_of(on_day(1), declared(0.1)), other)
    assert same_moment.remarks == (NO_ORDER,)
    unnamed = compared(one_of(on_day(1, near="")), one_of(on_day(2, far="")))
    assert unnamed.ends is Ends.ASSUMED


def longer(share: float) -> Change:
    def change(body: dict[str, Any]) -> None:
        for one in body["results"]["scalars"]:
            for size in ("length_m", "delay_ns"):
                if size in one:
                    one[size] = round(one[size] * share, 1)

    return change


@pytest.mark.parametrize(
    ("share", "other"), [(1.0, False), (1.08, False), (2.0, True), (0.5, True)]
)
def test_a_test_of_another_length_is_told_to_be_of_another_cable(share: float, other: bool) -> None:
    first, second = one_of(on_day(1), declared(0.3)), one_of(on_day(2), longer(share))
    found = compared(first, second)
    lengths = [one for one in found.figures if one.parameter == "length"]
    assert lengths
    assert all(one.later == pytest.approx(one.earlier * share, abs=0.06) for one in lengths)
    assert (found.other_cable, OTHER_CABLE in found.remarks) == (other, other)


def test_one_test_exported_twice_is_told_to_be_one() -> None:
    def said(body: dict[str, Any]) -> None:
        body["test"]["operator"] = "op-7"

    first, again = one_of(on_day(1)), one_of(on_day(1), said)
    assert compared(first, again).remarks == (ONE_TEST,)
    assert ONE_TEST not in compared(first, one_of(on_day(2))).remarks


def test_two_tests_at_two_sites_are_told_to_be_of_two_links() -> None:
    def at(site: str) -> Change:
        def change(body: dict[str, Any]) -> None:
            body["link"]["near"]["place"] = {"site": site}

        return change

    quay, depot = one_of(on_day(1), at("Quay")), one_of(on_day(2), at("Depot"))
    assert OTHER_PLACE in compared(quay, depot).remarks
    unnamed = one_of(on_day(2))
    assert OTHER_PLACE not in compared(quay, unnamed).remarks
    first, second = one_of(on_day(1), at("Depot")), unnamed
    (of_the_job,) = comparisons((first, second), lambda: "quay")
    assert OTHER_PLACE in of_the_job.remarks  # who names no site is at the job's own
    (of_depot,) = comparisons((first, second), lambda: "depot")
    assert OTHER_PLACE not in of_depot.remarks


def test_the_command_knows_the_site_of_the_job_where_some_test_names_it(tmp_path: Path) -> None:
    book = tmp_path / "book"

    def gathered(name: str, label: str, *changes: Change) -> None:
        assessment, _ = judged(*changes)
        document = {**assessment.record.document}
        document["link"] = {**document["link"], "label": label}
        document["origin"] = [{"sha256": name * 64, "name": f"{name}.csv", "locator": ""}]
        document = {part: said for part, said in document.items() if part != "record_id"}
        whole = Record({**document, "record_id": identity.record_id(document)})
        (tmp_path / f"{name}.json").write_bytes(codec.dumps(whole))
        result = run("gather", book, tmp_path / f"{name}.json")
        assert result.exit_code == 0, result.output

    def at(site: str) -> Change:
        def change(body: dict[str, Any]) -> None:
            body["link"]["near"]["place"] = {"site": site}

        return change

    gathered("a", "A-1", on_day(1), at("Depot"))
    gathered("b", "A-1", on_day(2))
    (book / "project.toml").write_text('schema = "urn:sweepbook:project-0"\n[job]\nsite = "Quay"\n')
    assert OTHER_PLACE not in " ".join(run("compare", book).stdout.split())  # nobody writes it so
    gathered("c", "B-1", on_day(1), at("Quay"))
    assert OTHER_PLACE in " ".join(run("compare", book).stdout.split())


def test_readings_deeper_than_sixty_count_as_sixty_and_that_is_said() -> None:
    key = ("next", "near", ("1-2", "3-6"))
    first, second = (one_of(on_day(day), declared(0.3), moved(*key, db))
                     for day, db in ((1, 60.0), (2, 75.0)))  # fmt: skip
    (one,) = [x for x in compared(first, second).differences if x.key[:3] == key]
    assert one.largest_db == 0 and one.agrees is True
    assert one.deeper_points == one.points and not one.identical
    same = compared(first, one_of(on_day(1), declared(0.3), moved(*key, 75.0)))
    assert ONE_TEST not in same.remarks  # they differ, however deep


def test_the_command_compares_the_demos_retest(demo_book: Path) -> None:
    shown = run("compare", demo_book, "PW-1-02")
    assert shown.exit_code == 0
    assert "stated fail, recomputed fail" in shown.stdout
    document = json.loads(run("compare", demo_book, "--json").stdout)
    assert list(schemas.problems(document, "comparison-0.schema.json")) == []
    assert {one["label"] for one in document["comparisons"]} >= {"PW-1-02"}
    missing = run("compare", demo_book, "PW-9")
    assert (missing.exit_code, "PW-9" in missing.stderr) == (3, True)


def test_the_rule_about_lengths_of_one_label_has_the_same_figures() -> None:
    (entry,) = (one for one in built_in_entries() if one.id == "SET021")
    assert entry.parameters == {"most_share": MOST_SHARE, "most_m": MOST["length"]}
