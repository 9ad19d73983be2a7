"""A delta: what changed since an earlier export or a moment, in a database of its own."""

import re
import sqlite3
from contextlib import closing
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
import sqlalchemy as sa

from sweepbook.corrections.apply import apply
from sweepbook.corrections.model import Correction
from sweepbook.delivery import Recount
from sweepbook.errors import ReadProblem, SweepbookError
from sweepbook.findings import Accepted, Finding, NotRun, RuleNotRun, Severity
from sweepbook.judging.assessment import Assessment
from sweepbook.schedule.model import End, Schedule, ScheduledLink
from sweepbook_plugins.asbuilt import schema as asbuilt_schema
from tests.program import run

from .either import Place, ask, connected, content, put, write
from .made_up import LIMIT, assessed, delivery, margin, record

CHANGED = "SELECT label, change, changed_in FROM changed_link ORDER BY position"
TESTS = "SELECT label, started, is_current FROM test ORDER BY label, started"


def _end(panel: str) -> dict[str, Any]:
    place = {"site": "Quay", "floor": "2", "space": f"TR-{panel}"}
    return {"place": place, "termination": f"{panel}-07"}


def _test(label: str, day: int, stated: str = "pass", **more: Any) -> Assessment:
    serials = (f"BH5-{label}", "BH5-2")
    made = record(
        label, _end(label[:1]), _end("Z"), f"2026-03-0{day}T09:00:00Z", f"2026-03-0{day}T18:00:00Z",
        (f"{label}{day}.csv", "all"), serials, link={"cable": {"maker": f"Maker {label}"}},
    )  # fmt: skip
    curves = [margin("next", "near", ("1-2", "3-6"), float(day))]
    return assessed(made, stated=stated, margins=curves, **more)


def _moved(test: Assessment, label: str, day: str) -> Assessment:
    made = test.record
    right = Correction(made.record_id, "link.label", made.label, label, "op-9", day, "seen")
    return replace(test, record=apply(made, [right]))


def _scheduled(*labels: str) -> Schedule:
    links = [ScheduledLink(2 + n, label, LIMIT, near=End({"site": "Quay"}, f"S-{label}"))
             for n, label in enumerate(labels)]  # fmt: skip
    return Schedule("plan.csv", str(len(links)) * 64, tuple(links))


WARNED = [("REC004", Severity.WARNING, "the field reference is old")]
MOVES = _test("E", 1)
BEFORE = [_test("A", 1, "fail"), _test("B", 1), _test("C", 1), MOVES, _test("G", 1)]
AFTER = [
    *(_test("A", 1, "fail"), _test("A", 5)),  # tested again
    _test("B", 1, findings=WARNED),  # a rule finds something now
    _test("C", 1),
    _test("D", 5),  # new
    _moved(MOVES, "F", "2026-03-06"),  # mistyped
    _test("G", 1),
]
PLAN, NEXT_PLAN = _scheduled("A", "C", "U", "V"), _scheduled("W", "A", "C", "U")


@pytest.fixture(params=["sqlite", "postgresql"])
def earlier(request: pytest.FixtureRequest, tmp_path: Path) -> Place:
    """An export, and another job beside it."""
    place: Place = tmp_path / "earlier.sqlite"
    if request.param == "postgresql":
        place = request.getfixturevalue("new_database")()
    write(place, *BEFORE, schedule=PLAN)
    write(place, _test("A", 1), title="Annex")
    return place


def _delta(target: Place, since: Place | str, *tests: Assessment, **more: Any) -> list[str]:
    asked = {"since": getattr(since, "text", str(since))}
    whole = delivery(tests, asked=asked, **more)
    put(whole, target)
    return whole.remarks


