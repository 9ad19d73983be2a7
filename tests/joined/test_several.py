"""Tests whose curves an export spreads over several files, one a parameter or a curve."""

import zipfile
from collections.abc import Mapping
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest

from sweepbook.book import gather, prove, store
from sweepbook.book.layout import open_or_begin
from sweepbook.book.proof import Proof
from sweepbook.dialect.load import BadDialect
from sweepbook.errors import ReadProblem
from sweepbook.record import validate
from sweepbook.record.model import Record
from sweepbook.source import Source
from sweepbook_plugins.csv.identify import claims
from tests.guide import job, told
from tests.program import run
from tests.reading import sweep

from .test_join import document, pipeline

WORDS = """
[words.parameters]
insertion_loss = "IL"
return_loss = "RL"
next = "NEXT"
psnext = "PS_NEXT"
length = "Length"
[words.ends]
near = ["main", ""]
far = "remote"
[words.verdicts]
pass = "ok"
fail = "bad"
[crosstalk]
first = "disturbing"
"""
BY_NAME = f"""
schema = "urn:sweepbook:dialect-0"
name = "by-name"
title = "A file a parameter, which its name tells"
format = "csv"
[csv]
layout = "curve-per-column"
[csv.curves]
frequency = "MHz"
name = "{{pairs}}"
[join]
file = ["FILE"]
[fields]
link.label = "{{}}"
test.started = "Begun"
[figures]
verdict = "FILE/Result"
{WORDS}
"""
FILE = "{}_{parameter}.csv"
NAMED = BY_NAME.replace('["FILE"]', f'"{FILE}"').replace("FILE/", f"{FILE}/")
ENDS = BY_NAME.replace('["FILE"]', '"{}_{parameter}_{end}.csv"').replace(
    '[figures]\nverdict = "FILE/Result"\n', ""
)
FILES = {
    "T17_IL.csv": "Begun,2026-03-04T14:22:00Z\nResult,ok\nMHz,1-2,3-6\n1,1.9,1.8\n100,19.4,19.2\n",
    "T17_PS_NEXT.csv": "Begun,2026-03-04T14:22:00Z\nMHz,1-2\n1,60\n",
    "T17_RL.csv": "Begun,2026-03-04T14:23:00Z\nResult,bad\nMHz,1-2\n1,30\n50,25\n",
    "T18_IL.csv": "Begun,2026-03-04T14:30:00Z\nResult,ok\nMHz,1-2\n1,2.1\n",
}


def _apart_from_when(record: Record | ReadProblem) -> dict[str, Any]:
    """A record without what tells when it was read."""
    assert isinstance(record, Record)
    return {name: part for name, part in record.document.items() if name != "provenance"}


def texts(folder: Path, dialect: str) -> tuple[list[Record], list[str]]:
    """Records of a folder, and its problems."""
    items = list(pipeline(folder, dialect).read_all([folder]))
    records = [item for item in items if isinstance(item, Record)]
    assert all(validate.problems(record.document) == () for record in records)
    problems = [item for item in items if isinstance(item, ReadProblem)]
    return records, [f"{of.source}: {of.place}: {of.message}" for of in problems]


def read(folder: Path, files: Mapping[str, str], dialect: str) -> tuple[list[Record], list[str]]:
    for name, content in files.items():
        (folder / name).parent.mkdir(exist_ok=True)
        (folder / name).write_text(content, encoding="utf-8")
    return texts(folder, dialect)


def curves(record: Record) -> set[str]:
    found = record.document["results"]["sweeps"]
    return {" ".join([of["parameter"], *of["pairs"], of.get("end", "")]).strip() for of in found}


def test_the_name_of_a_file_says_test_and_parameter(tmp_path: Path) -> None:
    records, problems = read(tmp_path, FILES, NAMED)
    assert problems == []
    assert [record.label for record in records] == ["T17", "T18"]
    first, second = records
    assert curves(first) == {
        "insertion_loss 1-2",
        "insertion_loss 3-6",
        "psnext 1-2 near",
        "return_loss 1-2 near",
    }
    assert sweep(first.document, "return_loss near 1-2")["value_db"].tolist() == [30.0, 25.0]
    assert curves(second) == {"insertion_loss 1-2"}


