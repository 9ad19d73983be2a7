"""A pass under another limit than the name of the stated one means upholds nothing."""

from dataclasses import replace
from typing import Any

import pytest

from sweepbook.audit.context import installed
from sweepbook.audit.run import assess
from sweepbook.judging.assessment import Judgement, Recomputed
from tests.rules.changes import record

CAT6A = "tia-568.2-d/cat6a/permanent-link"
CAT5E = "tia-568.2-d/cat5e/permanent-link"
NAME = "TIA-568.2-D Category 6A Permanent Link"


@pytest.mark.parametrize(
    ("verdict", "path", "judgement"),
    [
        ("pass", CAT6A, Judgement.UPHELD),
        ("pass", CAT5E, Judgement.UNPROVEN),
        ("fail", CAT5E, Judgement.UNPROVEN),
        ("pass", "tia-568.2-d/cat6a/channel", Judgement.UNPROVEN),
    ],
)
def test_a_lesser_limit_proves_no_pass_of_the_one_that_is_named(
    verdict: str, path: str, judgement: Judgement
) -> None:
    changes: list[dict[str, Any]] = [
        {"set": "test/limit/as_stated", "to": NAME},
        {"remove": "test/configuration"},
        {"set": "stated/overall", "to": {"verdict": verdict, "as_stated": verdict.upper()}},
    ]
    led = {"limit": {"path": path, "how": "alias of dialect made-up"}}
    found = assess(record(changes, led), installed())
    assert found.judgement is judgement
    assert ("LIM005" in {one.rule for one in found.findings}) == (path != CAT6A)
    if path != CAT6A:
        assert found.recomputed is Recomputed.UNDECIDED
        assert found.grade is None
        assert found.reason.startswith(f'Neither pass nor fail is proved: "{NAME}" by itself means')
        assert f"{path}, to which it was led (alias of dialect made-up)." in found.reason


def test_a_fail_under_it_and_a_limit_that_is_asked_for_stay_what_they_are() -> None:
    led = {"limit": {"path": CAT5E, "how": "alias of dialect made-up"}}
    named = {"set": "test/limit/as_stated", "to": NAME}
    crossed = [["1", "2"], ["2", "1"], *([pin, pin] for pin in "345678")]
    failed = record([named, {"set": "results/wire_map/pins", "to": crossed}], led)
    assert assess(failed, installed()).judgement is Judgement.OVERTURNED
    asked = replace(installed(), against=CAT5E)
    assert assess(record([named], led), asked).judgement is Judgement.UPHELD
