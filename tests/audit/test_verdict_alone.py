"""A pass that follows, with a margin beside it that does not, is not told as if all were right."""

import json
import shutil
from pathlib import Path

import pytest

from sweepbook.audit.verdict_alone import verdict_alone
from sweepbook.findings import Finding, Severity
from sweepbook.rules import catalogue
from tests.judging.links import judged
from tests.program import run

SAID = "Upheld is the verdict alone: not all that is stated with it follows (VRD002)."


def reasons(book: Path) -> dict[str, tuple[str, str, str]]:
    """Judgement and reason by label, of those that a changed margin was planted in and others."""
    document = json.loads(run("check", book, "--json").stdout)
    return {
        one["label"]: (
            one["judgement"],
            one["reason"],
            " ".join(found["rule"] for found in one["findings"] if found["severity"] == "error"),
        )
        for one in document["records"]
    }


def test_a_changed_margin_is_told_beside_the_upheld_verdict(demo_book: Path) -> None:
    """In 04-22 the worst margin of NEXT was changed to 9.40 dB, and nothing else."""
    found = reasons(demo_book)
    judgement, reason, _ = found["04-22"]
    assert judgement == "upheld"
    assert reason.endswith(f". {SAID}")
    for label, (judgement, reason, errors) in found.items():
        wrong = judgement == "upheld" and ("VRD" in errors or "SWP" in errors)
        assert ("Upheld is the verdict alone" in reason) == wrong, label
    assert any("VRD" in errors and word != "upheld" for word, _, errors in found.values())


def test_a_margin_that_somebody_accepts_is_told_no_more(demo_book: Path, tmp_path: Path) -> None:
    book = Path(shutil.copytree(demo_book, tmp_path / "book"))
    run("accept", book, "VRD002", "04-22", "--who", "K. Orme", "--why", "typed by hand")
    assert SAID not in reasons(book)["04-22"][1]


@pytest.mark.parametrize(
    ("rules", "said"),
    [
        (["SWP008"], "not all curves beside it follow from each other (SWP008)"),
        (["SWP008", "VRD002"], "not all curves and figures beside it follow (SWP008, VRD002)"),
        (["SCH001"], ""),
        ([], ""),
    ],
)
def test_what_is_wrong_beside_the_verdict_is_told(rules: list[str], said: str) -> None:
    upheld, _ = judged()
    found = [Finding(rule, Severity.ERROR, "$", "", {}) for rule in rules]
    told = verdict_alone(upheld, found, catalogue.load())
    assert told == (f" Upheld is the verdict alone: {said}." if said else "")
