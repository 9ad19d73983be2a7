"""The pairs of a stated worst case under a key of their own, in text tables and in XML."""

from pathlib import Path
from typing import Any

import pytest

from tests.drafts.drafting import draft_of, read
from tests.drafts.links import link, lists, wide

LINK = link("L-1", 35.5)
RAW = ("insertion_loss", "return_loss", "next", "fext", "acr_f")
LINES = """RL margin local;3,2
RL pair local;36
NEXT margin remote;2,2
NEXT pair remote;12+36
"""


def stated(document: dict[str, Any]) -> set[tuple[str, str | None, tuple[str, ...], float]]:
    """Parameter, end, pairs and margin of each stated worst case."""
    items = [(of, of["worst_margin"]["margin_db"]) for of in document["stated"]["items"]]
    return {
        (of["parameter"], of.get("end"), tuple(of.get("pairs", ())), margin) for of, margin in items
    }


def document(tmp_path: Path, lines: str, drafted: str = LINES) -> dict[str, Any]:
    """The record of an export with some key lines, by the draft of one with others."""
    text = wide(LINK, *RAW)
    draft = draft_of(tmp_path, text.replace("Outcome;PASS\n", f"Outcome;PASS\n{drafted}"))
    path = tmp_path / "export.csv"
    path.write_text(text.replace("Outcome;PASS\n", f"Outcome;PASS\n{lines}"), encoding="utf-8")
    (record,), problems = read(path, draft)
    assert problems == []
    return record.document


def test_key_lines(tmp_path: Path) -> None:
    """`wide` names the disturbed pair first."""
    found = document(tmp_path, LINES)
    assert stated(found) == {
        ("return_loss", "near", ("3-6",), 3.2),
        ("next", "far", ("3-6", "1-2"), 2.2),
    }
    assert found.get("extra", {}) == {}


def test_the_pair_of_another_end_is_told_and_the_margin_has_none(tmp_path: Path) -> None:
    whole = wide(LINK, *RAW).replace("Outcome;PASS\n", f"Outcome;PASS\n{LINES}")
    draft = draft_of(tmp_path, whole)
    path = tmp_path / "export.csv"
    path.write_text(whole.replace("RL pair local;36", "RL pair remote;36"), encoding="utf-8")
    (record,), (problem,) = read(path, draft)
    assert stated(record.document) == {
        ("return_loss", "near", (), 3.2),
        ("next", "far", ("3-6", "1-2"), 2.2),
    }
    assert record.document["extra"] == {"RL pair remote": "36"}
    assert "'RL pair remote' should say which pairs or end the worst_margin" in problem.message


@pytest.mark.parametrize("text", ["99", "12+36"])
def test_a_margin_is_of_no_pair_that_nothing_names(text: str, tmp_path: Path) -> None:
    """An unknown word, and two pairs where one is meant: whose margin it is cannot be told."""
    whole = wide(LINK, *RAW).replace("Outcome;PASS\n", f"Outcome;PASS\n{LINES}")
    draft = draft_of(tmp_path, whole)
    path = tmp_path / "export.csv"
    path.write_text(whole.replace("RL pair local;36", f"RL pair local;{text}"), encoding="utf-8")
    (record,), (problem,) = read(path, draft)
    assert stated(record.document) == {("next", "far", ("3-6", "1-2"), 2.2)}
    assert record.document["extra"] == {"RL pair local": text, "RL margin local": "3,2"}
    assert not problem.lost_record
    assert f"{text!r} should say which pairs and end the worst_margin" in problem.message
    assert (f"{text!r} is no declared word" in problem.message) is (text == "99")
    assert "words.pairs" in problem.message


def test_the_verdict_beside_such_a_margin_is_kept(tmp_path: Path) -> None:
    """A fail that is stated of the parameter is one, whichever pair it is of."""
    lines = LINES + "RL verdict local;FAIL\n"
    whole = wide(LINK, *RAW).replace("Outcome;PASS\n", f"Outcome;PASS\n{lines}")
    draft = draft_of(tmp_path, whole)
    path = tmp_path / "export.csv"
    path.write_text(whole.replace("RL pair local;36", "RL pair local;each"), encoding="utf-8")
    (record,), (problem,) = read(path, draft)
    (item,) = (of for of in record.document["stated"]["items"] if of["parameter"] != "next")
    assert (item["parameter"], item["end"], item["verdict"]) == ("return_loss", "near", "fail")
    assert "worst_margin" not in item
    assert "'each' is no declared word" in problem.message


def test_a_pair_without_a_worst_case_is_kept(tmp_path: Path) -> None:
    found = document(tmp_path, LINES.replace("RL margin local;3,2\n", ""))
    assert stated(found) == {("next", "far", ("3-6", "1-2"), 2.2)}
    assert found["extra"] == {"RL pair local": "36"}


@pytest.mark.parametrize(
    "summary",
    [
        "<RL_margin>3,2</RL_margin><RL_pair>1</RL_pair>"
        "<NEXT_margin>1,2</NEXT_margin><NEXT_pair>1-2</NEXT_pair>",
        "<s RL_margin='3,2' RL_pair='1' NEXT_margin='1,2' NEXT_pair='1-2'/>",
    ],
)
def test_elements_and_attributes(summary: str, tmp_path: Path) -> None:
    text = lists([LINK]).replace("</link>", f"<summary>{summary}</summary></link>")
    draft = draft_of(tmp_path, text, "export.xml")
    (record,), problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert stated(record.document) == {
        ("return_loss", None, ("4-5",), 3.2),
        ("next", None, ("4-5", "1-2"), 1.2),
    }
