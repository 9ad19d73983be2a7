"""Labels taken apart: by hand, and the guide's scheme against the schedule of the demo's model."""

import csv
import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sweepbook.label_template import Misfit, names, taken_apart, template
from sweepbook.schedule.label_scheme import BadLabelScheme, LabelScheme, load, parse
from sweepbook.schedule.model import End
from tests.guide import blocks
from tests.program import DEMO, run

HEAD = 'schema = "urn:sweepbook:label-scheme-0"\nname = "ours"\n'


def _scheme(*templates: str) -> LabelScheme:
    return parse(HEAD + "".join(f'[[labels]]\ntemplate = "{t}"\n' for t in templates), "s.toml")


def guides() -> LabelScheme:
    """The scheme that the guide shows."""
    (block,) = [block for block in blocks("toml") if 'name = "library labels"' in block]
    return parse(block, "guide")


@pytest.mark.parametrize(
    ("text", "label", "pieces"),
    [
        ("{a}-{b}-{c}", "K1-P2-07", {"a": "K1", "b": "P2", "c": "07"}),
        ("{floor}{room}-{port}", "2A-7", {"floor": "2", "room": "A", "port": "7"}),
        ("{floor}{room}-{port}", "12B-7", {"floor": "12", "room": "B", "port": "7"}),
        ("{wing}{floor}-{port}", "AB12-7", {"wing": "AB", "floor": "12", "port": "7"}),
        ("{floor:1 digit}{room:2 digits}", "307", {"floor": "3", "room": "07"}),
        ("{floor:2 characters}{rest:characters}", "B1/7 x", {"floor": "B1", "rest": "/7 x"}),
        ("{room:characters} - {port}", "Map Store - 7", {"room": "Map Store", "port": "7"}),
        ("PW-{floor:digits}", "PW-1", {"floor": "1"}),
        ("{hall}-{port}", "Grüße-1", {"hall": "Grüße", "port": "1"}),
    ],
)
def test_a_label_is_taken_apart(text: str, label: str, pieces: dict[str, str]) -> None:
    assert taken_apart(template(text), label) == pieces


@pytest.mark.parametrize(
    ("text", "label", "at"),
    [
        ("{a}-{b}", "K1", 2),
        ("{a}-{b}", "K1-", 3),
        ("{a}-{b}", "K1-P1-07", 5),
        ("{a}-{b}", "-1", 0),
        ("{a}{b}-{c}", "-1-2", 0),
        ("{a:digits}-{b}", "A-1", 0),
        ("{a:2 digits}", "7", 0),
        ("{a:2 digits}", "777", 2),
        ("{a:digits}", "\u0661", 0),  # a digit of another script
        ("PW-{a}", "pw-1", 0),
        ("{a:characters}-{b}", "AB", 2),
    ],
)
def test_where_a_label_stops_fitting_is_told(text: str, label: str, at: int) -> None:
    told = taken_apart(template(text), label)
    assert isinstance(told, Misfit)
    assert told.at == at


@given(st.lists(st.from_regex(r"[A-Za-z0-9]{1,4}", fullmatch=True), min_size=1, max_size=6))
def test_what_marks_hold_apart_comes_back(parts: list[str]) -> None:
    parsed = template("-".join(f"{{p{n}}}" for n in range(len(parts))))
    assert taken_apart(parsed, "-".join(parts)) == dict(zip(names(parsed), parts, strict=True))


@given(st.text(alphabet="A1-. ", max_size=12))
def test_pieces_and_marks_make_the_whole_label_again(label: str) -> None:
    """Whatever fits was cut without a rest: the pieces put back give the label."""
    told = taken_apart(template("{a}{b}-{c}.{d:characters}"), label)
    if not isinstance(told, Misfit):
        assert f"{told['a']}{told['b']}-{told['c']}.{told['d']}" == label


def test_a_long_label_takes_no_longer_than_it_is_long() -> None:
    """A pattern that goes back would not come to an end here."""
    text = "-".join(f"{{a{n}:characters}}" for n in range(60)) + "!"
    assert isinstance(taken_apart(template(text), "-" * 100_000), Misfit)