def test_since_an_export_it_holds_what_differs_and_why(earlier: Place, tmp_path: Path) -> None:
    """C and G are as they were: C stands one line further down in the schedule, which is nothing
    that changed about it."""
    before, target = content(earlier), tmp_path / "delta.sqlite"
    remarks = _delta(target, earlier, *AFTER, schedule=NEXT_PLAN)
    assert ask(target, CHANGED) == [
        ("A", "changed", "test, test_end, test_source, result, scheduled"),
        ("B", "changed", "finding"),
        ("D", "new", "link, test, test_end, test_source, result, end_said, scheduled"),
        ("E", "gone", "link, test, test_end, test_source, result, end_said, scheduled"),
        ("F", "new", "link, test, test_end, test_source, result, correction, end_said, scheduled"),
        ("V", "gone", "scheduled"),
        ("W", "new", "scheduled"),
    ]
    assert ask(target, TESTS) == [
        ("A", "2026-03-01T09:00:00Z", 0),
        ("A", "2026-03-05T09:00:00Z", 1),
        ("B", "2026-03-01T09:00:00Z", 1),
        ("D", "2026-03-05T09:00:00Z", 1),
        ("F", "2026-03-01T09:00:00Z", 1),
    ]
    assert ask(target, "SELECT serial FROM instrument ORDER BY 1") == [
        (serial,) for serial in ("BH5-2", "BH5-A", "BH5-B", "BH5-D", "BH5-E")
    ]
    assert ask(target, "PRAGMA foreign_key_check") == []
    shown = str(earlier)
    told = f"holds the links that changed since {shown}: 3 new, 2 changed, 2 gone."
    assert remarks[0].endswith(told)
    assert content(earlier) == before
    assert ask(target, "SELECT value FROM about WHERE name = 'since'") == [(shown,)]


def test_taken_in_as_the_dictionary_says_it_makes_the_earlier_export_the_later_one(
    earlier: Place, tmp_path: Path
) -> None:
    delta, whole = tmp_path / "delta.sqlite", tmp_path / "whole.sqlite"
    write(whole, *BEFORE, schedule=PLAN)
    write(whole, _test("A", 1), title="Annex")
    _delta(delta, earlier, *AFTER, schedule=NEXT_PLAN)
    write(whole, *AFTER, schedule=NEXT_PLAN)
    _take_in(earlier, delta)
    found, expected = content(earlier), content(whole)
    assert len(expected["scheduled_test"]) >= 5
    for view in ("current_state", "test_history", "worst_margins", "tests_per_instrument"):
        assert found[view] == expected[view], view
    for name in ("result", "finding", "correction", "test_end", "test_source", "test"):
        assert found[name] == expected[name], name
    for view in ("open_items", "link_end", "end_conflicts"):
        assert found[view] == expected[view], view
    for name in ("set_finding", "set_rule_not_run", "reading_problem", "label_misfit", "job"):
        assert found[name] == expected[name], name
    without = "SELECT job, label, state, reason, test_id FROM schedule_state ORDER BY 1, 2"
    assert ask(earlier, without) == ask(whole, without)


def _no_position(rows: list[tuple[Any, ...]]) -> list[tuple[Any, ...]]:
    return sorted(((row[0], *row[2:]) for row in rows), key=repr)


SHARED = ("basis", "basis_item", "place", "termination", "instrument", "adaptor", "source",
          "limit_table", "cable", "figure_kind", "result_kind", "link")  # fmt: skip
"""Of what nothing is of any more, rows stay."""


def _found(*messages: str) -> dict[str, list[Any]]:
    ids = tuple(_test(label, 1).record.record_id for label in "BC")
    warned = [Finding("SET001", Severity.ERROR, "$", text, {}, tests=ids) for text in messages]
    return {
        "findings": warned,
        "rules_not_run": [RuleNotRun("SET004", NotRun.SKIPPED, text) for text in messages[:1]],
        "problems": [ReadProblem("A.csv", text, "no label") for text in messages[1:]],
    }


