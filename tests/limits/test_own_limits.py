"""A contract's own limits from the command line, and the examples of their page."""

import json
import re
from collections.abc import Callable
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest

from sweepbook.cli.limits_check import HELP
from sweepbook.cli.program import main
from sweepbook.limits.library import Library

PAGE = files("sweepbook_schemas").joinpath("limits-0.md").read_text("utf-8")
EXAMPLES = [json.loads(text) for text in re.findall(r"```json\n(.*?)```", PAGE, re.DOTALL)]
IN_HELP: dict[str, Any] = json.loads(HELP[HELP.index("{") : HELP.rindex("}") + 1])


def run(*args: str | Path) -> int:
    """Run the program as a shell would; the exit code."""
    with pytest.raises(SystemExit) as left:
        main([str(arg) for arg in args])
    assert isinstance(left.value.code, int)
    return left.value.code


@pytest.fixture
def file(tmp_path: Path) -> Path:
    place = tmp_path / "contract.json"
    place.write_text(json.dumps(IN_HELP), encoding="utf-8")
    return place


@pytest.mark.parametrize("example", [*EXAMPLES, IN_HELP], ids=lambda e: e["path"])
def test_an_example_of_the_page_or_the_help_is_a_usable_table(
    example: dict[str, Any], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    place = tmp_path / "own.json"
    place.write_text(json.dumps(example), encoding="utf-8")
    assert run("limits", "check", place) == 0
    shown = capsys.readouterr().out
    assert "own.json is a usable limit table." in shown
    assert example["based_on"] in shown
    assert "nothing passes by it" not in " ".join(shown.split())


def test_the_page_names_every_member_of_a_parameter_and_every_shape() -> None:
    schema = json.loads(files("sweepbook_schemas").joinpath("limits-0.schema.json").read_bytes())
    defined = schema["$defs"]
    words = [*schema["properties"], *defined["parameter"]["properties"]]
    words += [*defined["segment"]["properties"], *defined["adjustment"]["properties"]]
    words += [name for name, made in defined.items() if "kind" in made.get("properties", {})]
    told = set(re.findall(r"`([a-z_0-9]+)`", PAGE)) | {"schema"}
    assert set(words) - told <= {"from_mhz", "to_mhz"}


def test_every_mistake_is_told_and_the_exit_code_says_so(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    broken = {**IN_HELP, "titel": IN_HELP["title"]}
    del broken["title"], broken["edition"]
    file.write_text(json.dumps(broken), encoding="utf-8")
    assert run("limits", "check", file) == 1
    shown = " ".join(capsys.readouterr().out.split())
    assert "contract.json is no usable limit table:" in shown
    assert "$ lacks title, edition" in shown
    assert "$ has titel, which is not known here" in shown


@pytest.mark.parametrize("change", [str, str.upper, lambda title: title.replace(",", " -")])
def test_the_title_of_a_standard_is_refused(
    change: Callable[[str], str], file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Easier limits under it would be taken for the standard's by whoever reads a report."""
    path = "tia-568.2-d/cat6a/permanent-link"
    title = change(Library.load().table(path).title)
    file.write_text(json.dumps(IN_HELP | {"title": title}), encoding="utf-8")
    assert run("limits", "check", file) == 1
    shown = " ".join(capsys.readouterr().out.split())
    assert f"which is that of {path}" in shown
    assert "Give it a title of its own" in shown


def test_the_answers_as_a_document(
    file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    bad = tmp_path / "bad.json"
    bad.write_text("{", encoding="utf-8")
    assert run("limits", "check", "--json", file, bad) == 1
    good, faulty = json.loads(capsys.readouterr().out)["files"]
    assert good["path"] == IN_HELP["path"]
    assert good["faults"] == []
    assert good["changes"] == [["next", "3 dB tighter"], ["psnext", "3 dB tighter"]]
    assert "it is no JSON at line 1" in faulty["faults"][0]


def test_a_file_may_be_based_on_the_one_before(
    file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    second = tmp_path / "second.json"
    other = {**IN_HELP, "path": "our-contract/second", "based_on": IN_HELP["path"]}
    second.write_text(json.dumps(other), encoding="utf-8")
    assert run("limits", "check", file, second) == 0
    assert run("limits", "check", second) == 1
    assert "there is no such table" in " ".join(capsys.readouterr().out.split())


@pytest.fixture
def export() -> tuple[Path, ...]:
    """One test of the demo, Category 6A permanent link, and how to read it."""
    demo = Path(str(files("sweepbook_demo")))
    dialect = demo / "dialects" / "brindlewick-heron-5.toml"
    return demo / "exports" / "heron-2A-P1-10.csv.gz", Path("--dialect"), dialect


def test_a_test_is_judged_by_the_contract(
    file: Path, export: tuple[Path, ...], capsys: pytest.CaptureFixture[str]
) -> None:
    def judged(*more: str | Path) -> dict[str, Any]:
        run("check", *export, "--json", *more)
        found: dict[str, Any] = json.loads(capsys.readouterr().out)
        return found

    plain = judged("--against", IN_HELP["based_on"])
    own = judged("--limits", file, "--against", IN_HELP["path"])
    (before,), (after,) = plain["records"], own["records"]
    assert after["limit"]["path"] == IN_HELP["path"]
    moved = {
        (old["parameter"], old["end"], tuple(old["pairs"])): old["worst_margin_db"]
        - new["worst_margin_db"]
        for old, new in zip(before["margins"], after["margins"], strict=True)
        if old["worst_margin_db"] is not None
    }
    assert moved
    for (parameter, _, _), by in moved.items():
        assert by == pytest.approx(3.0 if parameter in ("next", "psnext") else 0.0)
    digests = own["digests"]["limits"]
    assert digests.keys() == {IN_HELP["path"], IN_HELP["based_on"]}
    library = Library.load(tables=[file])
    assert digests == {path: library.table(path).sha256 for path in digests}


def test_a_faulty_file_is_refused_before_anything_is_judged(
    file: Path, export: tuple[Path, ...], capsys: pytest.CaptureFixture[str]
) -> None:
    file.write_text(json.dumps({**IN_HELP, "based_on": "no/such"}), encoding="utf-8")
    assert run("check", *export, "--limits", file) == 3
    told = capsys.readouterr()
    assert told.out == ""
    assert "contract.json is no usable limit table" in told.err
    assert "sweepbook limits check" in told.err


def test_list_and_show_take_the_file_as_well(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("limits", "list", "--limits", file) == 0
    assert IN_HELP["path"] in capsys.readouterr().out
    assert run("limits", "show", IN_HELP["title"], "--limits", file) == 0
    shown = " ".join(capsys.readouterr().out.split())
    assert f"based on {IN_HELP['based_on']}" in shown
    assert "then 3 dB tighter (source: contract)" in shown
