"""What a reconciliation says of a link, each by its rule, and what becomes of it once accepted."""

import csv
import json
import shutil
from dataclasses import replace
from pathlib import Path

import pytest
from openpyxl import load_workbook

from sweepbook.findings import Accepted, Finding
from sweepbook.rules.catalogue import built_in_entries
from sweepbook.schedule.attempt import Attempt
from sweepbook.schedule.cable import Cable
from sweepbook.schedule.model import End, Schedule, ScheduledLink
from sweepbook.schedule.reconcile import Item, Reconciliation, reconcile
from sweepbook.schedule.standing import RULE_OF, State
from sweepbook.schedule.told import AT_REST, Accepts
from tests.program import DIALECTS, run
from tests.report.reading import links, parsed, part, rows, text

from .test_reconcile import CHANNEL, FAIL, LATER, LIBRARY, PASS

LINK = ScheduledLink(2, PASS.label, CHANNEL, near=End({"building": "Hall", "floor": "1"}))
SECOND = replace(PASS, record_id="sb0-second", started=None)
WAYS: dict[str, tuple[ScheduledLink, tuple[Attempt, ...]]] = {
    "PLN001": (replace(LINK, label="B-9"), (PASS,)),
    "PLN002": (LINK, ()),
    "PLN003": (LINK, (replace(PASS, limit_path="tia-568.2-d/cat6/channel"),)),
    "PLN004": (LINK, (replace(PASS, limit_path="iso-11801-1-2017/class-ea/channel"),)),
    "PLN005": (LINK, (replace(PASS, limit_path="tia-568.2-d/cat6a/permanent-link"),)),
    "PLN006": (LINK, (replace(PASS, near=End({"building": "Hall", "floor": "2"})),)),
    "PLN007": (
        replace(LINK, near=End({}, "K-1"), far=End({}, "O-1")),
        (replace(PASS, near=End({}, "O-1"), far=End({}, "K-1")),),
    ),
    "PLN008": (replace(LINK, reel="R-1"), (replace(PASS, cable=Cable(reel="R-2")),)),
    "PLN009": (LINK, (replace(FAIL, started=None), SECOND)),
    "PLN010": (replace(LINK, limit="tia-568.2-d/cat6/channel"), (PASS,)),
    "PLN011": (LINK, (replace(FAIL, own_label="a.1"), replace(PASS, started=LATER))),
    "PLN012": (LINK, (replace(PASS, near=End({"building": "Mill"})),)),
    "PLN013": (replace(LINK, limit="no such limit"), ()),
}
"""A link and its tests of which each rule has something to say."""


def held(link: ScheduledLink, tests: tuple[Attempt, ...], accepts: Accepts | None = None) -> Item:
    result: Reconciliation = reconcile(
        Schedule("s.csv", "", (link,)), tests, LIBRARY, accepts=accepts
    )
    return result.items[-1] if link.label == "B-9" else result.items[0]


def told(item: Item) -> dict[str, Accepted | None]:
    """The rules by which something is said of a link, with who lets that stand."""
    own = {RULE_OF[item.state]: item.accepted} if item.state in RULE_OF else {}
    return {**own, **{one.rule: one.accepted for one in item.remarks}}


def accepting(rule: str) -> Accepts:
    def accepts(finding: Finding) -> Finding:
        who = Accepted("K. Orme", "2026-03-05", "agreed with the owner")
        return replace(finding, accepted=who) if finding.rule == rule else finding

    return accepts


def test_every_rule_about_the_schedule_has_its_case() -> None:
    every = {entry.id for entry in built_in_entries() if entry.subject == "schedule"}
    assert every == {*WAYS, AT_REST}  # that one is told by the command, see below


@pytest.mark.parametrize("rule", WAYS)
def test_it_is_said_and_accepted_stays_said_and_open_no_longer(rule: str) -> None:
    link, tests = WAYS[rule]
    item, accepted = held(link, tests), held(link, tests, accepting(rule))
    assert told(item)[rule] is None
    assert [one for one, by in told(accepted).items() if by] == [rule]
    assert accepted.state is item.state
    assert item.open == item.state.open
    assert accepted.open == (item.open and RULE_OF.get(item.state) != rule)
    assert any("(accepted by K. Orme, 2026-03-05: agreed with the owner)" in text
               for text in accepted.words)  # fmt: skip


def test_of_a_clean_link_nothing_is_said() -> None:
    assert told(held(LINK, (PASS,))) == {}


def test_no_fail_can_be_let_stand() -> None:
    failing = {State.FAILED, State.CONTRADICTED, State.UNPROVEN, State.MARGINAL}
    assert not failing & RULE_OF.keys()

    def everything(finding: Finding) -> Finding:
        return replace(finding, accepted=Accepted("K. Orme", "2026-03-05", "all of it"))

    item = held(LINK, (FAIL,), everything)
    assert item.open and item.accepted is None