def test_a_finding_about_tests_together_changes_the_links_that_it_names(tmp_path: Path) -> None:
    """Without a schedule, in which their state would differ too; C is named before and after."""
    (error,) = _found("B and C share one test")["findings"]
    both = replace(error, tests=(*error.tests, BEFORE[0].record.record_id))
    before = tmp_path / "before.sqlite"
    write(before, *BEFORE, findings=[error])
    _delta(tmp_path / "same.sqlite", before, *BEFORE, findings=[error])
    assert ask(tmp_path / "same.sqlite", CHANGED) == []
    let_stand = replace(error, accepted=Accepted("K. Orme", "2026-03-06", "one cable"))
    for name, later, labels in (("none", [], "BC"), ("more", [error, both], "ABC"),
                                ("accepted", [let_stand], "BC")):  # fmt: skip
        target = tmp_path / f"{name}.sqlite"
        _delta(target, before, *BEFORE, findings=later)
        assert ask(target, CHANGED) == [(label, "changed", "set_finding") for label in labels]


def test_since_a_day_a_finding_about_tests_together_came_with_the_last_of_them(
    tmp_path: Path,
) -> None:
    (error,) = _found("they share one test")["findings"]
    named = replace(error, tests=(AFTER[1].record.record_id, AFTER[6].record.record_id))
    _delta(tmp_path / "day.sqlite", "2026-03-04", *AFTER[:4], AFTER[6], findings=[named])
    assert ask(tmp_path / "day.sqlite", CHANGED) == [
        ("A", "changed", "test, set_finding"),
        ("G", "changed", "set_finding"),
    ]


def test_of_the_same_schedule_every_table_is_that_of_a_whole_export(
    earlier: Place, tmp_path: Path
) -> None:
    """What was found about the whole has moved up by one, and one more is there: by position two
    would be there twice, and the last two never."""
    delta, whole = tmp_path / "delta.sqlite", tmp_path / "whole.sqlite"
    found, found_next = _found("a", "b", "c", "d"), _found("b", "c", "d", "e", "f")
    for place in (earlier, whole):
        write(place, *BEFORE, schedule=PLAN, **found)
        write(place, _test("A", 1), title="Annex", **found)
    _delta(delta, earlier, *AFTER, schedule=PLAN, **found_next)
    write(whole, *AFTER, schedule=PLAN, **found_next)
    _take_in(earlier, delta)
    given, expected = content(earlier), content(whole)
    assert len(expected["set_finding"]) == 9
    assert len(expected["set_finding_test"]) == 10
    of_places = {"scheduled", "scheduled_test"}
    others = {"about", "changed_link", "column_dictionary"}
    for name in given.keys() - {*others, *SHARED, *of_places}:
        assert given[name] == expected[name], name
    for name in of_places:  # a test that is not on the schedule may stand at another position
        assert _no_position(given[name]) == _no_position(expected[name]), name
    rests_on = """SELECT label, scheduled_test.test_id FROM scheduled JOIN scheduled_test
        ON scheduled.position = scheduled_test.position
        AND scheduled.job_id = scheduled_test.job_id ORDER BY 1, 2"""
    assert ask(earlier, rests_on) == ask(whole, rests_on)
    for name in SHARED:
        assert set(given[name]) >= {row for row in expected[name] if name != "basis"}, name


def _take_in(place: Place, delta: Path) -> None:
    """Run the statements that came with the delta, in SQLite as a person would: by its shell.

    Foreign keys are held, which the shell leaves off.
    """
    script = delta.with_name(f"{delta.name}.take-in.sql").read_text(encoding="utf-8")
    if isinstance(place, Path):
        with closing(sqlite3.connect(place)) as connection:
            connection.execute("PRAGMA foreign_keys = ON")
            connection.execute("ATTACH ? AS delta", (str(delta),))
            connection.executescript(script)
            assert connection.execute("PRAGMA foreign_key_check").fetchall() == []
        return
    body = script.partition("BEGIN;")[2].partition("COMMIT;")[0]
    with connected(place) as connection, connected(delta) as new:
        connection.exec_driver_sql("CREATE SCHEMA delta")
        for name, table in asbuilt_schema.load().tables.items():
            names = ", ".join(table.names)
            rows = new.exec_driver_sql(f"SELECT {names} FROM {name}").fetchall()
            connection.exec_driver_sql(
                f"CREATE TABLE delta.{name} AS SELECT {names} FROM {name} WHERE 1 = 0"
            )
            target = sa.table(name, *map(sa.column, table.names), schema="delta")
            if rows:
                connection.execute(target.insert(), [dict(row._mapping) for row in rows])
        connection.exec_driver_sql(body)
        connection.exec_driver_sql("DROP SCHEMA delta CASCADE")


