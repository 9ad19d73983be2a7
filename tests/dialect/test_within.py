"""A field out of a longer text: what stands for {} fills it, and nothing of the text is lost."""

from contextlib import suppress
from pathlib import Path
from time import process_time

import pytest

from sweepbook.dialect.load import BadDialect, parse
from sweepbook.dialect.within import Form, SeveralWays
from tests.csv_format.dialects import LEAST, changed
from tests.drafts.drafting import draft_of, read
from tests.drafts.links import link, lists

FIELDS = 'link.label = "Link"\nlink.cable.nvp = "Remark"\nlink.cable.part = "Cable"\n'
FIELDS += 'link.cable.reel = "Cable"\n'
WITHIN = """
[within]
link.cable.nvp = ["NVP {}", "NVP={}"]
link.cable.part = ["{} (reel {any})", "Type {}"]
link.cable.reel = "{any} (reel {})"
[units]
nvp = "%"
"""
PLAIN = changed(LEAST, 'link.label = "Link"', FIELDS)
DIALECT = PLAIN + WITHIN


@pytest.mark.parametrize(
    ("form", "text", "taken"),
    [
        ("NVP {}", "NVP 70 %", "70 %"),
        ("NVP {}", "  NVP\t70 %", "70 %"),
        ("NVP {}", "NVP", None),
        ("NVP {}", "the NVP 70 %", None),
        ("{} (reel {any})", "K-7 (reel 12)", "K-7"),
        ("{any} (reel {})", "K-7 (reel 12)", "12"),
        ("{any}: {} %", "speed: 70 %", "70"),
        ("a.c {}", "abc 7", None),
    ],
)
def test_forms(form: str, text: str, taken: str | None) -> None:
    assert Form(form).take(text) == taken


@pytest.mark.parametrize(
    ("form", "text", "taken"),
    [
        ("Result {}, before Result {any}", "Result FAIL, before Result PASS", "FAIL"),
        ("{any}Result {}", "Result FAIL", "FAIL"),
        ("{any}, {any} of {}", "A, B, C of D", "D"),
        ("{} of {any}, {any}", "D of A, B, C", "D"),
        ("x {}", "x  A\t 17 ", "A\t 17"),
        ("{any} of {}", "some of", None),
        ("aa{}aa", "aaa", None),
    ],
)
def test_forms_that_fit_in_one_way(form: str, text: str, taken: str | None) -> None:
    assert Form(form).take(text) == taken


@pytest.mark.parametrize(
    ("form", "text"),
    [
        ("{any}Result {}", "Result FAIL, before Result PASS"),
        ("{any}Result {} {any}", "Result FAIL last Result PASS before"),
        ("{}-{any}", "A-17-B-18"),
        ("{any}-{}", "A-17-B-18"),
        ("{any} {} x", "A 17 B x"),
        ("{any}aa{}", "aaab"),
    ],
)
def test_forms_that_fit_in_several_ways_tell_nothing(form: str, text: str) -> None:
    with pytest.raises(SeveralWays):
        Form(form).take(text)


@pytest.mark.parametrize(
    "form", ["{} (reel {any})", "{any} of {any} (reel {})", "{any} ( {} ) {any}"]
)
@pytest.mark.parametrize("text", ["K (reel ", " ", "of ", "( ", "x"])
def test_the_time_for_a_text_grows_as_its_length_does(form: str, text: str) -> None:
    """Ten times the length takes ten times as long, give or take; a hundred times would fail."""
    taken = []
    for length in (5_000, 50_000):
        cell = f"a{text * (length // len(text))}b"
        times = []
        for _ in range(3):
            begun = process_time()
            with suppress(SeveralWays):
                Form(form).take(cell)
            times.append(process_time() - begun)
        taken.append(min(times))
    assert taken[1] < 40 * taken[0] + 0.01


def test_fields_are_parts_of_texts(tmp_path: Path) -> None:
    text = "Link;L-1\nRemark;NVP 70 %\nCable;K-7 (reel 12)\n\nMHz;IL 1-2\n1;1.5\n2;1.9\n"
    (tmp_path / "export.csv").write_text(text, encoding="utf-8")
    (record,), problems = read(tmp_path / "export.csv", DIALECT)
    assert problems == []
    cable = record.document["link"]["cable"]
    assert cable == {"nvp": 0.7, "nvp_decimals": 2, "part": "K-7", "reel": "12"}
    assert record.document["extra"] == {"Cable": "K-7 (reel 12)"}


@pytest.mark.parametrize("remark", ["70 %", "speed 70 %", "NVP 170 %"])
def test_another_form_is_told_and_kept(remark: str, tmp_path: Path) -> None:
    text = f"Link;L-1\nRemark;{remark}\n\nMHz;IL 1-2\n1;1.5\n2;1.9\n"
    (tmp_path / "export.csv").write_text(text, encoding="utf-8")
    (record,), (problem,) = read(tmp_path / "export.csv", DIALECT)
    assert "nvp" in problem.message
    assert record.document["extra"] == {"Remark": remark}
    assert "cable" not in record.document["link"]


@pytest.mark.parametrize(
    ("stated", "said"),
    [
        ("Outcome FAIL", "'Outcome FAIL' is not of the form 'Result {}'"),
        (
            "Result FAIL - Result PASS",
            "'Result FAIL - Result PASS' is of the form '{any}Result {}' in",
        ),
        ("Result bad", "'bad' is no declared verdict"),
    ],
)
def test_a_verdict_of_another_form_loses_the_test(stated: str, said: str, tmp_path: Path) -> None:
    """Kept aside it would be no verdict, and a test that fails would be told by its curves."""
    form = "{any}Result {}" if " - " in stated else "Result {}"
    dialect = changed(LEAST, 'link.label = "Link"', 'link.label = "Link"\nstated.overall = "Told"')
    dialect += f'[within]\nstated.overall = "{form}"\n[words.verdicts]\nfail = "FAIL"\n'
    text = f"Link;L-1\nTold;{stated}\n\nMHz;IL 1-2\n1;1.5\n2;1.9\n"
    (tmp_path / "export.csv").write_text(text, encoding="utf-8")
    records, (problem,) = read(tmp_path / "export.csv", dialect)
    assert records == []
    assert said in problem.message


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ('link.cable.nvp = "NVP"', "is to hold {} once"),
        ('link.cable.nvp = "{}"', "is to hold {} once"),
        ('link.cable.nvp = "{} and {}"', "is to hold {} once"),
        ('link.cable.nvp = "NVP {}{any}"', "a blank between {} and {any}"),
        ('link.cable.nvp = "{any}{any} NVP {}"', "a blank between {} and {any}"),
        ('link.cable.maker = "by {}"', "there is no fields.link.cable.maker"),
    ],
)
def test_what_is_no_form_is_refused(line: str, said: str) -> None:
    with pytest.raises(BadDialect, match="within") as refused:
        parse(f"{PLAIN}\n[within]\n{line}\n".encode(), "w")
    assert said in str(refused.value)


@pytest.mark.parametrize("text", ["NVP 70 %", "NVP: 70,0 %", "nvp=70%", "NVP 0,70"])
def test_drafts_take_the_velocity_out_of_a_text(text: str, tmp_path: Path) -> None:
    export = lists([link("L-1", 35.5)]).replace("<started>", f"<info>{text}</info><started>")
    draft = draft_of(tmp_path, export, "export.xml")
    (record,), problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert record.document["link"]["cable"]["nvp"] == 0.7