def test_a_key_below_the_name_is_of_its_parameter(tmp_path: Path) -> None:
    records, _ = read(tmp_path, FILES, NAMED)
    items = records[0].document["stated"]["items"]
    assert [(of["parameter"], of["verdict"]) for of in items] == [
        ("insertion_loss", "pass"),
        ("return_loss", "fail"),
    ]
    assert "overall" not in records[0].document["stated"]
    assert records[0].document["extra"] == {"Begun (T17_RL.csv)": "2026-03-04T14:23:00Z"}


@pytest.mark.parametrize(
    ("two", "told"),
    [
        ("2026-03-06T14:23:00Z", ["line 1", "T17_RL.csv", "parts of two tests", "test.started"]),
        (
            "2026-03-04T14:23:00Z\nMain,0072",
            ["'0071' stands under 'Main' here", "'0072' in T17_RL.csv"],
        ),
    ],
)
def test_files_of_two_tests_make_none(two: str, told: list[str], tmp_path: Path) -> None:
    """Part of a test was made again, on another day or with another instrument."""
    dialect = NAMED.replace("[figures]", 'test.near.instrument.serial = "Main"\n[figures]')
    files = {name: text.replace("Z\n", "Z\nMain,0071\n", 1) for name, text in FILES.items()}
    files["T17_RL.csv"] = FILES["T17_RL.csv"].replace("2026-03-04T14:23:00Z", two)
    records, problems = read(tmp_path, files, dialect)
    assert [record.label for record in records] == ["T18"]
    assert len(problems) == 1
    assert all(text in problems[0] for text in told), problems


def test_a_test_may_go_on_past_midnight(tmp_path: Path) -> None:
    later = FILES["T17_RL.csv"].replace("2026-03-04", "2026-03-05")
    records, problems = read(tmp_path, FILES | {"T17_RL.csv": later}, NAMED)
    assert (len(records), problems) == (2, [])


def test_the_origin_names_every_file(tmp_path: Path) -> None:
    records, _ = read(tmp_path, FILES, NAMED)
    (origin,) = records[0].document["origin"]
    assert (origin["name"], origin["locator"]) == ("T17_IL.csv", "lines 1-5")
    assert [of["name"] for of in origin["joined"]] == ["T17_PS_NEXT.csv", "T17_RL.csv"]
    digest = sha256(FILES["T17_RL.csv"].encode()).hexdigest()
    assert origin["joined"][1]["sha256"] == digest
    assert "joined" not in records[1].document["origin"][0]


def test_names_may_be_of_several_forms(tmp_path: Path) -> None:
    dialect = BY_NAME.replace('["FILE"]', f'["{FILE}", "{{}}_{{parameter}}_{{end}}.csv"]')
    dialect = dialect.replace('verdict = "FILE/Result"', "")
    table = "MHz,1-2\n1,30\n"
    files = {f"T17_{name}.csv": table for name in ("IL", "RL_main", "RL_remote")}
    records, problems = read(tmp_path, files, dialect)
    assert problems == []
    (record,) = records
    names = {"insertion_loss 1-2", "return_loss 1-2 near", "return_loss 1-2 far"}
    assert curves(record) == names


@pytest.mark.parametrize("form", ["{}/{parameter}.csv", "{parameter}/{}.csv"])
def test_a_folder_may_say_it(form: str, tmp_path: Path) -> None:
    dialect = BY_NAME.replace('["FILE"]', f'"{form}"').replace("FILE/", f"{form}/")
    names = {name: name.removesuffix(".csv").split("_", 1) for name in FILES}
    files = {
        form.replace("{}", test).replace("{parameter}", word): FILES[name]
        for name, (test, word) in names.items()
    }
    records, problems = read(tmp_path, files, dialect)
    assert (problems, [record.label for record in records]) == ([], ["T17", "T18"])
    assert len(curves(records[0])) == 4