@pytest.mark.parametrize(
    ("since", "changed"),
    [
        ("2026-03-05", [("A", "changed", "test"), ("B", "changed", "finding"),
                        ("D", "new", "test"), ("F", "changed", "correction")]),
        ("2026-03-05T19:00:00+01:00", [("A", "changed", "test"), ("B", "changed", "finding"),
                                       ("D", "new", "test"), ("F", "changed", "correction")]),
        ("2026-03-05T18:00:01Z", [("B", "changed", "finding"), ("F", "changed", "correction")]),
        ("2026-03-07", [("B", "changed", "finding")]),
        ("2026-03-08", []),
    ],
)  # fmt: skip
def test_since_a_moment_it_holds_what_came_from_then_on(
    tmp_path: Path, since: str, changed: list[tuple[str, str, str]]
) -> None:
    """A, D gathered at 18:00 UTC on the 5th, F corrected on the 6th, B's finding accepted on the
    7th."""
    accepted = Accepted("op-9", "2026-03-07", "known to the owner")
    finding = Finding("REC004", Severity.WARNING, "$", "old", {}, accepted)
    tests = [replace(t, findings=(finding,)) if t.record.label == "B" else t for t in AFTER]
    target = tmp_path / "delta.sqlite"
    remarks = _delta(target, since, *tests, schedule=NEXT_PLAN)
    assert ask(target, CHANGED) == changed
    labels = [label for label, *_ in changed]
    assert [row[0] for row in ask(target, "SELECT label FROM link ORDER BY label")] == labels
    assert ("nothing did" in remarks[0]) == (not changed)
    scheduled = ask(target, "SELECT label FROM schedule_state ORDER BY label")
    assert scheduled == [(label,) for label in labels]


def test_since_a_day_what_of_the_schedule_was_accepted_counts_as_since_an_export(
    tmp_path: Path,
) -> None:
    """U and W are not tested, D is tested and not on the schedule. What is said of U was accepted
    on the 6th, what is said of D on the 7th."""
    days = {"U": "2026-03-06", "D": "2026-03-07"}

    def accepts(finding: Finding) -> Finding:
        (label,) = finding.labels
        who = Accepted("op-9", days[label], "not built") if label in days else None
        return replace(finding, accepted=who)

    tests = (_test("A", 1), _test("C", 1), _test("D", 1))
    whole = delivery(tests, schedule=NEXT_PLAN)
    about = replace(whole.about, accepts=accepts)
    earlier = tmp_path / "earlier.sqlite"
    write(earlier, *tests, schedule=NEXT_PLAN)
    open_ = "SELECT label, is_open FROM scheduled ORDER BY label"
    assert dict(ask(earlier, open_)) == {"A": 0, "C": 0, "D": 1, "U": 1, "W": 1}
    both = [("D", "changed", "scheduled"), ("U", "changed", "scheduled")]
    for since, changed in ((str(earlier), both), ("2026-03-06", both), ("2026-03-08", []),
                           ("2026-03-07", both[:1])):  # fmt: skip
        target = tmp_path / f"{len(list(tmp_path.iterdir()))}.sqlite"
        put(replace(whole, about=about, asked={"since": since}), target)
        assert ask(target, CHANGED) == changed, since
        assert ask(target, open_) == [(label, 0) for label, *_ in changed]
    day = tmp_path / "day.sqlite"
    put(replace(whole, about=about, asked={"since": "2026-03-06"}), day)
    _take_in(earlier, day)
    assert dict(ask(earlier, open_)) == {"A": 0, "C": 0, "D": 0, "U": 0, "W": 1}


