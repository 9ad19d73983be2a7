"""Where a stated margin belongs to the other end, no sentence names an end as if it were sure."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from sweepbook.audit.context import installed
from sweepbook.audit.ends_in_doubt import DOUBT, ends_in_doubt
from sweepbook.audit.run import assess, case_of
from sweepbook.findings import Accepted
from sweepbook.judging.assessment import Assessment
from sweepbook.record.codec import dumps
from sweepbook.record.model import Record
from sweepbook.retests.suspect import suspects
from tests.program import run
from tests.rules.changes import record

NEAR = {"parameter": "next", "end": "near", "pairs": ["1-2", "3-6"]}
WORSE = {"add_db": -14, "curve": NEAR, "from_mhz": 295, "to_mhz": 303}
"""NEXT 1-2 to 3-6 at the near end is 2.57 dB below its limit at 299 MHz, and 11.43 dB before."""


def margin(end: str, db: float, mhz: float = 299.0, of: str = "next") -> dict[str, Any]:
    figure = {"margin_db": db, "decimals": 2, "as_stated": str(db), "frequency_mhz": mhz}
    pairs = ["1-2", "3-6"] if of == "next" else ["1-2"]
    return {"parameter": of, "end": end, "pairs": pairs, "worst_margin": figure}


def failed(*items: dict[str, Any], verdict: str = "fail") -> Record:
    overall = {"verdict": verdict, "as_stated": verdict}
    stated = {"overall": overall, "items": list(items)}
    return record([WORSE, {"set": "stated", "to": stated}])


def assessed(*items: dict[str, Any], verdict: str = "fail") -> Assessment:
    return assess(failed(*items, verdict=verdict), installed())


def test_the_end_of_a_proved_fail_is_in_doubt_where_the_margin_is_stated_of_the_other() -> None:
    found = assessed(margin("far", -2.57))
    assert found.judgement == "upheld"
    assert f"NEXT 1-2 to 3-6 at the near end{DOUBT}: 2.57 dB worse" in found.reason
    assert found.reason.count(DOUBT) == 1
    (suspect,) = suspects(found)
    assert suspect.hint.endswith("so look at the terminations at both")


def test_it_is_not_where_the_margin_is_stated_of_the_end_that_has_it() -> None:
    found = assessed(margin("near", -2.57))
    assert found.ends_in_doubt == frozenset()
    assert DOUBT not in found.reason
    (suspect,) = suspects(found)
    assert suspect.hint.endswith("so look at the termination at the near end")


def test_what_has_a_margin_of_its_own_that_names_an_end_is_left_alone() -> None:
    other = margin("near", 12.0, of="return_loss")
    found = assessed(margin("far", -2.57), other).ends_in_doubt
    assert {"next", "psnext", "acr_f"} - found == set()
    assert "return_loss" not in found
    assert "return_loss" in assessed(margin("far", -2.57)).ends_in_doubt


@pytest.mark.parametrize(("end", "place"), [("far", "near?"), ("near", "near ")])
def test_the_row_of_a_check_has_a_question_mark(end: str, place: str, tmp_path: Path) -> None:
    path = tmp_path / "one.json"
    path.write_bytes(dumps(failed(margin(end, -2.57))))
    assert f"next 1-2/3-6 {place}" in run("check", path).stdout


def test_an_overturned_pass_has_the_doubt_too() -> None:
    found = assessed(margin("far", -2.57), verdict="pass")
    assert found.judgement == "overturned"
    assert f"at the near end{DOUBT}" in found.reason


def test_a_finding_that_somebody_lets_stand_puts_nothing_in_doubt() -> None:
    case = case_of(failed(margin("far", -2.57)), installed())
    findings = assessed(margin("far", -2.57)).findings
    assert ends_in_doubt(case, findings)
    who = Accepted("K. Orme", "2026-03-06", "seen on site")
    assert not ends_in_doubt(case, [replace(one, accepted=who) for one in findings])
