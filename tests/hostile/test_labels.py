"""Labels that are paths, formulas, terminal escapes, markup or endless go through every command."""

from pathlib import Path

import pytest

from tests.program import DEMO, DIALECTS

from .conftest import Limited

OVERTURNED = (DEMO / "exports" / "heron-1A-P1-04.csv").read_text()
SCHEDULE = ("--schedule", DEMO / "schedule.csv")
LABELS = (
    "../../../etc/passwd",
    '=HYPERLINK("http://a.example")',
    "\x1b[2J\u202eabc",
    "A1-" * 33_000,
    '"><script>alert(1)</script>',
)


@pytest.fixture(scope="session")
def labelled(limited: Limited, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book of a test for each label. Do not write to it."""
    folder = tmp_path_factory.mktemp("labels")
    for number, label in enumerate(LABELS):
        quoted = '"' + label.replace('"', '""') + '"'
        path = folder / "exports" / f"{number}.csv"
        path.parent.mkdir(exist_ok=True)
        path.write_text(OVERTURNED.replace("1A-P1-04", quoted, 1), encoding="utf-8", newline="")
    done = limited("gather", folder / "book", folder / "exports", *DIALECTS)
    assert f"{len(LABELS)} new" in done.text
    return folder / "book"


def test_every_command_works_on_them(limited: Limited, labelled: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    for form, name in (
        ("xlsx", "o.xlsx"),
        ("as-built", "o.sqlite"),
        ("report", "o.html"),
        ("json", "o.json"),
    ):
        export = ("export", labelled, "--to", form, "-o", out / name, *SCHEDULE)
        assert limited(*export).exit_code == 0
    assert limited("reconcile", labelled, *SCHEDULE).exit_code == 1
    assert limited("retests", labelled, "-o", out / "r.csv").exit_code == 1
    assert limited("compare", labelled).exit_code == 0
    assert limited("testers", labelled).exit_code == 0
    assert limited("archive", "make", labelled, out / "bag").exit_code == 0
    assert limited("archive", "verify", out / "bag").exit_code == 0
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


def test_no_label_names_a_file_elsewhere(limited: Limited, labelled: Path, tmp_path: Path) -> None:
    sheets = tmp_path / "objections"
    assert limited("check", labelled, "--objections", sheets).exit_code == 1
    assert [path.name for path in tmp_path.iterdir()] == ["objections"]
    assert len(list(sheets.iterdir())) >= len(LABELS)
    assert all(path.is_file() and path.name.isprintable() for path in sheets.iterdir())