def test_since_a_day_an_owners_table_learns_what_was_accepted(tmp_path: Path) -> None:
    owner, file = tmp_path / "own.sqlite", tmp_path / "m.toml"
    with connected(owner) as connection:
        connection.exec_driver_sql("CREATE TABLE asked (label TEXT PRIMARY KEY, open INTEGER)")
        connection.exec_driver_sql("INSERT INTO asked VALUES ('U', 1), ('W', 1)")
    file.write_text(
        'schema = "urn:sweepbook:mapping-0"\n[[tables]]\ninto = "asked"\nfrom = "schedule_state"\n'
        'key = ["label"]\n[tables.columns]\nlabel = "label"\nopen = "is_open"\n',
        encoding="utf-8",
    )

    def accepts(finding: Finding) -> Finding:
        who = Accepted("op-9", "2026-03-06", "not built") if finding.labels == ("U",) else None
        return replace(finding, accepted=who)

    asked = {"mapping": str(file), "since": "2026-03-06"}
    whole = delivery((_test("A", 1), _test("C", 1)), asked=asked, schedule=NEXT_PLAN)
    put(replace(whole, about=replace(whole.about, accepts=accepts)), owner)
    assert dict(ask(owner, "SELECT label, open FROM asked")) == {"U": 0, "W": 1}


def test_a_day_to_come_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1773000000")  # 2026-03-08T20:00:00Z, by `date -u`
    for day, told in (("2026-03-08", False), ("2026-03-09", True)):
        said = " ".join(_delta(tmp_path / f"{day}.sqlite", day, *AFTER))
        to_come = f"--since {day}T00:00:00+00:00 is still to come"
        assert (to_come in said) == told
    assert "by the clock here it is 2026-03-08T20:00:00+00:00" in said


def test_a_delta_into_a_server(earlier: Place, tmp_path: Path, request: Any) -> None:
    target, file = request.getfixturevalue("new_database")(), tmp_path / "delta.sqlite"
    for place in (target, file):
        _delta(place, earlier, *AFTER, schedule=NEXT_PLAN)
    assert content(target) == content(file)


def test_an_earlier_export_of_an_earlier_revision_serves_too(
    old_file: Path,
    tmp_path: Path,
) -> None:
    before, target = old_file.read_bytes(), tmp_path / "delta.sqlite"
    _delta(target, old_file, assessed(record("9-9")), title="Quay")
    changed = ask(target, "SELECT label, change FROM changed_link WHERE change <> 'changed'")
    assert changed == [("9-9", "new")]
    assert old_file.read_bytes() == before


def test_what_cannot_tell_changes_is_refused(earlier: Place, tmp_path: Path) -> None:
    delta, empty, other = (tmp_path / f"{name}.sqlite" for name in ("delta", "empty", "stock"))
    _delta(delta, earlier, *AFTER)
    empty.touch()
    with closing(sqlite3.connect(other)) as connection:
        connection.execute("CREATE TABLE stock (part TEXT)")
    for since, told in (
        (delta, "itself a delta"),
        (empty, "holds no export"),
        (other, f"^{re.escape(str(other))} is a database of another kind"),
        ("yesterday", "is no day, no time, and no file"),
        ("2026-03-05T18:00", "by which clock"),
    ):
        with pytest.raises(SweepbookError, match=told):
            _delta(tmp_path / "other.sqlite", since, *AFTER)
    with pytest.raises(SweepbookError, match="delta is written to a new database"):
        _delta(delta, earlier, *AFTER)
    assert not (tmp_path / "other.sqlite").exists()
    write(delta, *AFTER, schedule=NEXT_PLAN)
    assert ask(delta, "SELECT COUNT(*) FROM changed_link") == [(0,)]
    assert ask(delta, "SELECT COUNT(*) FROM about WHERE name = 'since'") == [(0,)]


