"""Tests that an export spreads over two files come together, or say in a line why they do not."""

import json
import zipfile
from collections.abc import Mapping
from dataclasses import replace
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest

from sweepbook import registry, schemas
from sweepbook.book import gather, prove, store
from sweepbook.book.layout import open_or_begin
from sweepbook.book.proof import Proof
from sweepbook.book.withdraw import withdraw
from sweepbook.dialect.load import BadDialect, load
from sweepbook.errors import ReadProblem
from sweepbook.formats import ReadSetting
from sweepbook.reading import Pipeline
from sweepbook.record import codec, validate
from sweepbook.record.model import Record
from tests.guide import job, told
from tests.program import run
from tests.reading import LIBRARY, axis, sweep

WORDS = """
[fields]
link.label = "Cable"
test.limit = "Norm"
stated.overall = "Outcome"
[words.parameters]
insertion_loss = "IL"
return_loss = "RL"
length = "Length"
[words.ends]
near = "A"
far = "B"
[words.verdicts]
pass = "good"
[crosstalk]
first = "disturbing"
"""
ROWS = f"""
schema = "urn:sweepbook:dialect-0"
name = "two-files"
title = "Points in one file, heads in another"
format = "csv"
[csv]
layout = "point-per-row"
rows.test = "Nr"
rows.point.name = {{ What = "{{parameter}}", Pair = "{{pairs}}", End = "{{end}}" }}
rows.point.frequency = "MHz"
rows.point.value = "dB"
[join]
file = "{{}}-points.csv"
other = "{{}}-heads.csv"
key = "Nr"
other_key = "Test"
[join.csv]
layout = "test-per-row"
rows.test = "Test"
rows.figures = [{{ value = "{{parameter}} {{pairs}}" }}]
{WORDS}
"""
POINTS = """Nr,What,Pair,End,MHz,dB
1,IL,1-2,,1,1.9
1,IL,1-2,,2,2.7
2,RL,3-6,B,1,30.5
2,RL,3-6,B,2,29.75
"""
HEADS = """Test,Cable,Norm,Outcome,Length 1-2,Room
2,A-18,Cat 6A PL,good,,R2
1,A-17,Cat 6A PL,good,62.1,R1
"""


def pipeline(folder: Path, dialect: str) -> Pipeline:
    """What reads by one dialect, which is put beside the exports as a hidden file."""
    path = folder / ".dialect.toml"
    path.write_text(dialect, encoding="utf-8")
    plugins = registry.load()
    chosen = load(path, plugins.formats)
    return Pipeline(plugins, ReadSetting(LIBRARY, {chosen.name: chosen}, chosen))


def read(
    folder: Path, files: Mapping[str, str], dialect: str = ROWS
) -> tuple[list[Record], list[str]]:
    """Records of a folder, and its problems as texts with their places."""
    for name, content in files.items():
        (folder / name).write_text(content, encoding="utf-8")
    items = list(pipeline(folder, dialect).read_all([folder]))
    records = [item for item in items if isinstance(item, Record)]
    assert all(validate.problems(record.document) == () for record in records)
    problems = [item for item in items if isinstance(item, ReadProblem)]
    return records, [f"{of.source}: {of.place}: {of.message}" for of in problems]


def document(records: list[Record], label: str) -> dict[str, Any]:
    return next(record.document for record in records if record.label == label)


def test_two_tables_join_by_a_column(tmp_path: Path) -> None:
    records, problems = read(tmp_path, {"3-points.csv": POINTS, "3-heads.csv": HEADS})
    assert problems == []
    assert [record.label for record in records] == ["A-17", "A-18"]
    first, second = (document(records, label) for label in ("A-17", "A-18"))
    assert sweep(first, "insertion_loss 1-2")["value_db"].tolist() == [1.9, 2.7]
    assert first["results"]["scalars"][0]["length_m"] == 62.1
    assert sweep(second, "return_loss far 3-6")["value_db"].tolist() == [30.5, 29.75]
    assert axis(second, sweep(second, "return_loss far 3-6")) == [1.0, 2.0]
    assert second["stated"]["overall"]["verdict"] == "pass"
    assert second["extra"] == {"Room": "R2"}


