"""Tables of all tests below headings of one file, as in the guide, and in other orders."""

from itertools import pairwise, permutations
from pathlib import Path

import pytest

from tests.guide import every_block, told
from tests.joined.test_join import document, read
from tests.reading import sweep

BLOCKS = every_block()
AT = next(at for at, (_, text) in enumerate(BLOCKS) if 'name = "example-parts"' in text)
FILE, DIALECT, LINES = (BLOCKS[at][1] for at in (AT - 1, AT, AT + 1))
HEAD, *TABLES = FILE.replace("\n[", "\n\f[").split("\f")
FIRST, TESTS, RESULTS, END = (
    DIALECT.replace("[[join]]", "\f[[join]]").replace("[fields]", "\f[fields]").split("\f")
)


def test_the_example_of_the_guide_reads_as_it_says(tmp_path: Path) -> None:
    records, problems = read(tmp_path, {"wing-d.txt": FILE}, DIALECT)
    assert problems == []
    first = document(records, "C-07")
    assert told(first) == LINES.splitlines()
    assert first["test"]["operator"] == "J. Okoro"
    items = document(records, "C-08")["stated"]["items"]
    assert [(of["parameter"], of["verdict"]) for of in items] == [
        ("length", "pass"),
        ("return_loss", "fail"),
    ]


@pytest.mark.parametrize("joins", [(TESTS, RESULTS), (RESULTS, TESTS)], ids=["tests", "results"])
@pytest.mark.parametrize("order", [*permutations(range(3))])
def test_parts_stand_in_any_order(
    order: tuple[int, int, int], joins: tuple[str, str], tmp_path: Path
) -> None:
    """The dialect says of each part the line behind it, which begins another one in some orders."""
    tables = [TABLES[at] for at in order]
    lines = [table.partition("\n")[0] for table in tables]
    behind = dict(pairwise([*lines, ""]))
    dialect = "".join((FIRST, *joins, END))
    for line, end in (("[Tests]", "[Results]"), ("[Results]", "[Points]")):
        now = f'["{line}", "{behind[line]}"]'.replace(', ""', "")
        dialect = dialect.replace(f'["{line}", "{end}"]', now)
    records, problems = read(tmp_path, {"wing-d.txt": HEAD + "".join(tables)}, dialect)
    assert problems == []
    first = document(records, "C-07")
    assert sweep(first, "insertion_loss 3-6")["value_db"].tolist() == [1.8, 19.2]
    assert len(first["stated"]["items"]) == 3
    assert first["results"]["scalars"][0]["length_m"] == 62.1
    assert [record.label for record in records] == ["C-07", "C-08"]


def test_a_part_ends_where_another_one_begins(tmp_path: Path) -> None:
    """The line that it is said to end with stands nowhere."""
    dialect = DIALECT.replace('["[Tests]", "[Results]"]', '["[Tests]", "[Facts]"]')
    records, problems = read(tmp_path, {"wing-d.txt": FILE}, dialect)
    assert problems == []
    assert len(records) == 2


def without_curves(content: str = FILE) -> str:
    """The file without the curves of the second test."""
    return "".join(
        line
        for line in content.splitlines(keepends=True)
        if not (line.startswith("42|Echo|12|here|1") and line.count("|") == 5)
    )


@pytest.mark.parametrize("order", [*permutations(range(3))])
def test_what_stands_above_all_headings_counts_without_curves_too(
    order: tuple[int, int, int], tmp_path: Path
) -> None:
    tables = [TABLES[at] for at in order]
    content = without_curves(f"{HEAD}Hall|7\n{''.join(tables)}")
    dialect = DIALECT.replace('"[Tests]", "[Results]"', '"[Tests]"').replace(
        '"[Results]", "[Points]"', '"[Results]"'
    )
    behind = {"[Tests]": "", "[Results]": ""}
    behind |= dict(pairwise([table.partition("\n")[0] for table in tables]))
    for mark, end in behind.items():
        dialect = dialect.replace(f'part = ["{mark}"]', f'part = ["{mark}", "{end}"]')
    records, problems = read(tmp_path, {"wing-d.txt": content}, dialect.replace(', ""]', "]"))
    second = document(records, "C-08")
    assert second["results"].get("sweeps") is None
    assert second["test"]["operator"] == "J. Okoro"
    assert second["extra"] == document(records, "C-07")["extra"] == {"Hall": "7"}
    assert len(records) == 2
    assert [problem for problem in problems if "no curves" not in problem] == []


def test_of_a_column_and_what_is_of_all_the_latter_counts(tmp_path: Path) -> None:
    """As beside curves: the text of the whole file counts, and that of a part is kept."""
    content = without_curves().replace("Outcome\n", "Outcome|Done by\n")
    content = content.replace("|ok\n42|C-08", "|ok|A. Reed\n42|C-08")
    content = content.replace("14:31|not ok\n", "14:31|not ok|B. Wren\n")
    records, _ = read(tmp_path, {"wing-d.txt": content}, DIALECT)
    for label, other in (("C-07", "A. Reed"), ("C-08", "B. Wren")):
        found = document(records, label)
        assert found["test"]["operator"] == "J. Okoro"
        assert other in found["extra"].values()


def test_a_part_may_take_the_lines_above_all_headings(tmp_path: Path) -> None:
    dialect = DIALECT.replace('part = ["[Tests]"', 'part = ["Wherry 4 export"')
    dialect = dialect.replace('skip = ["[Points]"]', 'skip = ["[Points]"]').replace(
        'delimiter = "|"\nrows.test = "Run"\n\n[[join]]',
        'delimiter = "|"\nskip = ["[Tests]"]\nrows.test = "Run"\n\n[[join]]',
        1,
    )
    records, _ = read(tmp_path, {"wing-d.txt": without_curves()}, dialect)
    assert [of.document["test"]["operator"] for of in records] == ["J. Okoro"] * 2
