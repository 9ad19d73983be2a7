"""A trial tells of verdicts and margins that a dialect left over; drafts know words for none."""

from pathlib import Path

import pytest

from sweepbook.trial.stated_left import Left, rows_of, stated
from tests.program import run

from .drafting import draft_of, read
from .links import PAIRS, link, lists

LINKS = [link("L-1", 35.5)]
DECLARED = {"good": "pass", "bad": "fail", "untested": "none"}


def judged(status: str = "not tested") -> str:
    """A verdict on each curve, and a resistance that was not measured, which a status says."""
    text = lists(LINKS).replace("<sweep ", '<sweep status="good" ')
    rows = "".join(
        f'<figure kind="Resistance" pair="{number}" status="{status}" unit="ohm">---</figure>'
        f'<figure kind="Delay" pair="{number}" status="good" unit="ns">174</figure>'
        for number, _ in enumerate(PAIRS, 1)
    )
    return text.replace("</link>", rows + "</link>")


@pytest.mark.parametrize(
    "status", ["not tested", "nicht gemessen", "non misurato", "n/a", "informative"]
)
def test_a_status_that_says_there_is_none_is_no_verdict(status: str, tmp_path: Path) -> None:
    draft = draft_of(tmp_path, judged(status), "export.xml")
    assert f'none = "{status}"' in draft
    (record,), problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    stated_of = [
        item["verdict"] for item in record.document["stated"]["items"] if "verdict" in item
    ]
    assert stated_of == ["pass"] * (len(LINKS[0].curves) + len(PAIRS))
    kinds = {one["parameter"] for one in record.document["results"]["scalars"]}
    assert kinds == {"length", "propagation_delay"}


def test_a_trial_tells_of_verdicts_that_were_left_over(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, judged(), "export.xml")
    (tmp_path / "mine.toml").write_text(draft, encoding="utf-8")
    result = run("dialect", "try", tmp_path / "mine.toml", tmp_path / "export.xml")
    assert "left over, so that" not in " ".join(result.output.split())
    without = draft.replace('verdict = "@status"\n', 'accuracy = "@accuracy"\n')
    assert without != draft
    (tmp_path / "mine.toml").write_text(without, encoding="utf-8")
    result = run("dialect", "try", tmp_path / "mine.toml", tmp_path / "export.xml")
    told = " ".join(result.output.split())
    assert result.exit_code == 1
    assert "Stated verdicts were left over, so that nothing is held against them" in told


@pytest.mark.parametrize(
    ("key", "text", "left"),
    [
        ("curve/@status", "good\ngood\nbad", ("verdict", {"good": 2, "bad": 1})),
        ("curve/@status", "PASS\nFAIL", ("verdict", {"PASS": 1, "FAIL": 1})),
        ("curve/@status", "untested\nuntested", None),
        ("NEXT margin row", "3.2 12-36 good", ("verdict", {"good": 1})),
        ("remark", "all is good", None),
        ("case/margin", "3.2\n4.1", ("margin", {"3.2": 1, "4.1": 1})),
        ("cable/@screened", "yes\nyes", None),
        ("case/note", "3.2", None),
        ("worst/end/@xsi:nil", "true\ntrue", None),
        ("Result", "good good bad untested", ("verdict", {"good": 2, "bad": 1})),
        ("Result", "good good\nuntested untested", ("verdict", {"good": 2})),
        ("Result", "untested untested", None),
        ("Remark", "good and bad", None),
        ("RL margin", "3", None),
        ("RL margin pair", "7", None),
        ("RL margin pair 1-2", "2.5", ("margin", {"2.5": 1})),
        ("RL margin", "7", ("margin", {"7": 1})),
    ],
)
def test_what_is_stated(key: str, text: str, left: tuple[str, dict[str, int]] | None) -> None:
    assert list(stated({key: text}, DECLARED, ("1", "2", "3", "4"))) == (
        [Left(key, *left)] if left else []
    )


def test_notes_on_a_test_that_is_read_end_no_trial(tmp_path: Path) -> None:
    text = lists(LINKS)
    draft = draft_of(tmp_path, text, "export.xml")
    (tmp_path / "mine.toml").write_text(draft, encoding="utf-8")
    sweep = text[text.index("<sweep ") : text.index("</sweep>") + len("</sweep>")]
    kind = sweep.partition('kind="')[2].partition('"')[0]
    odd = "".join(sweep.replace(f'"{kind}"', f'"odd {number}"', 1) for number in range(30))
    (tmp_path / "export.xml").write_text(text.replace("</link>", odd + "</link>"), encoding="utf-8")
    _, problems = read(tmp_path / "export.xml", draft)
    assert len(problems) == 30
    result = run("dialect", "try", tmp_path / "mine.toml", tmp_path / "export.xml")
    assert "The first test that" in result.output


def test_a_trial_tells_of_a_unit_beside_what_is_read_in_another_one(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, judged().replace('unit="ns">174', 'unit="us">0.174'), "export.xml")
    without = draft.replace(', "@unit" = "{unit}"', "")
    assert without != draft
    told = []
    for text in (draft, without, without.replace('delay = "us"', 'delay = "ns"')):
        (tmp_path / "mine.toml").write_text(text, encoding="utf-8")
        result = run("dialect", "try", tmp_path / "mine.toml", tmp_path / "export.xml")
        told.append("says 'us', while each delay is read in ns" in " ".join(result.output.split()))
    assert told == [False, False, True]


def test_a_long_row_of_verdicts_is_looked_at_once() -> None:
    """By words that begin as others do; as often as they can be parted, it would never end."""
    rows = rows_of({"PASS": "pass", "MARGINAL PASS": "pass*", "MARGINAL": "pass*"})
    row = "MARGINAL PASS " * 60
    assert rows.fullmatch(f"{row}PASS")
    assert not rows.fullmatch(f"{row}by hand")