def test_the_origin_names_both_files(tmp_path: Path) -> None:
    records, _ = read(tmp_path, {"3-points.csv": POINTS, "3-heads.csv": HEADS})
    (origin,) = document(records, "A-17")["origin"]
    assert (origin["name"], origin["sha256"]) == (
        "3-points.csv",
        sha256(POINTS.encode()).hexdigest(),
    )
    (joined,) = origin["joined"]
    assert joined["sha256"] == sha256(HEADS.encode()).hexdigest()
    assert (joined["name"], joined["locator"]) == ("3-heads.csv", "lines 3-3")
    assert codec.loads(codec.dumps(records[0])) == records[0]


def test_a_test_of_two_files_counts_once(tmp_path: Path) -> None:
    exports, dialect = tmp_path / "exports", tmp_path / "rows.toml"
    exports.mkdir()
    dialect.write_text(ROWS, encoding="utf-8")
    for name, content in (("3-points.csv", POINTS), ("3-heads.csv", HEADS)):
        (exports / name).write_text(content, encoding="utf-8")
    said = " ".join(run("gather", tmp_path / "b", exports, "--dialect", dialect).stdout.split())
    assert "gathered: 3-heads.csv: a part of the tests in 3-points.csv (csv / two-files)" in said
    assert "3-points.csv: 2 tests, 2 new" in said
    assert "2 files; 2 tests, 2 new." in said
    listed = "".join(run("withdraw", tmp_path / "b").stdout.split())  # a long path may be parted
    assert "exports:2files,2tests" in listed


XML_HEADS = """<job><test no="1"><cable>A-17</cable><norm>Cat 6A PL</norm><result>good</result>
</test><test no="2"><cable>A-18</cable><norm>Cat 6A PL</norm><result>good</result></test></job>"""


def xml_head(dialect: str) -> str:
    start, end = dialect.index("[join]"), dialect.index("[fields]")
    join = (
        '[join]\nfile = "{}-points.csv"\nother = "{}.xml"\nformat = "xml"\nkey = "Nr"\n'
        'other_key = "@no"\n[join.xml]\ntest = "/job/test"\n'
    )
    changed = f"{dialect[:start]}{join}{dialect[end:]}"
    for title, path in (("Cable", "cable"), ("Norm", "norm"), ("Outcome", "result")):
        changed = changed.replace(f'= "{title}"', f'= "{path}"')
    return changed


def test_a_head_in_xml_joins_curves_in_csv(tmp_path: Path) -> None:
    files = {"3-points.csv": POINTS, "3.xml": XML_HEADS}
    records, problems = read(tmp_path, files, xml_head(ROWS))
    assert problems == []
    assert [record.label for record in records] == ["A-17", "A-18"]
    assert document(records, "A-18")["stated"]["overall"]["verdict"] == "pass"
    assert document(records, "A-18")["origin"][0]["joined"][0]["name"] == "3.xml"


ONE_EACH = ROWS.replace('key = "Nr"\nother_key = "Test"\n', "").replace('rows.test = "Nr"\n', "")


def test_without_a_key_each_file_holds_one_test(tmp_path: Path) -> None:
    one = "".join(POINTS.splitlines(keepends=True)[:3])
    head = "".join(HEADS.splitlines(keepends=True)[::2])
    files = {"a-points.csv": one, "a-heads.csv": head, "b-points.csv": one, "b-heads.csv": HEADS}
    records, problems = read(tmp_path, files, ONE_EACH)
    assert [record.label for record in records] == ["A-17"]
    assert len(problems) == 1
    assert "several tests, b-heads.csv, Test 2, lines 2-2 and b-heads.csv" in problems[0]
    assert "join.key" in problems[0]


@pytest.mark.parametrize(
    ("points", "heads", "labels", "message"),
    [
        (
            POINTS,
            HEADS.replace("1,A-17", "7,A-17"),
            ["A-18"],
            "3-heads.csv has no test with '1' under 'Test'",
        ),
        (
            POINTS,
            f"{HEADS}3,,Cat 6A PL,good,1,R1\n",
            ["A-17", "A-18"],
            "3-heads.csv, lines 4-4: no",
        ),
        (POINTS, f"{HEADS}2,A-19,Cat 6A PL,good,1,R1\n", ["A-17"], "the key '2' stands twice"),
        (POINTS, HEADS.replace("2,A-18", ",A-18"), ["A-17"], "nothing stands under 'Test'"),
        (f"{POINTS}1,IL,3-6,,1,1.9\n", HEADS, ["A-18"], "stood in lines 2-3 already"),
        (POINTS, HEADS.replace("62.1", "6x"), ["A-18"], "3-heads.csv, line 3, column 'Length 1-2'"),
    ],
)
def test_what_does_not_join_is_told(
    points: str, heads: str, labels: list[str], message: str, tmp_path: Path
) -> None:
    records, problems = read(tmp_path, {"3-points.csv": points, "3-heads.csv": heads})
    assert [record.label for record in records] == labels
    assert any(message in problem for problem in problems), problems


