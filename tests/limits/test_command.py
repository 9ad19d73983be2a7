"""`sweepbook limits`: what a person sees, and what a program reads."""

import json

import pytest

from sweepbook.cli.program import main
from sweepbook.limits.interpretations import Interpretations
from sweepbook.limits.library import Library

PATHS = Library.load().paths()


def run(*args: str) -> int:
    """Run the program as a shell would; the exit code."""
    with pytest.raises(SystemExit) as left:
        main(["limits", *args])
    assert isinstance(left.value.code, int)
    return left.value.code


def test_the_list_shows_every_table(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("list") == 0
    shown = capsys.readouterr().out
    assert all(path in shown for path in PATHS)
    assert "Category 8: Equations of crosstalk" in " ".join(shown.split())


def test_the_list_as_a_document(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("list", "--json") == 0
    shown = json.loads(capsys.readouterr().out)
    assert [row["path"] for row in shown["limits"]] == list(PATHS)
    assert [entry["missing"] != "" for entry in shown["not_usable"]] == [True, True]


@pytest.mark.parametrize("path", PATHS)
@pytest.mark.parametrize("columns", [80, 140])
def test_a_table_is_shown_within_the_terminal(
    path: str, columns: int, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    assert run("show", path) == 0
    lines = capsys.readouterr().out.splitlines()
    assert max(map(len, lines)) <= columns
    text = " ".join(" ".join(lines).split())
    table = Library.load().table(path)
    assert table.sha256 in "".join(text.split())
    for limit in table.parameters.values():
        assert (f"{limit.title} ({limit.parameter})" in text) == (limit.grade < "D")
    for source in table.sources.values():
        assert source.split()[0] in text


def test_a_table_is_found_by_the_name_people_use(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("show", "TIA Cat 6A channel", "--json") == 0
    shown = json.loads(capsys.readouterr().out)
    assert dict(shown["facts"])["path"] == "tia-568.2-d/cat6a/channel"
    assert {p["parameter"] for p in shown["parameters"]} >= {"next", "length", "psaacr_f"}


@pytest.mark.parametrize(
    ("spelling", "said"), [("Cat 6A", "Say which, by its path."), ("Cat 9", "limits list")]
)
def test_an_unclear_name_is_refused_with_what_to_do(
    spelling: str, said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("show", spelling) == 3
    shown = capsys.readouterr()
    assert shown.out == ""
    assert said in shown.err


def test_the_readings_are_listed(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("interpretations", "--json") == 0
    rows = json.loads(capsys.readouterr().out)["interpretations"]
    assert [row["id"] for row in rows] == list(Interpretations.load().ids())
    assert run("interpretations") == 0
    assert "return-loss-below-3-db (on; tia, iso)" in capsys.readouterr().out
