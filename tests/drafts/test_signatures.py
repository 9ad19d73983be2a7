"""What the first lines of files say of their make, where they say nothing of a test."""

from pathlib import Path

import pytest

from tests.program import run

from .drafting import draft_of, read
from .links import blocks, link

LINKS = [link("A-1", 31.0), link("A-2", 88.5)]


def release(first: str) -> str:
    """Two tests below a first line that stands alone."""
    return blocks(LINKS).replace("Corymb listing\n", f"{first}\n\n")


@pytest.mark.parametrize("first", ["Corymb Store 5.2\tResults with curves", "Corymb v3\tlisting"])
def test_a_release_and_a_remark_above_all_tests_are_a_signature(first: str, tmp_path: Path) -> None:
    draft = draft_of(tmp_path, release(first))
    assert f'\nsignature = "{first}"'.replace("\t", "\\t") in draft
    records, problems = read(tmp_path / "export.csv", draft)
    assert problems == []
    assert [one.label for one in records] == ["A-1", "A-2"]
    assert not any("Corymb" in key for one in records for key in one.document.get("extra", {}))


@pytest.mark.parametrize("first", ["Site 3\tOld mill", "Check 1\tpass", "Project\tMill 5"])
def test_what_tells_of_the_job_is_no_signature(first: str, tmp_path: Path) -> None:
    assert "signature" not in draft_of(tmp_path, release(first))


def test_files_that_begin_with_one_line_share_it(tmp_path: Path) -> None:
    for number, first in enumerate(["Corymb Store 5.2\tCurves"] * 2):
        (tmp_path / f"{number}.csv").write_text(release(first), encoding="utf-8")
    draft = run("dialect", "draft", *sorted(tmp_path.glob("*.csv"))).stdout
    assert "# worked out: each file of this make begins so" in draft