def test_all_of_them_may_lie_in_an_archive(tmp_path: Path) -> None:
    with zipfile.ZipFile(tmp_path / "job.zip", "w") as packed:
        for name, content in FILES.items():
            packed.writestr(f"hall/{name}", content)
    records, problems = texts(tmp_path, NAMED)
    assert (problems, [record.label for record in records]) == ([], ["T17", "T18"])
    (origin,) = records[0].document["origin"]
    assert origin["joined"][1]["name"] == "job.zip!hall/T17_RL.csv"


def test_a_dialect_claims_files_of_its_names_only(tmp_path: Path) -> None:
    read(tmp_path, {"T17_IL.csv": FILES["T17_IL.csv"]}, NAMED)
    (tmp_path / "T17-IL.csv").write_text(FILES["T17_IL.csv"], encoding="utf-8")
    setting = pipeline(tmp_path, NAMED).setting
    told = [
        len(list(claims(Source(tmp_path / of), setting))) for of in ("T17_IL.csv", "T17-IL.csv")
    ]
    assert told == [1, 0]


def test_one_name_on_the_command_line_brings_the_others_beside_it(tmp_path: Path) -> None:
    read(tmp_path, FILES, NAMED)
    shown = run("show", tmp_path / "T17_IL.csv", "--dialect", tmp_path / ".dialect.toml").stdout
    assert "T17_RL.csv, lines 1-5" in shown
    assert "T18" not in shown


LISTED = NAMED.replace('link.label = "{}"', 'link.label = "Cable"').replace(
    "[fields]",
    'other = "tests.csv"\nkey = "{}"\nother_key = "Test"\n[join.csv]\nlayout = "test-per-row"\n'
    'rows.test = "Test"\nrows.figures = [{ value = "{parameter} {pairs}" }]\n[fields]',
)
LIST = "Test,Cable,Length 1-2\nT18,A-18,61\nT17,A-17,62\n"


@pytest.mark.parametrize("other", ["tests.csv", "{}_info.csv"])
def test_a_table_of_tests_joins_by_what_the_names_share(other: str, tmp_path: Path) -> None:
    dialect = LISTED.replace("tests.csv", other)
    heads = {"T17_info.csv": LIST, "T18_info.csv": LIST}
    heads = {name: f"{LIST[:21]}\n{LIST.splitlines()[2 - at]}\n" for at, name in enumerate(heads)}
    files = {**FILES, **({"tests.csv": LIST} if other == "tests.csv" else heads)}
    records, problems = read(tmp_path, files, dialect)
    assert (problems, [record.label for record in records]) == ([], ["A-17", "A-18"])
    assert len(curves(records[0])) == 4
    lengths = [of.document["results"]["scalars"][0]["length_m"] for of in records]
    assert lengths == [62.0, 61.0]
    assert "extra" not in records[1].document


HEADER = f"""
schema = "urn:sweepbook:dialect-0"
name = "by-header"
title = "A file a curve, whose first lines tell test and curve"
format = "csv"
[csv]
layout = "sections"
[[csv.sections]]
heading = ["Curve,{{parameter}} {{pairs}}", "Curve,{{parameter}} {{pairs}} {{end}}"]
columns = ["MHz", "dB"]
rows.point = {{ frequency = "MHz", value = "dB" }}
[join]
file = "{{number}}.csv"
key = "Link"
[fields]
link.label = "Link"
stated.overall = "Result"
{WORDS.replace('["main", ""]', '"main"')}
"""
NUMBERED = {
    "0001.csv": "Link,A-17\nResult,ok\nCurve,IL 1-2\n1,1.9\n2,2.7\n",
    "0002.csv": "Link,A-18\nResult,ok\nCurve,IL 1-2\n1,2.1\n",
    "0003.csv": "Link,A-17\nResult,ok\nCurve,RL 1-2 main\n1,30\n5,28\n",
}


def test_lines_of_a_header_say_test_and_curve(tmp_path: Path) -> None:
    records, problems = read(tmp_path, NUMBERED, HEADER)
    assert (problems, [record.label for record in records]) == ([], ["A-17", "A-18"])
    assert curves(records[0]) == {"insertion_loss 1-2", "return_loss 1-2 near"}
    assert sweep(records[0].document, "return_loss near 1-2")["value_db"].tolist() == [30.0, 28.0]