@pytest.mark.parametrize(
    ("there", "message"),
    [
        ("3-points.csv", "3-points.csv: : the file 3-heads.csv, with the other parts of its tests"),
        (
            "3-heads.csv",
            "3-heads.csv: : the file 3-points.csv, with the curves of its tests, is not",
        ),
        ("other.csv", "the name is neither of the form '{}-points.csv'"),
    ],
)
def test_a_file_alone_says_in_one_line_which_is_missing(
    there: str, message: str, tmp_path: Path
) -> None:
    records, problems = read(tmp_path, {there: HEADS if "heads" in there else POINTS})
    assert records == []
    assert len(problems) == 1
    assert message in problems[0]


def test_two_texts_of_one_key_are_both_kept_and_told(tmp_path: Path) -> None:
    points = POINTS.replace("dB\n", "dB,Room\n").replace("9\n", "9,R9\n")
    points = points.replace("7\n", "7,R9\n").replace("5\n", "5,R9\n")
    dialect = ROWS.replace(
        "[words.parameters]", 'link.near.place.space = "Room"\n[words.parameters]'
    )
    records, problems = read(tmp_path, {"3-points.csv": points, "3-heads.csv": HEADS}, dialect)
    assert "'R9' stands under 'Room' here, and 'R1' in 3-heads.csv, line 3" in problems[0]
    assert len(problems) == len(records)
    assert document(records, "A-17")["link"]["near"]["place"]["space"] == "R9"
    assert document(records, "A-17")["extra"]["Room (3-heads.csv)"] == "R1"


def test_two_times_of_one_day_are_no_difference(tmp_path: Path) -> None:
    """Each file of a test may say when it was written."""
    points = POINTS.replace("dB\n", "dB,Begun\n")
    for last in ("9", "7", "5"):
        points = points.replace(f"{last}\n", f"{last},2026-03-04T14:22:00Z\n")
    heads = HEADS.replace("Room\n", "Begun\n").replace("R1\n", "2026-03-04T14:29:00Z\n")
    heads = heads.replace(",,R2\n", ",,2026-03-04T14:29:00Z\n")
    dialect = ROWS.replace("[words.parameters]", 'test.started = "Begun"\n[words.parameters]')
    records, problems = read(tmp_path, {"3-points.csv": points, "3-heads.csv": heads}, dialect)
    assert problems == []
    started = document(records, "A-17")["test"]["started"]["rfc3339"]
    assert started == "2026-03-04T14:22:00+00:00"


def test_a_book_keeps_both_and_sees_when_either_changes(tmp_path: Path) -> None:
    exports = tmp_path / "exports"
    exports.mkdir()
    (exports / "3-points.csv").write_text(POINTS, encoding="utf-8")
    (exports / "3-heads.csv").write_text(HEADS, encoding="utf-8")
    book = open_or_begin(tmp_path / "book", None)
    through = pipeline(exports, ROWS)

    def status() -> dict[str, str]:
        return {of.name: of.status.value for of in gather.gather(book, [exports], through)}

    assert status() == {"3-heads.csv": "gathered", "3-points.csv": "gathered"}
    assert status() == {"3-heads.csv": "unchanged", "3-points.csv": "unchanged"}
    assert list(prove.prove(book.root, Proof())) == []
    again = open_or_begin(tmp_path / "again", None)
    kept = list(gather.gather(again, [book.root / "sources"], through))
    assert [(of.name, of.records) for of in kept] == [("3-heads.csv", 0), ("3-points.csv", 2)]
    (exports / "3-heads.csv").write_text(HEADS.replace("A-18", "A-81"), encoding="utf-8")
    assert status() == {"3-heads.csv": "gathered", "3-points.csv": "read again"}
    labels = [of.label for of in store.records(book) if isinstance(of, Record)]
    assert labels == ["A-17", "A-81"]
    assert list(prove.prove(book.root, Proof())) == []
    refused = [of for of in gather.gather(again, [book.root / "sources"], through) if of.problems]
    assert [of.name for of in refused] == ["3-points.csv"]
    assert "several files of the name 3-heads.csv" in refused[0].problems[0].message


