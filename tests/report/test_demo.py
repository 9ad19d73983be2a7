"""The demo's page, held to the truth that the demo's model wrote.

truth.json comes from the transmission-line model, which shares no code with what judges and writes.
"""

import json
from collections import Counter
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

from sweepbook.judging.phrases import name
from tests.program import DEMO, run

from .reading import answers, links, parsed, part, rows, sheets, text

TOLERANCE = 0.0051
"""Of a margin: the page shows two decimals, the truth four."""
HAZARDS = ("service", "remote power", "telephone voltage", "fibre", "screens", "Local codes")
WHOLE_NS = 1.0
"""The exports round delays to whole nanoseconds; the truth rounds their difference."""
NO_TEST = ("untested", "near-miss")
"""The label of one test was mistyped and is not corrected in this book, so its link has no test."""
OUTCOMES = ("fail", "undecided", "pass", "not evaluated")
Truth = dict[str, Any]


@pytest.fixture(scope="module")
def page(demo_book: Path, tmp_path_factory: pytest.TempPathFactory) -> Any:
    target = tmp_path_factory.mktemp("page") / "report.html"
    schedule = DEMO / "schedule.csv"
    done = run("export", demo_book, "--schedule", schedule, "--to", "report", "-o", target)
    assert done.exit_code == 0, done.output
    return parsed(target)


@pytest.fixture(scope="module")
def truth() -> list[Truth]:
    read = json.loads(files("sweepbook_demo").joinpath("truth.json").read_text(encoding="utf-8"))
    found: list[Truth] = read["links"]
    return found


def _margin(entry: Truth) -> float:
    (value,) = (entry[key] for key in entry if key.startswith("margin_"))
    return float(value)


def _least_db(link: Truth) -> float:
    return min(float(one["margin_db"]) for one in link["margins"] if "margin_db" in one)


def _sheet(page: Any, link: Truth) -> Any:
    """Of a link with two tests the one for the same purpose."""
    here = sheets(page)[link["label"]]
    (found,) = [one for one in here if len(here) == 1 or f"({link['purpose']})" in text(one)]
    return found


def test_each_test_has_a_sheet_with_its_verdicts(page: Any, truth: list[Truth]) -> None:
    assert sum(map(len, sheets(page).values())) == len(truth)
    for link in truth:
        heading = text(_sheet(page, link).find("h3"))
        said = f"stated {link['stated']}, sweeps say {link['recomputed']}, {link['judgement']}"
        assert heading.endswith(said)


def test_each_parameter_has_its_worst_margin_and_says_where_it_lies(
    page: Any, truth: list[Truth]
) -> None:
    """The least true margin of a parameter, and at which of its curves and where that is."""
    compared = 0
    for link in truth:
        shown = {row["Parameter"]: row for row in rows(_sheet(page, link).find(".//table"))}
        for parameter in {entry["parameter"] for entry in link["margins"]}:
            of = [entry for entry in link["margins"] if entry["parameter"] == parameter]
            least = min(map(_margin, of))
            row = shown[name(parameter)]
            by = WHOLE_NS if parameter == "delay_skew" else TOLERANCE
            assert float(row["Margin"]) == pytest.approx(least, abs=by)
            near = [e for e in of if _margin(e) <= least + by]
            places = [(" to ".join(e["pairs"]), e.get("end", "")) for e in near]
            assert (row["Pair"], row["End"]) in places or row["Pair"] == ""
            places_mhz = [e["frequency_mhz"] for e in near if "frequency_mhz" in e]
            if parameter not in {"delay_skew", "propagation_delay"} and places_mhz:
                assert float(row["MHz"]) in places_mhz
            compared += 1
    assert compared > 200


def test_what_fails_comes_first_and_then_the_smaller_margin(page: Any) -> None:
    for sheet in page.xpath("//article[@class='test']"):
        shown = rows(sheet.find(".//table"))
        required = [row for row in shown if "(" not in row["Parameter"]]
        for outcome in OUTCOMES:
            some = [r for r in required if r["Outcome"] == outcome and r["Unit"] == "dB"]
            margins = [float(row["Margin"]) for row in some if row["Margin"]]
            assert margins == sorted(margins)
        order = [
            ("fail", "undecided", "pass", "not evaluated").index(r["Outcome"]) for r in required
        ]
        assert order == sorted(order)