XML = f"""
schema = "urn:sweepbook:dialect-0"
name = "spread-xml"
title = "A file a curve in XML"
format = "xml"
[xml]
test = "/sheet"
[[xml.curves]]
path = "curve"
name = {{ "@of" = "{{parameter}}", "@pairs" = "{{pairs}}" }}
values = "v"
frequency = "f"
[join]
file = "{{}}_{{any}}.xml"
[fields]
link.label = "{{}}"
{WORDS}
"""


def test_files_of_xml_go_together_too(tmp_path: Path) -> None:
    files = {
        f"T7_{pair}.xml": f"<sheet><curve of='IL' pairs='{pair}'><f>1 2</f><v>1.9 2.7</v></curve>"
        "</sheet>"
        for pair in ("1-2", "3-6")
    }
    (record,), problems = read(tmp_path, files, XML)
    assert (problems, record.label) == ([], "T7")
    assert curves(record) == {"insertion_loss 1-2", "insertion_loss 3-6"}
    with pytest.raises(BadDialect) as raised:
        pipeline(tmp_path, XML.replace("{any}", "{parameter}"))
    assert "join.file: only of a text table" in raised.value.problems[0]


MANY = ENDS.replace('[fields]\nlink.label = "{}"', 'key = "Test"\n[fields]\nlink.label = "Test"')
MANY = MANY.replace("{}_{parameter}_{end}.csv", "{parameter}.csv").replace(
    'frequency = "MHz"', 'frequency = "MHz"\ntest = "Test"'
)


def test_each_file_may_hold_one_parameter_of_every_test(tmp_path: Path) -> None:
    files = {
        "IL.csv": "Test,MHz,1-2\nA,1,1.9\nA,2,2.7\nB,1,2.0\n",
        "PS_NEXT.csv": "Test,MHz,1-2\nB,1,60\nA,1,61\nC,1,62\n",
    }
    records, problems = read(tmp_path, files, MANY)
    assert (problems, [record.label for record in records]) == ([], ["A", "B", "C"])
    assert sweep(document(records, "B"), "psnext near 1-2")["value_db"].tolist() == [60.0]
    assert curves(records[2]) == {"psnext 1-2 near"}


@pytest.mark.parametrize(
    ("dialect", "files", "labels", "told"),
    [
        (NAMED, {**FILES, "T17_HUM.csv": FILES["T17_RL.csv"]}, 2, "T17_HUM.csv: : the name is not"),
        (
            NAMED,
            {**FILES, "T17_RL.csv": FILES["T17_RL.csv"].replace("50,25", "50,2x")},
            1,
            "T17_RL.csv, line 5, column '1-2': '2x'",
        ),
        (
            NAMED,
            {**FILES, "T17_RL.csv": FILES["T17_RL.csv"].replace("1-2", "IL 1-2")},
            2,
            "no curve is known by the title 'IL 1-2' under the heading '{}_RL.csv'",
        ),
        (
            HEADER,
            {**NUMBERED, "0003.csv": NUMBERED["0003.csv"].replace(",ok", ",bad")},
            1,
            "'ok' stands under 'Result' here, and 'bad' in 0003.csv, line",
        ),
        (
            HEADER,
            {**NUMBERED, "0004.csv": NUMBERED["0001.csv"]},
            1,
            "0004.csv, line 4, column 'dB': the curve 'insertion_loss 1-2' comes a second time",
        ),
        (
            HEADER,
            {**NUMBERED, "0002.csv": NUMBERED["0002.csv"].replace("Link", "Cable")},
            1,
            "0002.csv, lines 1-4: nothing stands under 'Link' here, by which tests are joined",
        ),
        (LISTED, {**FILES, "tests.csv": LIST.replace("T18", "T19")}, 1, "no test with 'T18' under"),
        (
            LISTED,
            {**FILES, "tests.csv": f"{LIST}T99,A-99,60\n"},
            3,
            "tests.csv: lines 4-4: no curves of 'T99' under '{}' are in the files, so this test is",
        ),
        (LISTED, {"tests.csv": LIST}, 0, "no file of the form '{}_{parameter}.csv', with its"),
        (LISTED, FILES, 0, "the file tests.csv, with the other parts of its tests, is not at hand"),
    ],
)
def test_what_does_not_go_together_is_told(
    dialect: str, files: dict[str, str], labels: int, told: str, tmp_path: Path
) -> None:
    records, problems = read(tmp_path, files, dialect)
    assert len(records) == labels
    assert any(told in problem for problem in problems), problems