def test_the_same_curves_under_two_heads_both_stand_in_a_book(tmp_path: Path) -> None:
    """One measurement under two labels has to be seen, whatever the order of the files."""
    exports = tmp_path / "exports"
    for folder, heads in (("a", HEADS), ("b", HEADS.replace("A-1", "K-1"))):
        (exports / folder).mkdir(parents=True)
        (exports / folder / "3-points.csv").write_text(POINTS, encoding="utf-8")
        (exports / folder / "3-heads.csv").write_text(heads, encoding="utf-8")
    book = open_or_begin(tmp_path / "book", None)
    through = pipeline(exports, ROWS)

    def labels() -> list[str]:
        return [of.label for of in store.records(book) if isinstance(of, Record)]

    first = [of.status.value for of in gather.gather(book, [exports], through)]
    assert first == ["gathered"] * 4
    assert labels() == ["A-17", "A-18", "K-17", "K-18"]
    again = [of.status.value for of in gather.gather(book, [exports], through)]
    assert again == ["unchanged"] * 4
    list(gather.gather(book, [exports / "b"], through))
    assert labels() == ["A-17", "A-18", "K-17", "K-18"]
    assert list(prove.prove(book.root, Proof())) == []
    withdraw(book, [str(exports / "b" / "3-heads.csv")], "K. Orme", "heads of another job")
    assert labels() == ["A-17", "A-18"]
    again = [of.status.value for of in gather.gather(book, [exports], through)]
    assert again == ["unchanged", "unchanged", "withdrawn", "withdrawn"]
    without = replace(through, setting=replace(through.setting, dialect=None, dialects={}))
    again = [of.status.value for of in gather.gather(book, [exports], without)]
    assert again == ["unchanged", "unchanged", "withdrawn", "unchanged"]  # points of one digest
    assert labels() == ["A-17", "A-18"]


@pytest.mark.parametrize(
    ("old", "new", "key"),
    [
        ('file = "{}-points.csv"', 'file = "points.csv"', "join.other: must differ"),
        ("[join.csv]", "[join.xlsx]", "join.csv: is missing"),
        ('key = "Nr"\n', "", "join.key: is missing"),
        ('other = "{}-heads.csv"', "", "join.other: is missing"),
        ('rows.test = "Test"\n', "", "join.csv.rows.test: is missing"),
        ('key = "Nr"\n', 'key = "Nr"\nkind = "x"\n', "join.kind: there is no such key"),
    ],
)
def test_a_join_that_cannot_be_is_refused(old: str, new: str, key: str, tmp_path: Path) -> None:
    assert ROWS.count(old) == 1
    with pytest.raises(BadDialect) as raised:
        pipeline(tmp_path, ROWS.replace(old, new))
    assert any(problem.startswith(key) for problem in raised.value.problems), raised.value.problems


def test_the_example_of_the_guide_reads_as_it_says(tmp_path: Path) -> None:
    files, dialect, lines = job("example-join", "hall-3-tests.csv", "hall-3-points.csv")
    records, problems = read(tmp_path, files, dialect)
    assert problems == []
    assert told(records[0].document) == lines
    assert records[1].document["test"]["started"]["rfc3339"] == "2026-10-25T02:40:00+01:00"


def test_both_files_may_lie_in_one_archive(tmp_path: Path) -> None:
    with zipfile.ZipFile(tmp_path / "job.zip", "w") as packed:
        packed.writestr("hall/3-points.csv", POINTS)
        packed.writestr("hall/3-heads.csv", HEADS)
    records, problems = read(tmp_path, {})
    assert (problems, [record.label for record in records]) == ([], ["A-17", "A-18"])
    (origin,) = records[0].document["origin"]
    assert origin["name"] == "job.zip!hall/3-points.csv"
    assert origin["joined"][0]["name"] == "job.zip!hall/3-heads.csv"
    book = open_or_begin(tmp_path / "book", None)
    through = pipeline(tmp_path, ROWS)
    gathered = list(gather.gather(book, [tmp_path / "job.zip"], through))
    assert [(of.name, of.records) for of in gathered] == [
        ("job.zip!hall/3-heads.csv", 0),
        ("job.zip!hall/3-points.csv", 2),
    ]
    kept = [of.document["origin"] for of in store.records(book) if isinstance(of, Record)]
    assert kept[0] == records[0].document["origin"]
    assert list(prove.prove(book.root, Proof())) == []