def test_the_first_screen_names_the_worst_link_and_why(page: Any, truth: list[Truth]) -> None:
    """The link whose last test fails by most; PW-1-02 failed too, and passed when tested again."""
    again = {link["label"] for link in truth if link["purpose"] == "retest"}
    failed = [x for x in truth if x["recomputed"] == "fail" and x["label"] not in again]
    worst = min(failed, key=_least_db)
    said = answers(page)
    least = _least_db(worst)
    assert said["Which link is worst?"].startswith(worst["label"])
    assert f"{least:.2f} dB" in said["Which link is worst?"]
    assert f"{-least:.2f} dB worse than the limit" in said["Why?"]
    assert said["Was it tested again?"] == "No: there is one test of it."
    assert worst["limit_as_stated"] in said["On what limit?"]
    assert links(page)[0]["Link"] == worst["label"]


def test_a_link_that_was_tested_again_says_so(page: Any) -> None:
    (row,) = [row for row in links(page) if row["Link"] == "PW-1-02"]
    assert (row["State"], row["Sweeps of its tests"]) == ("passed on retest", "fail, then pass")
    first, last = sheets(page)["PW-1-02"]
    assert "(initial)" in text(first.find("h3"))
    assert "(retest)" in text(last.find("h3"))


def test_what_has_to_be_tested_again_is_what_is_no_proved_pass(
    page: Any, truth: list[Truth]
) -> None:
    """With a caution above it."""
    opened = part(page, "open")
    listed = {row["Link"] for row in rows(opened.find(".//table"))}
    proved = {("pass", "upheld"), ("pass", "unstated")}
    last = {link["label"]: (link["recomputed"], link["judgement"]) for link in truth}
    assert listed == {label for label, said in last.items() if said not in proved}
    caution = text(opened.find(".//p[@class='caution']"))
    for hazard in (
        "service",
        "remote power",
        "telephone voltage",
        "fibre",
        "screens",
        "Local codes",
    ):
        assert hazard in caution


def test_the_links_that_the_schedule_misses_are_listed(page: Any) -> None:
    """By truth.json: untested, and tested but not on the schedule."""
    read = json.loads((DEMO / "truth.json").read_text(encoding="utf-8"))["reconciliation"]
    untested = {one["label"] for one in read["labels"] if one["outcome"] in NO_TEST}
    _, besides = part(page, "open").findall(".//table")
    assert {r["Link"] for r in rows(besides) if r["State"] == "untested"} == untested


def test_judgements_are_counted(page: Any, truth: list[Truth]) -> None:
    counted = Counter((link["stated"], link["judgement"]) for link in truth)
    for row in rows(part(page, "judgements").find(".//table")):
        for judgement in ("upheld", "overturned", "unproven", "unstated"):
            assert int(row[judgement]) == counted[row["Stated"], judgement]


def test_a_reason_stands_once_on_a_sheet_and_is_not_named_twice(page: Any) -> None:
    """The sweeps of 2A-P1-11 step too coarsely, which is the reason of its judgement."""
    (sheet,) = sheets(page)["2A-P1-11"]
    reason, *_ = sheet.xpath("./p")
    remarks = [text(one) for one in sheet.xpath("./p[@class='soft']")]
    assert "insertion loss 7-8 steps 0.5 MHz at 62.25 MHz" in text(reason)
    assert not [one for one in remarks if one.startswith("Insertion loss")], "told above"
    assert "PSNEXT 4-5 at the near end steps 2 MHz at 150 MHz, allowed are 0.5 MHz." in remarks
    assert "Propagation delay: judged at 10 MHz, since it names no frequency." in remarks
    for label, (one, *_) in sheets(page).items():
        top, *_ = (text(paragraph) for paragraph in one.xpath("./p"))
        for said in map(text, one.xpath("./p[@class='soft']")):
            assert said.rstrip(".").casefold() not in top.casefold(), label


def test_each_cell_of_a_card_has_the_title_of_its_column(page: Any) -> None:
    """On a narrow screen the titles are out of sight, and a row is a card."""
    cards = page.xpath("//table[contains(@class, 'cards')]")
    assert len(cards) >= 4
    for table in cards:
        titles = [text(cell) for cell in table.xpath("./thead/tr/th")]
        for row in table.xpath("./tbody/tr"):
            assert [cell.get("data-h") for cell in row.xpath("./td")] == titles[1:]