def test_the_command_says_what_changed(tmp_path: Path, demo_book: Path) -> None:
    whole, target = tmp_path / "whole.sqlite", tmp_path / "delta.sqlite"
    assert run("export", demo_book, "--to", "as-built", "-o", whole).exit_code == 0
    options = ("--to", "as-built", "--since", whole, "-o", target)
    result = run("export", demo_book, *options)
    assert result.exit_code == 0, result.output
    assert "27 tests looked at." in result.output
    assert "nothing did." in " ".join(result.output.split())
    assert ask(target, "SELECT COUNT(*) FROM link") == [(0,)]
    result = run("export", demo_book, "--to", "xlsx", "--since", "2026-03-01", "-o", tmp_path / "x")
    assert result.exit_code == 3
    assert "The format xlsx takes no --since." in result.output
    result = run("export", demo_book, "--to", "as-built", "--since", "", "-o", tmp_path / "y")
    assert (result.exit_code, (tmp_path / "y").exists()) == (3, False)
    assert "--since '' is no day" in result.output


MISTYPED = _test("Y", 1)
ONE_BEFORE, ONE_AFTER = (
    (_test("A", 1), MISTYPED),
    (_test("A", 1), _moved(MISTYPED, "X", "2026-03-06")),
)
ONE_PLAN = _scheduled("A", "X", "Y", "Z")


def test_a_place_that_was_tested_since_is_one_link_and_so_is_one_that_lost_its_test(
    tmp_path: Path,
) -> None:
    """The test of Y turns out to be one of X; both are on the schedule before and after."""
    earlier, whole, delta = (tmp_path / f"{name}.sqlite" for name in ("earlier", "whole", "delta"))
    for place in (earlier, whole):
        write(place, *ONE_BEFORE, schedule=ONE_PLAN)
    said, recipe = _delta(delta, earlier, *ONE_AFTER, schedule=ONE_PLAN)
    assert said.endswith(": 2 changed.")
    assert recipe.startswith("delta.sqlite.take-in.sql beside it has the statements")
    assert [row[:2] for row in ask(delta, CHANGED)] == [("X", "changed"), ("Y", "changed")]
    numbers = "SELECT label, link_id IS NULL FROM changed_link ORDER BY label"
    assert ask(delta, numbers) == [("X", 0), ("Y", 0)]
    states = "SELECT label, state FROM schedule_state ORDER BY label"
    assert ask(delta, states) == [("X", "passed"), ("Y", "untested")]
    write(whole, *ONE_AFTER, schedule=ONE_PLAN)
    _take_in(earlier, delta)
    for name in ("link", "test", "result", "correction", "end_said", "current_state", "open_items"):
        assert content(earlier)[name] == content(whole)[name], name
    assert ask(earlier, states) == ask(whole, states)


def test_an_owners_table_gets_both_and_neither_is_told_gone(tmp_path: Path) -> None:
    earlier, owner, file = (tmp_path / name for name in ("earlier.sqlite", "own.sqlite", "m.toml"))
    write(earlier, *ONE_BEFORE, schedule=ONE_PLAN)
    with connected(owner) as connection:
        connection.exec_driver_sql("CREATE TABLE asked (label TEXT PRIMARY KEY, state TEXT)")
    file.write_text(
        'schema = "urn:sweepbook:mapping-0"\n[[tables]]\ninto = "asked"\nfrom = "schedule_state"\n'
        'key = ["label"]\n[tables.columns]\nlabel = "label"\nstate = "state"\n',
        encoding="utf-8",
    )
    asked = {"mapping": str(file), "since": str(earlier)}
    whole = delivery(ONE_AFTER, asked=asked, schedule=ONE_PLAN)
    put(whole, owner)
    assert [remark for remark in whole.remarks if "Gone" in remark] == []
    rows = dict(ask(owner, "SELECT label, state FROM asked"))
    assert (rows["X"], rows["Y"], "A" in rows) == ("passed", "untested", False)