def test_a_trial_takes_both_files_by_name(tmp_path: Path) -> None:
    for name, content in (("3-points.csv", POINTS), ("3-heads.csv", HEADS), ("d.toml", ROWS)):
        (tmp_path / name).write_text(content, encoding="utf-8")
    (tmp_path / "there").mkdir()
    heads = (tmp_path / "3-heads.csv").rename(tmp_path / "there" / "3-heads.csv")
    alone = run("dialect", "try", tmp_path / "d.toml", tmp_path / "3-points.csv").stdout
    assert "No test of 3-points.csv could be read" in alone
    tried = ("dialect", "try", tmp_path / "d.toml", heads, tmp_path / "3-points.csv")
    both = run(*tried).stdout
    assert "The first test that" in both
    assert "reads, in 3-points.csv" in both
    assert "Test 2" not in both
    document = json.loads(run(*tried, "--json", "--tests", "9").stdout)
    assert list(schemas.errors(document, schemas.schema("trial-0.schema.json"))) == []
    assert document["sources"] == ["3-heads.csv", "3-points.csv"]
    assert [(one["source"], one["label"]) for one in document["tests"]] == [
        ("3-points.csv", "A-17"),
        ("3-points.csv", "A-18"),
    ]


def test_check_takes_both_files_by_name(tmp_path: Path) -> None:
    paths = []
    for name, content in (("3-points.csv", POINTS), ("3-heads.csv", HEADS)):
        (tmp_path / name).write_text(content, encoding="utf-8")
        paths.append(str(tmp_path / name))
    (tmp_path / "d.toml").write_text(ROWS, encoding="utf-8")
    done = run("check", *paths, "--dialect", str(tmp_path / "d.toml"))
    assert "A-17" in done.stdout
    assert "A-18" in done.stdout
    assert "not at hand" not in done.stdout + done.stderr
    shown = run("show", paths[0], "A-17", "--dialect", str(tmp_path / "d.toml")).stdout
    assert "3-heads.csv, lines 3-3" in shown
    audit = json.loads(run("check", *paths, "--dialect", str(tmp_path / "d.toml"), "--json").stdout)
    assert list(schemas.errors(audit, schemas.schema("audit-1.schema.json"))) == []
    parts = [of["source"][0]["joined"][0]["name"] for of in audit["records"]]
    assert parts == ["3-heads.csv"] * 2


ONE_FILE = ROWS.replace(
    'file = "{}-points.csv"\nother = "{}-heads.csv"\n', 'part = ["[Tests]", "[Points]"]\n'
).replace('layout = "point-per-row"\n', 'layout = "point-per-row"\nskip = ["[Points]"]\n')
BOTH = f"Site,Mill\n[Tests]\n{HEADS}\n[Points]\n{POINTS}"


