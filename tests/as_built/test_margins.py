"""A database of all results, of the worst of each parameter, or of none; never of two kinds."""

from pathlib import Path

import pytest

from sweepbook.errors import SweepbookError
from sweepbook.judging.assessment import Assessment, Origin, Outcome, ScalarMargin

from .either import Place, ask, content, write
from .made_up import assessed, margin, record
from .test_postgresql import NewDatabase

CURVES = (
    margin("next", "near", ("1-2", "3-6"), 3.0),
    margin("next", "far", ("1-2", "4-5"), 0.5),
    margin("next", "far", ("1-2", "7-8"), None, outcome=Outcome.NOT_EVALUATED),
    margin("return_loss", "far", ("7-8",), -0.2, outcome=Outcome.FAIL),
    margin("return_loss", "near", ("1-2",), 2.0),
)
SKEW = ScalarMargin(
    "delay_skew", "required", None, Outcome.PASS, 20.0, 44.0, 24.0, "ns", Origin.RECOMPUTED, "B"
)
NEAREST = [
    (1, "next", "far", "1-2/4-5", 0.5),
    (3, "return_loss", "far", "7-8", -0.2),
    (5, "delay_skew", None, None, 24.0),
]
RESULTS = "SELECT position, parameter, at_end, pairs, worst_margin FROM result ORDER BY position"
FORM = "SELECT margins FROM job"


@pytest.fixture(params=["sqlite", "postgresql"])
def place(request: pytest.FixtureRequest, tmp_path: Path) -> Place:
    if request.param == "sqlite":
        return tmp_path / "as-built.sqlite"
    made: NewDatabase = request.getfixturevalue("new_database")
    return made()


def _test(label: str) -> Assessment:
    return assessed(record(label), margins=CURVES, scalars=[SKEW])


def _asked(form: str) -> dict[str, dict[str, str]]:
    return {"asked": {"margins": form}}


def test_of_each_parameter_the_one_nearest_to_failing_is_kept_in_its_place(place: Place) -> None:
    write(place, _test("A"), **_asked("worst"))
    assert ask(place, RESULTS) == NEAREST
    assert ask(place, FORM) == [("worst",)]


def test_what_is_asked_of_the_worst_has_the_same_answer(tmp_path: Path) -> None:
    lean, full = tmp_path / "lean.sqlite", tmp_path / "full.sqlite"
    write(lean, _test("A"), **_asked("worst"))
    write(full, _test("A"))
    there, here = content(full), content(lean)
    assert len(there["worst_margins"]) == len(NEAREST)
    differ = {name for name, rows in there.items() if rows != here[name]}
    assert differ == {"job", "result", "result_kind", "result_value"}
    assert ask(full, FORM) == [("all",)]


def test_none_leaves_the_judgement_and_its_worst_margin(tmp_path: Path) -> None:
    target = tmp_path / "as-built.sqlite"
    write(target, _test("A"), **_asked("none"))
    assert ask(target, RESULTS) == ask(target, "SELECT * FROM result_kind") == []
    assert ask(target, "SELECT worst_parameter, worst_margin_db FROM test") == [
        ("return_loss", -0.2)
    ]


@pytest.mark.parametrize(("there", "wanted"), [("all", "worst"), ("worst", "all")])
def test_tests_of_a_job_with_other_results_are_not_put_beside_it(
    place: Place, there: str, wanted: str
) -> None:
    write(place, _test("A"), **_asked(there))
    before = content(place)
    with pytest.raises(SweepbookError, match=f"--margins {there}, and this") as refused:
        write(place, _test("B"), **_asked(wanted))
    assert f"--margins {there}" in refused.value.todo
    assert content(place) == before
    write(place, _test("B"), title="Annexe", **_asked(wanted))
    assert sorted(ask(place, FORM)) == sorted([(there,), (wanted,)])


def test_a_delta_is_of_the_kind_of_the_export_that_it_is_told_from(tmp_path: Path) -> None:
    earlier, delta = tmp_path / "as-built.sqlite", tmp_path / "delta.sqlite"
    write(earlier, _test("A"), **_asked("worst"))
    since = {"since": str(earlier)}
    with pytest.raises(SweepbookError, match="--margins worst, and this"):
        write(delta, _test("A"), _test("B"), asked=since)
    assert not delta.exists()
    write(delta, _test("A"), _test("B"), asked={**since, "margins": "worst"})
    assert ask(delta, "SELECT label, change FROM changed_link") == [("B", "new")]
    assert ask(delta, RESULTS) == NEAREST
    assert ask(delta, FORM) == [("worst",)]
