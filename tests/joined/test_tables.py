"""Tests in more than two files or parts: each joined by its key, or a line says why not."""

from pathlib import Path

import pytest

from sweepbook.book import gather, prove
from sweepbook.book.layout import open_or_begin
from sweepbook.book.proof import Proof
from sweepbook.dialect.load import BadDialect
from tests.guide import job, told
from tests.joined.test_join import document, pipeline, read
from tests.reading import sweep

NAMES = [f"hall-7-{of}.csv" for of in ("curves", "tests", "figures", "verdicts")]
FILES, DIALECT, LINES = job("example-tables", *NAMES)


def changed(file: str, old: str, new: str) -> dict[str, str]:
    name = f"hall-7-{file}.csv"
    assert FILES[name].count(old) == 1
    return {**FILES, name: FILES[name].replace(old, new)}


def test_the_example_of_the_guide_reads_as_it_says(tmp_path: Path) -> None:
    records, problems = read(tmp_path, FILES, DIALECT)
    assert problems == []
    assert told(records[0].document) == LINES
    assert [record.label for record in records] == ["B-07", "B-08"]
    second = document(records, "B-08")
    assert "overall" not in second.get("stated", {})
    assert second["results"]["scalars"][0]["length_m"] == 61.9


def test_the_origin_names_every_file_that_has_a_part(tmp_path: Path) -> None:
    records, _ = read(tmp_path, FILES, DIALECT)
    origins = [record.document["origin"][0] for record in records]
    assert [[of["name"] for of in origin["joined"]] for origin in origins] == [
        NAMES[1:],
        NAMES[1:3],
    ]


@pytest.mark.parametrize(
    ("files", "labels", "message"),
    [
        (
            changed("tests", "1;B-07", "7;B-07"),
            ["B-08"],
            "hall-7-tests.csv has no test with '1' under 'No' to join to this one; see join.key",
        ),
        (
            changed("figures", "2;Length;12;;6190;;\n", ""),
            ["B-07"],
            "hall-7-figures.csv has no test with '2' under 'Test'",
        ),
        (
            changed("verdicts", "B-07;PASS\n", "B-07;PASS\nB-09;PASS\n"),
            ["B-07", "B-08"],
            "hall-7-verdicts.csv, lines 3-3: no test with curves has 'B-09' under 'Cable'",
        ),
        (
            changed("verdicts", "B-07;PASS\n", "B-07;PASS\nB-07;FAIL\n"),
            ["B-08"],
            "hall-7-verdicts.csv, line 3, column 'Outcome': 'PASS' becomes 'FAIL' within one test",
        ),
        (
            changed("tests", "2;B-08", "2;B-07"),
            ["B-07"],
            "the key 'B-07' was joined to lines 2-4 already; which belongs to which",
        ),
        (
            changed("tests", "2;B-08", "2;"),
            ["B-07"],
            "nothing stands under 'Cable', by which tests are joined to those of hall-7-verdicts",
        ),
        (
            changed("figures", "2;Length;12;;6190", "2;Length;12;;61x90"),
            ["B-07"],
            "hall-7-figures.csv, line 4, column 'Value': '61x90' is no number in cm",
        ),
        (
            changed("figures", "2;Length;12;;6190;;\n", "1;Length;12;;6190;;\n2;Length;12;;1;;\n"),
            ["B-08"],
            "the value of 'length 1-2' comes a second time",
        ),
        (
            {name: text for name, text in FILES.items() if "figures" not in name},
            [],
            "the file hall-7-figures.csv, with the other parts of its tests, is not at hand",
        ),
    ],
)
def test_what_does_not_join_is_told(
    files: dict[str, str], labels: list[str], message: str, tmp_path: Path
) -> None:
    records, problems = read(tmp_path, files, DIALECT)
    assert [record.label for record in records] == labels
    assert any(message in problem for problem in problems), problems