@pytest.mark.parametrize(
    ("tests", "state"),
    [
        ((FAIL,), State.FAILED),
        ((replace(FAIL, recomputed="undecided", judgement="undecided"),), State.UNPROVEN),
        ((replace(PASS, doubt="One of two."),), State.UNPROVEN),
        ((replace(PASS, again="Marginal."),), State.MARGINAL),
        ((FAIL, replace(PASS, record_id="sb0-later", started=None)), State.FAILED),
        ((FAIL, replace(PASS, record_id="sb0-later", started=LATER,
                        limit_path="tia-568.2-d/cat6/channel")), State.FAILED),
        ((replace(PASS, label=""), replace(FAIL, label="")), State.FAILED),
    ],
)  # fmt: skip
def test_a_test_that_nobody_asked_for_and_that_does_not_pass_stays_open(
    tests: tuple[Attempt, ...], state: State
) -> None:
    item = held(replace(LINK, label="B-9"), tests, accepting("PLN001"))
    assert item.open and item.accepted is None and not item.rule
    assert item.reason.startswith(f"Open as {state.value}. ")
    assert told(item)["PLN001"] is not None
    assert "(accepted by K. Orme" in " ".join(item.words)


def test_a_later_pass_settles_what_nobody_asked_for() -> None:
    tests = (FAIL, replace(PASS, record_id="sb0-later", started=LATER))
    assert not held(replace(LINK, label="B-9"), tests, accepting("PLN001")).open


LESSER = "tia-568.2-d/cat6/channel"
LESSER_PASS = replace(PASS, record_id="sb0-later", started=LATER, limit_path=LESSER)
OTHER_WAY = replace(
    PASS, record_id="sb0-later", started=LATER, limit_path="tia-568.2-d/cat6a/permanent-link"
)


@pytest.mark.parametrize("later", [LESSER_PASS, OTHER_WAY])
def test_a_pass_to_less_settles_no_fail_against_what_was_asked(later: Attempt) -> None:
    for rule in ("PLN003", "PLN004", "PLN005"):
        item = held(LINK, (FAIL, later), accepting(rule))
        assert item.open and item.state is State.FAILED
        assert item.reason.startswith(FAIL.why) and later.limit_path in item.reason


def test_a_fail_to_less_is_told_with_the_pass_to_less() -> None:
    item = held(LINK, (replace(FAIL, limit_path=LESSER), LESSER_PASS), accepting("PLN003"))
    assert item.state is State.LESSER and not item.open
    assert item.reason.endswith(f"Before: {FAIL.why}")


def test_a_fail_is_told_where_no_limit_is_asked_for() -> None:
    item = held(replace(LINK, limit=""), (FAIL, LESSER_PASS))
    assert item.state is State.UNASKED
    assert item.reason.endswith(f"Before: {FAIL.why}")


@pytest.mark.parametrize("everywhere", [False, True])
def test_a_label_of_several_links_reaches_none_of_them(everywhere: bool) -> None:
    links = tuple(
        ScheduledLink(line, label, "", near=End({"building": building}))
        for line, label, building in ((2, "L-1", "North"), (3, "L-1", "South"), (4, "L-2", "South"))
    )
    who = Accepted("K. Orme", "2026-03-05", "never pulled")

    def accepts(finding: Finding) -> Finding:
        reached = everywhere or finding.labels in (("L-1",), ("L-2",))
        return replace(finding, accepted=who) if reached else finding

    items = reconcile(Schedule("s.csv", "", links), (), LIBRARY, accepts=accepts).items
    assert [item.open for item in items] == [not everywhere, not everywhere, False]
    said = ["reaches none of them" in item.reason for item in items]
    assert said == [not everywhere, not everywhere, False]