@pytest.mark.parametrize("characters", [1 << 18, 40])
def test_both_tables_may_stand_in_one_file(
    characters: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sweepbook_plugins.csv.lines.BLOCK_CHARACTERS", characters)
    records, problems = read(tmp_path, {"job.csv": BOTH}, ONE_FILE)
    assert problems == []
    assert [record.label for record in records] == ["A-17", "A-18"]
    first = document(records, "A-17")
    assert sweep(first, "insertion_loss 1-2")["value_db"].tolist() == [1.9, 2.7]
    assert first["results"]["scalars"][0]["length_m"] == 62.1
    assert first["extra"] == {"Room": "R1", "Site": "Mill"}
    (origin,) = first["origin"]
    assert origin["locator"] == "lines 9-10"


def test_the_part_may_be_the_last_of_its_file(tmp_path: Path) -> None:
    dialect = ONE_FILE.replace('["[Tests]", "[Points]"]', '["[Tests]"]')
    both = f"{POINTS}[Tests]\n{HEADS}"
    records, problems = read(tmp_path, {"job.csv": both}, dialect)
    assert problems == []
    assert document(records, "A-18")["stated"]["overall"]["verdict"] == "pass"


def test_messages_of_a_part_name_the_line_of_the_file(tmp_path: Path) -> None:
    lacking = BOTH.replace("1,A-17,Cat 6A PL,good", "1,A-17,Cat 6A PL,so-so")
    records, (problem,) = read(tmp_path, {"job.csv": lacking}, ONE_FILE)
    assert [record.label for record in records] == ["A-18"]
    assert "line 5, column 'Outcome'" in problem
    _, problems = read(tmp_path, {"job.csv": BOTH.replace("\n1,A-17", "\n3,A-17")}, ONE_FILE)
    assert "has no test with '1' under 'Test'" in problems[0]
    assert "lines 5-5" in problems[1]


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (('key = "Nr"\nother_key = "Test"\n', ""), "join"),
        (("part = [", 'file = "a.csv"\nother = "b.csv"\npart = ['), "join"),
        (("[join.csv]", "[join.xml]"), "join.csv: is missing"),
    ],
)
def test_a_part_takes_a_key_and_no_second_file(
    change: tuple[str, str], said: str, tmp_path: Path
) -> None:
    with pytest.raises(BadDialect, match=said):
        pipeline(tmp_path, ONE_FILE.replace(*change))


def test_xml_has_no_parts_between_lines(tmp_path: Path) -> None:
    text = ONE_FILE.replace('format = "csv"', 'format = "xml"').replace("csv]", "xml]")
    with pytest.raises(BadDialect, match=r"join\.part: is for text tables"):
        pipeline(tmp_path, text)


def test_a_draft_joins_two_tables_of_one_file(tmp_path: Path) -> None:
    rows = [
        f"{number},{word},{pair},{end},{mhz},{mhz / 10}\n"
        for number in (1, 2)
        for word, end in (("IL", ""), ("RL", "A"), ("RL", "B"))
        for pair in ("1-2", "3-6", "4-5", "7-8")
        for mhz in range(10, 40)
    ]
    text = f"[Tests]\n{HEADS}[Points]\nNr,What,Pair,End,MHz,dB\n{''.join(rows)}"
    (tmp_path / "job.csv").write_text(text, encoding="utf-8")
    draft = run("dialect", "draft", tmp_path / "job.csv").stdout
    assert 'part = ["[Tests]", "[Points]"]' in draft
    records, _ = read(tmp_path, {}, draft)
    assert {record.label for record in records} == {"A-17", "A-18"}
    assert len(sweep(document(records, "A-18"), "insertion_loss 1-2")["value_db"]) == 30


def test_titles_that_are_not_found_are_told_before_the_key_that_they_hold(tmp_path: Path) -> None:
    files = {"3-points.csv": POINTS.replace("MHz", "kHz"), "3-heads.csv": HEADS}
    _, problems = read(tmp_path, files)
    assert problems[0].startswith("3-points.csv: lines 1-5: no line holds all the titles 'End'")
    assert "; line 1 lacks 'MHz' but has 'kHz'; see csv.rows" in problems[0]


def test_what_is_told_of_another_file_names_keys_below_its_join(tmp_path: Path) -> None:
    """It is told with the first test, as of a file that is not joined."""
    figures = ROWS.replace('layout = "test-per-row"', 'layout = "figure-per-row"').replace(
        'rows.figures = [{ value = "{parameter} {pairs}" }]',
        'rows.figures = [{ name = { What = "{parameter}", Pair = "{pairs}" }, value = "m" }]',
    )
    heads = "Test,Cable,Norm,Outcome,What,Pair,m\n"
    for test, cable in (("1", "A-17"), ("2", "A-18")):
        told = f"{test},{cable},Cat 6A PL,good"
        heads += f"{told},Length,1-2,62.1\n{told},LENGTH,3-6,62.3\n"
    records, problems = read(tmp_path, {"3-points.csv": POINTS, "3-heads.csv": heads}, figures)
    assert [len(record.document["results"]["scalars"]) for record in records] == [1, 1]
    (problem,) = problems
    assert "'LENGTH' is not in words.parameters, where 'Length' is (column 'What')" in problem
    assert "are named by join.csv.rows.other_names" in problem
