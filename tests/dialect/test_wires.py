"""Wire maps as exports write them, each against the wires that a person reads in the text.

What a record holds is as `record-1.md` says: near contact, far contact, null for nothing. The
crossed link is one with the pairs 3-6 and 4-5 swapped at one end.
"""

import time
from pathlib import Path

import pytest

from sweepbook.dialect import wires
from sweepbook.dialect.load import BadDialect, parse
from sweepbook.dialect.wires import FAR, NEAR, PINS
from sweepbook.judging.assessment import Outcome
from sweepbook.judging.wiremap import judge_wire_map
from sweepbook.limits.library import Library
from tests.csv_format.dialects import LEAST, changed

from .test_fits import _read

RULE = Library.load().table("iso-11801-1-2017/class-ea/permanent-link").wire_map
Pins = list[list[str | None]]
STRAIGHT: Pins = [[n, n] for n in "12345678"]
CROSSED: Pins = [[near, far] for near, far in zip("12345678", "12453678", strict=True)]
OPEN_4: Pins = [[n, None if n == "4" else n] for n in "12345678"]
Lines = str
Case = tuple[str, str, Lines, Pins, str | None]

FORMS: dict[str, Case] = {
    "equals": (
        'pins = "W"',
        'between_ends = "="',
        "W;1=1 2=2 3=4 4=5 5=3 6=6 7=7 8=8 S=S",
        CROSSED,
        "continuous",
    ),
    "words": (
        'pins = "W"',
        'between_ends = " to "\nbetween_wires = ","\nopen = "open"',
        "W;1 to 1, 2 to 2, 3 to 3, 4 to open, 5 to 5, 6 to 6, 7 to 7, 8 to 8, screen to screen",
        OPEN_4,
        "continuous",
    ),
    "a dash that is open too": (
        'pins = "W"',
        'between_wires = ","\nopen = "-"',
        "W;1-1,2-2,3-3,4--,5-5,6-6,7-7,8-8,écran--",
        OPEN_4,
        "open",
    ),
    "blanks around the marks": (
        'pins = "W"',
        'between_ends = ">"',
        "W;1 > 1  2 > 2  3 > 3 4 > 4 5 > 5 6 > 6 7 > 7 8 > 8",
        STRAIGHT,
        None,
    ),
    "nothing between the ends": (
        'pins = "W"',
        'between_ends = ""\nopen = "x"',
        "W;11 22 33 4x 55 66 77 88 SS",
        OPEN_4,
        "continuous",
    ),
    "two lists": (
        'near = "N"\nresults.wire_map.far = "F"',
        "",
        "N;1 2 3 4 5 6 7 8 S\nF;1 2 4 5 3 6 7 8 S",
        CROSSED,
        "continuous",
    ),
    "two lists, another order": (
        'near = "N"\nresults.wire_map.far = "F"',
        'open = "0"',
        "N;1 2 3 6 5 4 7 8 G\nF;1 2 3 6 5 0 7 8 G",
        [[n, None if n == "4" else n] for n in "12365478"],
        "continuous",
    ),
    "two lists without blanks": (
        'near = "N"\nresults.wire_map.far = "F"',
        'between_wires = ""\nopen = "x"',
        "N;12345678S\nF;123x5678x",
        OPEN_4,
        "open",
    ),
    "a cell a contact": (
        'near = "N"\nresults.wire_map.far = "F"',
        'between_wires = ";"\nscreen = "Mantel"',
        "N;1;2;3;4;5;6;7;8;Mantel\nF;1;2;4;5;3;6;7;8;Mantel",
        CROSSED,
        "continuous",
    ),
    "far contacts alone": ('far = "F"', "", "F;1 2 4 5 3 6 7 8", CROSSED, None),
    "far contacts and the screen": (
        'far = "F"',
        'between_wires = ","\nopen = "open"',
        "F;1,2,3,open,5,6,7,8,open",
        OPEN_4,
        "open",
    ),
    "a blank for nothing": (
        'far = "F"',
        'between_wires = ","\nopen = ""',
        "F;1,2,3,,5,6,7,8,S",
        OPEN_4,
        "continuous",
    ),
    "a key a contact": (
        'far = ["P1", "P2", "P3", "P4", "P5", "P6", "P7", "P8", "PS"]',
        'open = "--"',
        "P1;1\nP2;2\nP3;3\nP4;--\nP5;5\nP6;6\nP7;7\nP8;8\nPS;Shield",
        OPEN_4,
        "continuous",
    ),
    "a key a contact, none for the screen": (
        'far = ["P1", "P2", "P3", "P4", "P5", "P6", "P7", "P8", "PS"]',
        "",
        "P1;1\nP2;2\nP3;4\nP4;5\nP5;3\nP6;6\nP7;7\nP8;8",
        CROSSED,
        None,
    ),
    "a line a wire": (
        'pins = "W"',
        'between_ends = ";"',
        "".join(f"W;{near};{far}\n" for near, far in CROSSED) + "W;Schirm;Schirm",
        CROSSED,
        "continuous",
    ),
}