@pytest.fixture(scope="module")
def job(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """A book of one link, and a schedule of two others."""
    from tests.cli.conftest import UPHELD

    folder = tmp_path_factory.mktemp("accepted")
    run("gather", folder / "book", UPHELD, *DIALECTS)
    schedule = folder / "schedule.csv"
    schedule.write_text("label,limit\nX-1,tia-568.2-d/cat6a/permanent-link\nX-2,\n")
    return folder / "book", schedule


def test_people_accept_it_by_the_label_and_every_command_goes_by_that(
    job: tuple[Path, Path], tmp_path: Path
) -> None:
    book, schedule = job
    assert run("reconcile", book, "--schedule", schedule).exit_code == 1
    said = ("--who", "K. Orme", "--why", "not built")
    for rule, label in (("PLN002", "X-1"), ("PLN002", "X-2"), ("PLN001", "1A-P1-01")):
        assert run("accept", book, rule, label, *said).exit_code == 0
    run("accept", book, "PLN003", "X-9", *said)
    result = run("reconcile", book, "--schedule", schedule)
    text = " ".join(result.output.split())
    assert result.exit_code == 0
    assert "untested (2)" in text and "not on the schedule (1)" in text  # nothing is lost
    assert text.count("(accepted by K. Orme, ") == 3
    assert "Let stand, and not open: 3 links." in text
    assert "accepts what was not found here: PLN003 of X-9." in text
    found = json.loads(run("reconcile", book, "--schedule", schedule, "--json").stdout)
    assert found["open"] == 0 and found["summary"]["untested"] == 2
    assert {one["accepted"][0]["why"] for one in found["links"]} == {"not built"}
    tables = tmp_path / "tables"
    run("export", book, "--schedule", schedule, "--to", "tables", "-o", tables)
    with (tables / "schedule.csv").open(newline="") as file:
        rows = list(csv.DictReader(file))
    assert {row["open"] for row in rows} == {""}
    assert all("accepted by K. Orme" in row["why"] for row in rows)
    nameless = tmp_path / "nameless"
    run("export", book, "--schedule", schedule, "--to", "tables", "-o", nameless,
        "--without-people")  # fmt: skip
    assert "K. Orme" not in (nameless / "schedule.csv").read_text()
    bag = tmp_path / "bag"
    assert run("archive", "make", book, bag, "--schedule", schedule).exit_code == 0
    verified = run("archive", "verify", bag)
    assert verified.exit_code == 0, verified.output
    assert "Let stand, and not open: 3 links." in " ".join(verified.output.split())
    again = json.loads(run("archive", "verify", bag, "--json").stdout)["reconciliation"]
    assert again["let_stand"] == 3


@pytest.fixture(scope="module")
def in_part(job: tuple[Path, Path], tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """The book, of which two links of the schedule are untested and one is let stand."""
    book, schedule = job
    copy = Path(shutil.copytree(book, tmp_path_factory.mktemp("in-part") / "book"))
    (copy / "project.toml").unlink(missing_ok=True)
    said = ("--who", "K. Orme", "--why", "not built")
    for rule, label in (("PLN002", "X-1"), ("PLN001", "1A-P1-01")):
        assert run("accept", copy, rule, label, *said).exit_code == 0
    return copy, schedule


def test_the_page_says_who_lets_what_stand_and_why(
    in_part: tuple[Path, Path], tmp_path: Path
) -> None:
    book, schedule = in_part
    target = tmp_path / "page.html"
    run("export", book, "--schedule", schedule, "--to", "report", "-o", target)
    tree = parsed(target)
    tiles = part(tree, "glance").xpath(".//h3[.='Links by the schedule']/following-sibling::dl")[0]
    told = {text(one.find("dt")): text(one.find("dd")) for one in tiles}
    assert told == {"open by the schedule": "1", "untested": "1", "let stand": "2"}
    (table,) = part(tree, "open").xpath("./h3[@id='let-stand']/following-sibling::table")
    why = {row["Link"]: row["Why, and who accepts it"] for row in rows(table)}
    assert set(why) == {"X-1", "1A-P1-01"}
    assert all("accepted by K. Orme" in one and "not built" in one for one in why.values())
    assert not table.xpath(".//*[contains(@class, 'word')]")  # no alarm in what nobody has to do
    (stand,) = part(tree, "asked").xpath(".//table[caption='Where the links stand']")
    assert rows(stand) == [
        {"State": "untested", "Links": "2", "of them let stand": "1"},
        {"State": "not on the schedule", "Links": "1", "of them let stand": "1"},
    ]
    assert [row["By the schedule"] for row in links(tree)] == ["not on the schedule, let stand"]
    (heading,) = tree.xpath("//section[@class='link']")
    assert "not on the schedule, let stand" in text(heading)
    assert "accepted by K. Orme" in text(heading)
    nameless = tmp_path / "nameless.html"
    run("export", book, "--schedule", schedule, "--to", "report", "-o", nameless,
        "--without-people")  # fmt: skip
    assert "K. Orme" not in nameless.read_text() and "not built" in nameless.read_text()


def test_the_summary_of_a_workbook_counts_under_open_what_is(
    in_part: tuple[Path, Path], tmp_path: Path
) -> None:
    book, schedule = in_part
    target = tmp_path / "book.xlsx"
    run("export", book, "--schedule", schedule, "--to", "xlsx", "-o", target)
    told = {
        name: (number, said)
        for name, number, said in load_workbook(target)["Summary"].iter_rows(
            min_row=2, max_col=3, values_only=True
        )
    }
    assert told["Open by the schedule"][0] == told["untested"][0] == 1
    assert "not on the schedule" not in told
    assert told["Let stand"][0] == 2
    assert str(told["Let stand"][1]).startswith("1 untested, 1 not on the schedule. ")