def test_a_joined_table_may_hold_curves(tmp_path: Path) -> None:
    """A curve of another table stands beside those of the first; the same one again is a fault."""
    figures = """[join.csv.rows.point]
name = { Quantity = "{parameter}", Pairs = "{pairs}", Side = "{end}" }
frequency = "At"
value = "Value"
"""
    begin = DIALECT.index("[[join.csv.rows.figures]]")
    end = DIALECT.index("[[join]]", begin)
    dialect = f"{DIALECT[:begin]}{figures}\n{DIALECT[end:]}".replace("figure-per", "point-per")
    files = {**FILES, NAMES[2]: "Test;Quantity;Pairs;Side;Value;At\n1;IL;36;;192;1000\n"
             "2;IL;36;;193;1000\n"}  # fmt: skip
    records, problems = read(tmp_path, files, dialect)
    assert problems == []
    assert sweep(document(records, "B-08"), "insertion_loss 3-6")["value_db"].tolist() == [1.93]
    files[NAMES[2]] = files[NAMES[2]].replace("1;IL;36", "1;IL;12")
    records, problems = read(tmp_path, files, dialect)
    assert [record.label for record in records] == ["B-08"]
    assert "the curve 'insertion_loss 1-2' comes a second time" in problems[0]


PARTS = "".join(
    f"[{name}]\n{FILES[f'hall-7-{name}.csv']}\n"
    for name in ("tests", "curves", "figures", "verdicts")
)


def in_one_file(dialect: str) -> str:
    dialect = dialect.replace('file = "{}-curves.csv"\n', "")
    for name, part in (
        ("tests", '["[tests]", "[curves]"]'),
        ("figures", '["[figures]", "[verdicts]"]'),
        ("verdicts", '["[verdicts]"]'),
    ):
        dialect = dialect.replace(f'other = "{{}}-{name}.csv"', f"part = {part}")
    return dialect.replace("[csv]\n", '[csv]\nskip = ["[curves]"]\n', 1)


def test_several_parts_of_one_file_join(tmp_path: Path) -> None:
    records, problems = read(tmp_path, {"job.csv": PARTS}, in_one_file(DIALECT))
    assert problems == []
    assert told(records[0].document) == LINES
    assert [record.label for record in records] == ["B-07", "B-08"]
    changed = PARTS.replace("1;NEXT;12-36;a;;310", "9;NEXT;12-36;a;;310")
    _, problems = read(tmp_path, {"job.csv": changed}, in_one_file(DIALECT))
    assert any("no test with curves has '9' under 'Nr'" in problem for problem in problems)


def test_a_book_keeps_all_and_sees_when_one_changes(tmp_path: Path) -> None:
    exports = tmp_path / "exports"
    exports.mkdir()
    for name, text in FILES.items():
        (exports / name).write_text(text, encoding="utf-8")
    book = open_or_begin(tmp_path / "book", None)
    through = pipeline(exports, DIALECT)

    def status() -> dict[str, str]:
        return {of.name: of.status.value for of in gather.gather(book, [exports], through)}

    assert set(status().values()) == {"gathered"}
    assert set(status().values()) == {"unchanged"}
    verdicts = changed("verdicts", "PASS", "FAIL")[NAMES[3]]
    (exports / NAMES[3]).write_text(verdicts, encoding="utf-8")
    assert status()[NAMES[0]] == "read again"
    assert list(prove.prove(book.root, Proof())) == []


@pytest.mark.parametrize(
    ("old", "new", "key"),
    [
        ('file = "{}-curves.csv"\n', "", "join.0.file: is missing"),
        ('other = "{}-figures.csv"\n', "", "join.1.other: is missing"),
        ('other = "{}-figures.csv"', 'other = "{}-tests.csv"', "join.1.other: is that of another"),
        ('other = "{}-figures.csv"', 'other = "figures.csv"', "join.1.other: must differ"),
        (
            'other = "{}-figures.csv"',
            'file = "{}.csv"\nother = "{}-figures.csv"',
            "join.1.file: must be that of join.0",
        ),
        ("may_lack = true", 'may_lack = "yes"', "join.2.may_lack: expected is true or false"),
        ("may_lack = true", "may_be = true", "join.2.may_be: there is no such key"),
        ('rows.test = "Link"', "", "join.2.csv.rows: is missing"),
    ],
)
def test_tables_that_cannot_be_are_refused(old: str, new: str, key: str, tmp_path: Path) -> None:
    assert DIALECT.count(old) == 1
    with pytest.raises(BadDialect) as raised:
        pipeline(tmp_path, DIALECT.replace(old, new))
    assert any(problem.startswith(key) for problem in raised.value.problems), raised.value.problems