def _dialect(fields: str, table: str) -> str:
    label = 'link.label = "Link"'
    with_fields = changed(LEAST, label, f"{label}\nresults.wire_map.{fields}")
    return f"{with_fields}[wire_map]\n{table}\n"


@pytest.mark.parametrize("name", FORMS)
def test_each_form_is_read(name: str, tmp_path: Path) -> None:
    fields, table, lines, pins, screen = FORMS[name]
    document, told = _read(tmp_path, lines, _dialect(fields, table))
    assert told == []
    found = document["results"]["wire_map"]
    assert found["pins"] == pins
    assert found.get("screen") == screen
    assert "extra" not in document
    (margin,), _ = judge_wire_map(document, RULE, screened=screen is not None)
    right = pins == STRAIGHT and screen != "open"
    assert margin.outcome is (Outcome.PASS if right else Outcome.FAIL)


MISTAKES: dict[str, tuple[str, str, Lines, tuple[str, ...]]] = {
    "a list of 7": ('far = "F"', "", "F;1 2 3 4 5 6 7", ("7 far contacts", "1 to 8", "map.near")),
    "two lists of other length": (
        'near = "N"\nresults.wire_map.far = "F"',
        "",
        "N;1 2 3 4 5 6 7 8 S\nF;1 2 3 4 5 6 7 8",
        ("9 contacts at the near end and 8 at the far end", "fields.results.wire_map.near"),
    ),
    "a wire twice": (
        'pins = "W"',
        "",
        "W;1-1 2-2 3-3 3-3 5-5 6-6 7-7 8-8",
        ("from '3' to '3' stands in it twice",),
    ),
    "the screen open and not": ('pins = "W"', 'open = "x"', "W;1-1 S-S S-x", ("both reach",)),
    "a mark nobody declared": (
        'far = "F"',
        "",
        "F;1 2 3 x 5 6 7 8",
        ("from 'x 5 6 7 8' on", "wire_map.open"),
    ),
    "no list for the near end": (
        'near = "N"\nresults.wire_map.far = "F"',
        "",
        "F;1 2 3 4 5 6 7 8",
        ("nothing stands at the key of fields.results.wire_map.near",),
    ),
    "a key a contact, one lacking": (
        'far = ["P1", "P2", "P3", "P4", "P5", "P6", "P7", "P8", "PS"]',
        "",
        "P1;1\nP2;2\nP3;3\nP5;5\nP6;6\nP7;7\nP8;8",
        ("nothing stands for a contact", "wire_map.open"),
    ),
    "a contact that is none of eight": (
        'far = "F"',
        "",
        "F;1 2 3 4 5 6 7 9",
        ("from '9' on", "wire_map.between_wires"),
    ),
    "the pairs of four lengths": (
        'pins = "W"',
        "",
        "W;1-2\nW;3-6\nW;4-5\nW;7-8",
        ("no wire in it leads to the contact of its own number", "none begins at 2", "map.pins"),
    ),
    "the contacts of pairs in two lists": (
        'near = "N"\nresults.wire_map.far = "F"',
        "",
        "N;1 3 4 7 S\nF;2 6 5 8 S",
        ("no wire in it leads to the contact of its own number", "fields.results.wire_map.near"),
    ),
    "the numbers of two pairs each": (
        'pins = "W"',
        'between_ends = "/"\nbetween_wires = ","',
        "W;1/2, 1/3, 1/4, 2/3, 2/4, 3/4",
        ("none begins at 4", "numbers"),
    ),
    "contacts of one end for wires": (
        'pins = "W"',
        "",
        "W;1 2 3 4 5 6 7 8",
        ("reads as contacts of one end", "fields.results.wire_map.far"),
    ),
}


@pytest.mark.parametrize("name", MISTAKES)
def test_what_reads_otherwise_is_told_and_kept_as_stated(name: str, tmp_path: Path) -> None:
    fields, table, lines, said = MISTAKES[name]
    document, (told,) = _read(tmp_path, lines, _dialect(fields, table))
    assert set(document["results"]["wire_map"]) == {"as_stated"}
    for line in lines.split("\n"):
        assert line.partition(";")[2] in document["results"]["wire_map"]["as_stated"]
    assert all(words in told for words in said), told


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("1-3 2-6 3-1 6-2 4-7 5-8 7-4 8-5", "pin 1 goes to 3, not to 1"),
        ("1-2 2-1 3-3 5-5 6-6 7-7 8-8", "pin 1 goes to 2, not to 1"),
    ],
    ids=["none of eight straight", "one left out, the others straight"],
)
def test_a_map_that_may_be_one_is_read_however_wrong_the_wires_are(
    text: str, reason: str, tmp_path: Path
) -> None:
    document, told = _read(tmp_path, f"W;{text}", _dialect('pins = "W"', ""))
    assert told == []
    (margin,), _ = judge_wire_map(document, RULE, screened=False)
    assert margin.outcome is Outcome.FAIL
    assert margin.reason.startswith(reason)


