"""`sweepbook testers` on the demo, held to what the demo's own truth says of its instruments."""

import json
from pathlib import Path

from sweepbook import schemas
from tests.program import run


def test_the_demos_instruments_with_their_dates(demo_book: Path) -> None:
    done = run("testers", demo_book, "--json")
    document = json.loads(done.stdout)
    assert list(schemas.problems(document, "testers-0.schema.json")) == []
    testers = {one["serial"]: one for one in document["testers"]}
    assert set(testers) >= {"BH5-00412", "BH5-00413", "TK-7731", "TK-7732"}
    late = testers["TK-7731"]
    assert late["tests_after_calibration_due"] > 0
    assert min(late["calibration_due"]) < late["first"][:10]
    assert testers["TK-7732"]["tests_after_calibration_due"] == 0
    assert done.exit_code == 1  # one was used after its calibration was due
    assert sum(one["failed"] for one in testers.values()) < sum(
        one["tests"] for one in testers.values()
    )


def test_the_page_names_each_instrument_and_what_was_due(demo_book: Path) -> None:
    shown = run("testers", demo_book).stdout
    assert "Osquary Tolk TK-7731" in shown
    assert "made after the calibration was due" in shown
    assert "calibrated 2022-09-14; due 2023-09-14" in shown