@pytest.mark.parametrize(
    ("content", "told"),
    [
        ('[[labels]]\ntemplate = "{a}"', "nothing is said of an end"),
        ('[[labels]]\ntemplate = "{from_floor}-{from_floor}"', "'from_floor' comes twice"),
        ('[[labels]]\ntemplate = "{from_floor"', "not closed"),
        ('[[labels]]\ntemplate = "{from_floor:hex}"', "is no piece"),
        ('[[labels]]\ntemplate = "{From}"', "is no piece"),
        ('[[labels]]\ntemplate = "{from_floor:digits}{from_port:digits}"', "nothing says where"),
        ('[[labels]]\ntemplate = "{from_floor:characters}{from_port}"', "nothing says where"),
        ('[[labels]]\ntemplate = "{a}"\nends = {from_floor = "{b}"}', "no piece 'b'; there are: a"),
        ('[[labels]]\ntemplate = "{a}"\nends = {from_flor = "{a}"}', "from_flor"),
        ('[[labels]]\ntemplte = "{a}"', "did you mean 'template'"),
        ("labels = []", "labels"),
        ("labels = [", "no TOML"),
    ],
)
def test_a_scheme_that_cannot_be_used_says_why(content: str, told: str) -> None:
    with pytest.raises(BadLabelScheme, match=re.escape(told)):
        parse(HEAD + content, "s.toml")


def test_a_file_that_is_no_text_is_told(tmp_path: Path) -> None:
    path = tmp_path / "s.toml"
    path.write_bytes(b"name = '\xff'")
    with pytest.raises(BadLabelScheme, match="not UTF-8"):
        load(path)
    with pytest.raises(BadLabelScheme, match="cannot be opened"):
        load(tmp_path)


def test_the_first_kind_that_fits_counts_and_both_ends_may_be_told() -> None:
    scheme = _scheme("{from_panel}-{to_termination}", "{from_space}")
    assert scheme.ends(" P1-07 ") == (End({"panel": "P1"}), End({}, "07"))
    assert scheme.ends("Attic") == (End({"space": "Attic"}), End())
    assert scheme.ends("P1-07-x") is None
    assert scheme.misfit("Attic") == ""
    told = scheme.misfit("P1-07-x")
    assert "at character 6 stands '-x', expected is the end of the label" in told


def test_the_guides_scheme_tells_what_the_demos_schedule_says() -> None:
    scheme, fitting = guides(), 0
    with (DEMO / "schedule.csv").open(encoding="utf-8", newline="") as stream:
        for row in csv.DictReader(stream):
            told = scheme.ends(row["label"])
            if row["from building"] == "Printworks":
                assert told is None
                continue
            assert told is not None
            fitting += 1
            for level, text in told[0].place.items():
                assert text == row[f"from {level}"]
            assert told[0].termination in ("", row["from termination"])
            assert told[1] == End()
    assert fitting == 20


def test_reconcile_sorts_links_by_what_their_labels_say(demo_book: Path, tmp_path: Path) -> None:
    schedule, scheme = tmp_path / "s.csv", tmp_path / "labels.toml"
    schedule.write_text("label\n7Z-P1-01\nX9\n")
    scheme.write_text(guides().content)
    result = run("reconcile", demo_book, "--schedule", schedule, "--label-scheme", scheme)
    assert "7Z-P1-01  Main House / 7 / TR-7Z / P1 / 01" in result.stdout
    assert "'PW-1-01' does not fit the label scheme library labels" in result.stderr
    assert "other labels do not fit it either" in " ".join(result.stderr.split())
    plain = run("reconcile", demo_book, "--schedule", schedule)
    assert "TR-7Z" not in plain.output
    assert "does not fit" not in plain.output


def test_a_scheme_that_is_none_is_told_before_anything_is_written(
    demo_book: Path, tmp_path: Path
) -> None:
    bad = tmp_path / "labels.toml"
    bad.write_text("name = 3")
    target = tmp_path / "a.sqlite"
    result = run("export", demo_book, "--label-scheme", bad, "--to", "as-built", "-o", target)
    assert result.exit_code == 3
    assert "labels.toml cannot be used" in result.stderr
    assert not target.exists()


def test_the_forms_that_the_guide_recalls_tell_both_ends() -> None:
    """Identifiers of ANSI/TIA-606 and ISO/IEC TR 14763-2-1, from memory, as the guide says."""
    (block,) = [block for block in blocks("toml") if "TIA-606" in block]
    scheme = parse(block, "guide")
    near = End({"floor": "1", "space": "1A", "panel": "A", "port": "47"})
    assert scheme.ends("1A-A47") == (near, End())
    ends = End({"floor": "1", "space": "1A"}), End({"floor": "10", "space": "10B"})
    assert scheme.ends("1A/10B-03") == ends
    assert scheme.ends("1A-47") is None
    here = End({"floor": "1", "space": "1A", "cabinet": "AD02", "unit": "35", "port": "03"})
    there = End({"floor": "2", "space": "2C", "cabinet": "BC07", "unit": "12", "port": "11"})
    assert scheme.ends("1A.AD02-35:03/2C.BC07-12:11") == (here, there)
    assert scheme.ends("1A.AD02-35:03") == scheme.ends("+1A.AD02-35:03") == (here, End())
    assert scheme.ends("1A.AD02-35") is None