def test_a_contact_in_two_wires_is_a_short(tmp_path: Path) -> None:
    """As `record-1.md` says; it fails, whether the tester meant it or miswrote it."""
    document, told = _read(tmp_path, "F;1 2 3 3 5 6 7 8", _dialect('far = "F"', ""))
    assert told == []
    (margin,), _ = judge_wire_map(document, RULE, screened=False)
    assert (margin.outcome, margin.reason) == (Outcome.FAIL, "pin 4 goes to 3, not to 4")


def test_a_screen_that_touches_a_contact_is_told(tmp_path: Path) -> None:
    """Left out it would leave a straight map, and no record has a place for it."""
    text = "1-1 2-2 3-3 3-S 4-4 5-5 6-6 7-7 8-8 S-S"
    document, (told,) = _read(tmp_path, f"W;{text}", _dialect('pins = "W"', ""))
    assert document["results"]["wire_map"] == {"as_stated": text}
    assert "3 leads to S: a screen that touches a contact" in told
    (margin,), _ = judge_wire_map(document, RULE, screened=True)
    assert margin.outcome is Outcome.UNDECIDED


@pytest.mark.parametrize(
    ("word", "said", "kept", "notes"),
    [
        ("yes", "S-S", "continuous", 0),
        ("no", "S-S", None, 1),
        ("yes", "S-x", None, 1),
        ("none", "S-x", "none", 0),
        ("no", "7-7", "open", 0),
    ],
)
def test_a_word_for_the_screen_and_its_wire_must_agree(
    word: str, said: str, kept: str | None, notes: int, tmp_path: Path
) -> None:
    fields = 'pins = "W"\nresults.wire_map.screen = "Screen"'
    words = 'open = "x"\n[words.screens]\ncontinuous = "yes"\nopen = "no"\nnone = "none"'
    document, told = _read(tmp_path, f"W;1-1 {said}\nScreen;{word}", _dialect(fields, words))
    assert document["results"]["wire_map"].get("screen") == kept
    assert len(told) == notes
    assert all("words.screens" in text and "neither is taken" in text for text in told)


@pytest.mark.parametrize(
    ("fields", "table", "said"),
    [
        ('pins = "W"\nresults.wire_map.far = "F"', "", "stands beside neither near nor far"),
        ('near = "N"', "", "needs fields.results.wire_map.far"),
        ('far = "F"', 'open = "7"', "'7' is the number of a contact"),
        ('far = "F"', 'open = "n/a"\nscreen = "n/a"', "a word of wire_map.screen as well"),
        ('far = "F"', 'between_wires = ""\nopen = ""', "needs a text between contacts"),
    ],
)
def test_a_form_that_contradicts_itself_is_refused(fields: str, table: str, said: str) -> None:
    with pytest.raises(BadDialect, match="cannot be used") as refused:
        parse(_dialect(fields, table).encode(), "bad.toml")
    assert said in str(refused.value)


def test_a_word_of_the_dialect_comes_before_those_that_are_known() -> None:
    form = wires.form_of({"open": "S"})
    assert wires.read({PINS: ["1-1 2-S"]}, form).pins == (("1", "1"), ("2", None))
    with pytest.raises(wires.Unread, match="a screen that touches"):
        wires.read({PINS: ["1-1 2-S"]}, wires.WireForm())


def test_long_texts_end_soon() -> None:
    text = "1-1 " * 100_000
    with pytest.raises(wires.Unread):
        wires.read({PINS: [text]}, wires.WireForm())
    with pytest.raises(wires.Unread):
        wires.read({NEAR: ["1 2"], FAR: [" " * 10_000]}, wires.WireForm())


def test_many_wires_end_soon_and_are_told() -> None:
    """Told by their number, without a look at each for each: that would take a minute."""
    many = [f"{near}-{far}" for near in range(1, 100) for far in range(1, 100)] * 4
    begun = time.process_time()
    with pytest.raises(wires.Unread, match="stands in it twice"):
        wires.read({PINS: many}, wires.WireForm())
    with pytest.raises(wires.Unread, match=r"it has 9,801 wires, where 64 is the most"):
        wires.read({PINS: many[:9801]}, wires.WireForm())
    assert time.process_time() - begun < 5.0
    assert len(wires.read({PINS: many[:64]}, wires.WireForm()).pins) == 64


def test_of_a_long_map_the_beginning_is_shown_and_the_whole_kept(tmp_path: Path) -> None:
    text = "1-1 2-2 " * 10_000
    document, (told,) = _read(tmp_path, f"W;{text.strip()}", _dialect('pins = "W"', ""))
    stated = document["results"]["wire_map"]["as_stated"]
    assert stated == f"{text[:2000]}..."
    assert document["extra"] == {"W": text.strip()}
    assert len(told) < 1_000
    assert "kept as stated and whole in extra" in told


@pytest.mark.parametrize(("text", "worded"), [("Pin 3", True), ("gone", False), ("3;4", False)])
def test_words_around_a_contact_lead_to_where_these_are_declared(text: str, worded: bool) -> None:
    with pytest.raises(wires.Unread, match="does not read as contacts") as raised:
        wires.read({FAR: [text, *"2345678"]}, wires.WireForm())
    assert (f"within.{FAR} if words stand around contacts" in str(raised.value)) is worded
