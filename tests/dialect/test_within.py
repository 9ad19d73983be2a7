"""A field out of a longer text: what stands for {} fills it, and nothing of the text is lost."""

from pathlib import Path

import pytest

from sweepbook.dialect.load import BadDialect, parse
from sweepbook.dialect.within import Form
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
    ("line", "said"),
    [
        ('link.cable.nvp = "NVP"', "is to hold {} once"),
        ('link.cable.nvp = "{}"', "is to hold {} once"),
        ('link.cable.nvp = "{} and {}"', "is to hold {} once"),
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