def test_the_example_of_the_guide_reads_as_it_says(tmp_path: Path) -> None:
    names = ("T17_IL.csv", "T17_NEXT_A.csv", "T18_IL.csv", "tests.csv")
    files, dialect, lines = job("example-spread", *names)
    records, problems = read(tmp_path, files, dialect)
    assert (problems, [record.label for record in records]) == ([], ["A-17", "A-18"])
    assert told(records[0].document) == lines


def test_the_example_of_folders_reads_as_it_says(tmp_path: Path) -> None:
    names = ("B-21/info.csv", "B-21/il.csv", "B-21/next_a.csv", "B-22/info.csv", "B-22/il.csv")
    files, dialect, lines = job("example-folders", *names)
    records, problems = read(tmp_path, files, dialect)
    assert (problems, [record.label for record in records]) == ([], ["B-21", "B-22"])
    assert told(records[0].document) == lines
    (alone,) = pipeline(tmp_path, dialect).read_all([tmp_path / "B-22" / "il.csv"])
    assert _apart_from_when(alone) == _apart_from_when(records[1])


FOLDERS = LISTED.replace(f'"{FILE}"', '"{}/{parameter}.csv"').replace(
    f"{FILE}/", "{}/{parameter}.csv/"
)
IN_FOLDERS = {name.replace("_", "/", 1): text for name, text in FILES.items()}


@pytest.mark.parametrize(
    ("other", "heads"),
    [
        ("{}/info.csv", {"T17/info.csv": 2, "T18/info.csv": 1}),
        ("{}.csv", {"T17.csv": 2, "T18.csv": 1}),
        ("info.csv", {"T17/info.csv": 2, "T18/info.csv": 1}),
        ("tests.csv", {"tests.csv": 0}),
    ],
)
@pytest.mark.parametrize("packed", [False, True])
def test_a_head_may_lie_in_the_folder_of_a_test_or_beside_it(
    other: str, heads: dict[str, int], packed: bool, tmp_path: Path
) -> None:
    lines = LIST.splitlines()
    files = {
        name: "\n".join([lines[0], *(lines[row : row + 1] if row else lines[1:]), ""])
        for name, row in heads.items()
    }
    dialect = FOLDERS.replace("tests.csv", other)
    if packed:
        with zipfile.ZipFile(tmp_path / "job.zip", "w") as archive:
            for name, content in {**IN_FOLDERS, **files}.items():
                archive.writestr(name, content)
    records, problems = read(tmp_path, {} if packed else {**IN_FOLDERS, **files}, dialect)
    assert (problems, [record.label for record in records]) == ([], ["A-17", "A-18"])
    lengths = [of.document["results"]["scalars"][0]["length_m"] for of in records]
    assert lengths == [62.0, 61.0]
    if not packed:
        (alone,) = pipeline(tmp_path, dialect).read_all([tmp_path / "T18" / "IL.csv"])
        assert _apart_from_when(alone) == _apart_from_when(records[1])


def test_a_folder_without_its_head_is_told(tmp_path: Path) -> None:
    files = {**IN_FOLDERS, "T17/info.csv": LIST.replace("T18,A-18,61\n", "")}
    records, problems = read(tmp_path, files, FOLDERS.replace("tests.csv", "{}/info.csv"))
    assert [record.label for record in records] == ["A-17"]
    assert len(problems) == 1
    assert "the file T18/info.csv, with the other parts of its tests, is not at hand" in problems[0]


