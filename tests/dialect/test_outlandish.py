"""A stated figure that nothing measured comes to is told with the keys to change, and kept."""

from pathlib import Path

import pytest

from tests.drafts.drafting import draft_of, read
from tests.drafts.links import link, lists
from tests.program import run

LINKS = [link("L-1", 35.5), link("L-2", 80.0)]


def export(margin: str, frequency: str = "100000000") -> str:
    text = lists(LINKS)
    case = f'<worst kind="RL" side="local" pair="1" margin="{margin}" frequency="{frequency}"/>'
    text = text.replace("</link>", f"{case}</link>")
    return text.replace("</link>", case.replace('"1"', '"2"') + "</link>")


DRAFTED = export("9,73")


@pytest.mark.parametrize(
    ("text", "read_as", "told"),
    [
        (export("973"), "973 dB", "units.loss"),
        (export("-973"), "-973 dB", "units.loss"),
        (export("9,73", "100,0"), "0.0001 MHz", "units.frequency"),
    ],
)
def test_a_figure_out_of_all_bounds_is_told_and_kept(
    text: str, read_as: str, told: str, tmp_path: Path
) -> None:
    draft = draft_of(tmp_path, DRAFTED, "export.xml")
    (tmp_path / "export.xml").write_text(text, encoding="utf-8")
    records, problems = read(tmp_path / "export.xml", draft)
    messages = [one.message for one in problems if "worst_margin" in one.message]
    assert len(messages) == len(records) == len(LINKS)
    for message in messages:
        assert f"is {read_as} (and 1 more)" in message
        assert told in message
    for record in records:
        assert len(record.document["stated"]["items"]) == len("12")


def test_usual_ones_are_not(tmp_path: Path) -> None:
    for margin in ("9,73", "-60", "0", "119,9"):
        draft = draft_of(tmp_path, export(margin), "export.xml")
        _, problems = read(tmp_path / "export.xml", draft)
        assert problems == []


def test_gathering_tells_of_it(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, export("973"), "export.xml")
    (tmp_path / "mine.toml").write_text(draft, encoding="utf-8")
    source = tmp_path / "export.xml"
    result = run("gather", tmp_path / "book", source, "--dialect", tmp_path / "mine.toml")
    assert result.exit_code == 1
    assert "the worst_margin.margin of" in " ".join(result.output.split())