def test_a_link_whose_building_was_corrected_is_one_that_changed(tmp_path: Path) -> None:
    """Its number is another one then; both are listed, for the earlier one to be taken out."""
    earlier, whole, delta = (tmp_path / f"{name}.sqlite" for name in ("earlier", "whole", "delta"))
    made = _test("H", 1)
    fix = ("link.near.place.building", "", "East", "op-9", "2026-03-06", "seen")
    right = Correction(made.record.record_id, *fix)
    after = (_test("A", 1), replace(made, record=apply(made.record, [right])))
    for place in (earlier, whole):
        write(place, _test("A", 1), made)
    said, _ = _delta(delta, earlier, *after)
    assert said.endswith(": 1 changed.")
    assert [row[:2] for row in ask(delta, CHANGED)] == [("H", "changed")] * 2
    write(whole, *after)
    _take_in(earlier, delta)
    for name in ("link", "test", "result", "correction", "end_said", "current_state"):
        assert content(earlier)[name] == content(whole)[name], name


def test_an_export_of_another_job_tells_no_changes(earlier: Place, tmp_path: Path) -> None:
    """It holds "Library" and "Annex"; each link of a third job would be a new one."""
    before = content(earlier)
    for target in (tmp_path / "delta.sqlite", tmp_path / "again.sqlite"):
        with pytest.raises(SweepbookError, match=r'holds "Annex", "Library".*job "Quay 7"') as told:
            _delta(target, earlier, *AFTER, title="Quay 7")
        assert "earlier export of this job" in told.value.todo
        assert not target.exists()
    assert content(earlier) == before


def test_since_a_moment_it_takes_out_what_was_withdrawn_and_brings_back_what_counts_again(
    tmp_path: Path,
) -> None:
    """From the 3rd on: C and the first test of A count no more; G does again, and H still not.

    A was tested twice, C is on the schedule, H is not, and nobody was ever told of it.
    """
    first, *others = (_test("A", 1, "fail"), _test("A", 2), _test("B", 1), _test("D", 1))
    there, back = _test("C", 1), _test("G", 1)
    earlier, whole, delta = (tmp_path / f"{name}.sqlite" for name in ("earlier", "whole", "delta"))
    write(earlier, first, *others, there, schedule=PLAN)
    write(whole, *others, back, schedule=PLAN)
    lines = [
        Recount("2026-03-02T12:00:00Z", "withdrawn: early", lambda: iter([others[1].record])),
        Recount("2026-03-03T12:00:00Z", "withdrawn: b", lambda: iter([first.record, there.record])),
        Recount("2026-03-04T12:00:00Z", "taken back in: g", lambda: iter([back.record])),
        Recount("2026-03-05T12:00:00Z", "withdrawn: h", lambda: iter([_test("H", 1).record])),
    ]
    said = _delta(delta, "2026-03-03", *others, back, schedule=PLAN, recounts=lines)
    assert [row[:2] for row in ask(delta, CHANGED)] == [
        ("A", "changed"),
        ("C", "changed"),
        ("G", "new"),
        ("H", "gone"),
    ]
    assert said[0].endswith(": 1 new, 2 changed, 1 gone.")
    assert said[1] == "In that is what was withdrawn: b; taken back in: g; withdrawn: h."
    assert [row[:2] for row in ask(delta, TESTS)] == [
        ("A", "2026-03-02T09:00:00Z"),
        ("G", "2026-03-01T09:00:00Z"),
    ]
    _take_in(earlier, delta)
    found, expected = content(earlier), content(whole)
    for name in ("link", "test", "result", "end_said", "current_state", "open_items"):
        assert found[name] == expected[name], name
