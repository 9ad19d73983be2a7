"""Rows to a schedule: what is taken, and what is told."""

from collections.abc import Iterator

import pytest

from sweepbook.schedule.model import BadSchedule, End, Schedule
from sweepbook.schedule.rows import schedule_of
from sweepbook.tables import Row


def _rows(text: str) -> Iterator[Row]:
    for number, line in enumerate(text.splitlines(), start=1):
        yield Row(number, tuple(cell.strip() for cell in line.split(";")))


def _schedule(text: str, **columns: str) -> Schedule:
    chosen = {role.replace("_", " "): title for role, title in columns.items()}
    return schedule_of("s.csv", "0" * 64, _rows(text), chosen)


TWO_LINES = """Harbour Hall; cable schedule; issue 4
;;
;From;;;To;;;;
Circuit no.;Storey;Room;Patch panel;Storey;Room;Outlet;Limit asked;Remarks
007;1;TR-1;P1;1;Foyer;F-07;Cat 6A channel;
;;;;;;;;
NA;1;TR-1;P1;2;Loft;L-01;Cat 6A channel;mind the step
"""


def test_lines_above_the_titles_are_passed_over_and_headings_joined() -> None:
    schedule = _schedule(TWO_LINES)
    first, second = schedule.links
    assert (first.line, first.label, first.limit) == (5, "007", "Cat 6A channel")
    assert first.near.place == {"floor": "1", "space": "TR-1", "panel": "P1"}
    assert first.place == {}
    assert first.far.place == {"floor": "1", "space": "Foyer"}
    assert first.far.termination == "F-07"
    assert second.label == "NA"
    assert schedule.unused == ("Remarks",)
    assert schedule.faults == ()


def test_titles_of_each_printed_page_are_passed_over_and_counted() -> None:
    page = TWO_LINES[: TWO_LINES.index("007")]
    again = page.upper().replace("CIRCUIT NO.", "Circuit  No.")
    schedule = _schedule(f"{TWO_LINES}{again}008;1;TR-1;P1;1;Foyer;F-08;Cat 6A channel;\n")
    assert [link.label for link in schedule.links] == ["007", "NA", "008"]
    assert schedule.again == 3
    assert schedule.faults == ()


def test_another_line_below_the_titles_stays_a_fault() -> None:
    schedule = _schedule("label;floor;length\n;;m\nA;1;20\nlabel;floor;metres\n")
    assert [fault.line for fault in schedule.faults] == [2]
    assert [link.label for link in schedule.links] == ["A", "label"]
    assert schedule.again == 0


def test_a_text_alone_above_the_titles_may_be_a_label_below_them() -> None:
    schedule = _schedule("A-1\nlabel;floor\nA-1;\nA-2;2\n")
    assert [link.label for link in schedule.links] == ["A-1", "A-2"]


def test_a_row_of_another_case_is_of_the_same_link() -> None:
    schedule = _schedule("label;building\nA 1;Mill\na  1;mill\nA 1;Barn\nA 1;Barn\n")
    assert [(link.line, link.label) for link in schedule.links] == [(2, "A 1"), (4, "A 1")]
    assert [(fault.line, fault.message) for fault in schedule.faults] == [
        (3, "a  1 stands in line 2 already as A 1; this row was not taken."),
        (5, "A 1 stands in line 4 already; this row was not taken."),
    ]


SPANNED = """Link ID;A-end;;;B-end;;Test standard;Notes
;Rack;Panel;Port no;Room;Outlet ID;;in pencil
"""


def test_titles_in_two_lines_with_the_label_in_the_upper_one() -> None:
    text = f"{SPANNED}A-1;K1;P1;01;Loft;L-01;Cat 6;x\n{SPANNED}A-2;K1;P1;02;Loft;L-02;Cat 6;\n"
    schedule = _schedule(text)
    first, second = schedule.links
    assert (first.line, first.label, first.limit, second.label) == (3, "A-1", "Cat 6", "A-2")
    assert first.near == End({"cabinet": "K1", "panel": "P1", "port": "01"})
    assert first.far == End({"space": "Loft"}, "L-01")
    assert (schedule.faults, schedule.again, schedule.unused) == ((), 2, ("in pencil",))