def test_a_file_packed_and_not_packed_is_refused(tmp_path: Path) -> None:
    import gzip

    (tmp_path / "T17_IL.csv.gz").write_bytes(gzip.compress(FILES["T17_IL.csv"].encode()))
    records, problems = read(tmp_path, {"T17_IL.csv": FILES["T17_IL.csv"]}, NAMED)
    assert records == []
    assert "several files of the name T17_IL.csv" in problems[0]


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        (f"{FILE}", "{}_{what}.csv", "join.file: '{}_{what}.csv' may"),
        (f"{FILE}", "{}_{}_{end}.csv", "join.file: '{}_{}_{end}.csv' has {} tw"),
        (f'"{FILE}"', f'["{FILE}", "{{end}}.csv"]', "join.file: all forms have {} and `/` as"),
        ('"{}_{parameter}.csv"', '"{parameter}.csv"', "fields: '{}' is what the names of several"),
        ("[fields]", 'other = "a.csv"\n[join.csv]\n[fields]', "join.key: must be '{}'"),
        ("[fields]", 'other = "{end}.csv"\n[join.csv]\nlayout = "x"\n[fields]', "join.other: may"),
        (
            "[fields]",
            'other = "a/{}.csv"\n[join.csv]\nlayout = "x"\n[fields]',
            "join.other: may name no more folders",
        ),
        ("[fields]", '[join.csv]\nlayout = "test-per-row"\n[fields]', "join.other: is missing"),
        (f"{FILE}/Result", "{}/{parameter} Result", "figures.verdict: '{}/{parameter} Result' may"),
        (f"{FILE}", "{}_{end}.csv", "csv.curves.name: no template holds {parameter}"),
    ],
)
def test_a_form_that_cannot_be_is_refused(old: str, new: str, told: str, tmp_path: Path) -> None:
    plain = (
        NAMED
        if old.startswith((FILE + "/", "["))
        else NAMED.replace(f"{FILE}/Result", "{parameter} result")
    )
    assert plain.count(old) == 1
    dialect = plain.replace(old, new)
    with pytest.raises(BadDialect) as raised:
        pipeline(tmp_path, dialect)
    assert any(of.startswith(told) for of in raised.value.problems), raised.value.problems


def test_a_book_keeps_them_all_and_sees_when_one_changes_or_comes(tmp_path: Path) -> None:
    exports = tmp_path / "exports"
    exports.mkdir()
    some = {name: FILES[name] for name in ("T17_PS_NEXT.csv", "T17_RL.csv")}
    read(exports, some, NAMED)
    book = open_or_begin(tmp_path / "book", None)
    through = pipeline(exports, NAMED)

    def status() -> dict[str, str]:
        return {of.name: of.status.value for of in gather.gather(book, [exports], through)}

    def kept() -> list[int]:
        return [len(curves(of)) for of in store.records(book) if isinstance(of, Record)]

    assert set(status().values()) == {"gathered"}
    assert set(status().values()) == {"unchanged"}
    assert kept() == [2]
    (exports / "T17_IL.csv").write_text(FILES["T17_IL.csv"], encoding="utf-8")
    through = pipeline(exports, NAMED)
    told = status()
    assert (told["T17_IL.csv"], told["T17_PS_NEXT.csv"]) == ("gathered", "read again")
    assert kept() == [4]
    changed = FILES["T17_RL.csv"].replace("50,25", "50,24")
    (exports / "T17_RL.csv").write_text(changed, encoding="utf-8")
    through = pipeline(exports, NAMED)
    assert status()["T17_IL.csv"] == "read again"
    assert kept() == [4]
    assert list(prove.prove(book.root, Proof())) == []
    again = open_or_begin(tmp_path / "again", None)
    found = list(gather.gather(again, [exports], pipeline(exports, NAMED)))
    assert sum(of.records for of in found) == 1
    third = open_or_begin(tmp_path / "third", None)
    found = list(gather.gather(third, [again.root / "sources"], pipeline(exports, NAMED)))
    assert [of.records for of in found if of.name == "T17_IL.csv"] == [1]
    assert [len(curves(of)) for of in store.records(third) if isinstance(of, Record)] == [4]
