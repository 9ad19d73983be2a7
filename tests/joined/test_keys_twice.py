"""Two tests of one file under one key: neither may be read as what the key belongs to."""

from pathlib import Path

from tests.joined.test_join import HEADS, POINTS, ROWS, document, read

WRONG = POINTS.replace("2,RL", "1,RL")
"""The curves of the second test, saved under the key of the first."""


def test_curves_under_the_key_of_another_test_are_nobodys(tmp_path: Path) -> None:
    """Whichever of them comes first."""
    rows = POINTS.splitlines(keepends=True)
    own, others = rows[1:3], [row.replace("2,RL", "1,RL") for row in rows[3:]]
    between = ["3,IL,1-2,,1,2.2\n"]
    heads = f"{HEADS}3,A-19,Cat 6A PL,good,,R3\n"
    for number, order in enumerate(([*own, *between, *others], [*others, *between, *own])):
        folder = tmp_path / str(number)
        folder.mkdir()
        files = {"3-points.csv": "".join([rows[0], *order]), "3-heads.csv": heads}
        records, problems = read(folder, files)
        assert [record.label for record in records] == ["A-19"]
        told = [problem for problem in problems if "stands twice under 'Nr'" in problem]
        assert len(told) == 2, problems
        assert "so neither is read" in told[0]
        assert any("no test with curves has '2' under 'Nr'" in problem for problem in problems)
        assert any("its curves may stand under '1', which several" in told for told in problems)
        assert any("several tests with curves have '1' under 'Nr'" in told for told in problems)
        assert not any("no test with curves has '1'" in told for told in problems)


def test_tests_may_share_an_entry_of_a_table_that_is_shared(tmp_path: Path) -> None:
    """As rooms and instruments stand in tables of their own; what no test names is no fault."""
    head, _, rest = ROWS.partition("[join]")
    first, _, words = rest.partition("[fields]")
    shared = (
        '[[join]]\nother = "{}-rooms.csv"\nkey = "Room"\nother_key = "Id"\nshared = true\n'
        '[join.csv]\nlayout = "test-per-row"\nrows.test = "Id"\n'
    )
    place = 'link.near.place.space = "Called"\nlink.near.place.floor = "Floor"\n'
    dialect = f"{head}[[join]]{first}{shared}[fields]\n{place}{words}"
    files = {
        "3-points.csv": POINTS,
        "3-heads.csv": HEADS.replace("R2", "R1"),
        "3-rooms.csv": "Id,Called,Floor\nR1,Riser north,2\nR9,Store,0\n",
    }
    records, problems = read(tmp_path, files, dialect)
    assert problems == []
    for label in ("A-17", "A-18"):
        place_of = document(records, label)["link"]["near"]["place"]
        assert place_of == {"space": "Riser north", "floor": "2"}
    _, refused = read(tmp_path, files, dialect.replace("shared = true\n", ""))
    assert any("'R1' was joined to" in problem for problem in refused)


def test_why_the_other_file_is_not_understood_is_told_all_the_same(tmp_path: Path) -> None:
    """By the first test that asks it for its part, which those under one key do not."""
    points = f"{POINTS}1,IL,3-6,,1,1.9\n3,IL,1-2,,1,2.2\n"
    _, problems = read(tmp_path, {"3-points.csv": points, "3-heads.csv": "No,Site\n1,Mill\n"})
    asked = [problem for problem in problems if "nothing of 3-heads.csv is understood" in problem]
    assert len(asked) == 2, problems
    assert "no line holds all the titles" in asked[0]
    assert "as is told of another test" in asked[1]