def test_a_line_of_units_below_the_titles_is_told_once_a_page() -> None:
    schedule = _schedule("Label;Room;Length\n;;m\nA;Loft;20\n")
    assert [link.label for link in schedule.links] == ["A"]
    assert [fault.line for fault in schedule.faults] == [2]


def test_titles_and_nothing_below_are_told() -> None:
    with pytest.raises(BadSchedule, match="no link below"):
        _schedule("Label;Room\n")


@pytest.mark.parametrize("above", ["Cable schedule", "Harbour Hall; cable schedule; issue 4"])
def test_a_line_right_above_the_titles_takes_nothing_from_them(above: str) -> None:
    (link,) = _schedule(f"{above}\nLabel;Limit;Room\nA;Cat 6;Loft\n").links
    assert (link.label, link.limit, dict(link.place)) == ("A", "Cat 6", {"space": "Loft"})


def test_rows_that_cannot_be_taken_are_told_with_their_lines() -> None:
    schedule = _schedule("label;limit\nA;x\n;x\nB;x\nA;y\n")
    assert [link.label for link in schedule.links] == ["A", "B"]
    assert [(fault.line, "no label" in fault.message) for fault in schedule.faults] == [
        (3, True),
        (5, False),
    ]
    assert "line 2" in schedule.faults[1].message


def test_one_label_may_stand_once_in_each_building() -> None:
    schedule = _schedule("label;building\nA;Hall\nA;Mill\nA;hall\n")
    assert [(link.label, link.line) for link in schedule.links] == [("A", 2), ("A", 3)]
    assert [fault.line for fault in schedule.faults] == [4]


def test_somebody_may_say_which_column_is_what() -> None:
    text = "Tag;Where;Spec\nA-1;Attic;Cat 6\n"
    schedule = _schedule(text, label="Tag", to_space="Where", limit="Spec")
    (link,) = schedule.links
    assert (link.label, dict(link.far.place), link.limit) == ("A-1", {"space": "Attic"}, "Cat 6")


def test_a_label_that_somebody_names_leaves_the_other_titles_as_they_are() -> None:
    text = "Circuit ref;Test to;Room;Patch panel\nA-1;Cat 6;Attic;P1\n"
    schedule = _schedule(text, label="circuit  REF", from_panel="Patch panel")
    (link,) = schedule.links
    assert (link.label, link.limit, dict(link.place)) == ("A-1", "Cat 6", {"space": "Attic"})
    assert dict(link.near.place) == {"panel": "P1"}
    assert schedule.unused == ()


def test_a_column_that_somebody_names_is_nothing_else() -> None:
    text = "Cable no;Circuit;Limit\nC-7;A-1;Cat 6\n"
    (link,) = _schedule(text, reel="Cable no").links
    assert (link.label, link.reel) == ("A-1", "C-7")


def test_a_row_wider_than_its_titles_is_told_not_taken_askew() -> None:
    schedule = _schedule("label;room;limit\nA;Hall; north;Cat 6\nB;Hall;Cat 6;\n")
    assert [link.label for link in schedule.links] == ["B"]
    assert [
        (fault.line, "4 cells below 3 titles" in fault.message) for fault in schedule.faults
    ] == [(2, True)]


@pytest.mark.parametrize(
    ("text", "columns", "told"),
    [
        ("Tag;Where\nA;B\n", {}, "'Tag', 'Where'"),
        ("label;limit\nA;B\n", {"cable": "Kind"}, "'Kind'"),
        ("label;limit\n;\n", {}, "no link below"),
        ("", {}, "nothing"),
    ],
)
def test_a_table_that_is_no_schedule_is_told(text: str, columns: dict[str, str], told: str) -> None:
    with pytest.raises(BadSchedule, match=told):
        _schedule(text, **columns)
