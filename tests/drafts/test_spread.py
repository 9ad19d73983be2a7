"""Drafts of tests whose curves an export spreads over several files, one a parameter."""

import zipfile
from collections.abc import Sequence
from pathlib import Path

import pytest

from sweepbook.errors import ReadProblem
from sweepbook.record.model import Record
from tests.joined.test_join import pipeline
from tests.program import run

from .drafting import curves, written
from .links import KHZ, Link, link, shifted

ENDS = {None: "", "near": "_main", "far": "_remote"}
WORDS = {"insertion_loss": "IL", "return_loss": "RL", "next": "NEXT"}
LIST = "Test;Cable;Norm;Begun;Length m\nT7;A-7;Cat 6A PL TIA 568.2-D;2026-03-04 14:22;60,0\n"
LIST += "T8;A-8;Cat 6A PL TIA 568.2-D;2026-03-04 14:31;70,0\n"


def files(one: Link, form: str) -> dict[str, str]:
    """A file a parameter and end, in kHz, by its path; {} is the test, {what} parameter and end."""
    found = {}
    for parameter, word in WORDS.items():
        for end, side in ENDS.items():
            some = {k[2]: of for k, of in one.curves.items() if k[:2] == (parameter, end)}
            if not some:
                continue
            titles = ["-".join(pair.replace("-", "") for pair in pairs) for pairs in some]
            lines = [f"Exported;2026-03-05\nResult;PASS\n{';'.join(['kHz', *titles])}"]
            lines += [
                ";".join([str(khz), *(shifted(of[at], 2, ",") for of in some.values())])
                for at, khz in enumerate(KHZ)
            ]
            path = form.replace("{}", one.label).replace("{what}", f"{word}{side}")
            found[path] = "\n".join([*lines, ""])
    return found


def drafted(folder: Path, names: Sequence[str]) -> str:
    result = run("dialect", "draft", *(folder / name for name in names))
    assert result.exit_code == 0, result.output
    return result.stdout


def read(folder: Path, dialect: str) -> list[Record]:
    items = list(pipeline(folder, dialect).read_all([folder]))
    assert [of.message for of in items if isinstance(of, ReadProblem)] == []
    return [of for of in items if isinstance(of, Record)]


@pytest.mark.parametrize("form", ["{}_{what}.csv", "{}/{what}.csv", "{what}_{}.csv"])
def test_the_form_of_the_names_is_worked_out(form: str, tmp_path: Path) -> None:
    links = [link("T7", 60.0), link("T8", 70.0)]
    every = {path: text for one in links for path, text in files(one, form).items()}
    if form == "{what}_{}.csv":  # an end between parameter and test takes a person
        every = {path: text for path, text in every.items() if "_main" not in path}
        every = {path: text for path, text in every.items() if "_remote" not in path}
        every |= {path.replace("IL", "ACRF"): text for path, text in every.items()}
    for path, text in every.items():
        (tmp_path / path).parent.mkdir(exist_ok=True)
        (tmp_path / path).write_text(text, encoding="utf-8")
    draft = drafted(tmp_path, list(every))
    plain = form.replace("{what}", "{parameter}")
    assert f'"{plain}"' in draft
    assert f'"{plain}/Result"' in draft
    assert '\nlink.label = "{}"\n' in draft
    if form != "{what}_{}.csv":
        first, second = read(tmp_path, draft)
        assert (first.label, second.label) == ("T7", "T8")
        assert curves(first.document) == written(links[0], *WORDS)
        assert curves(second.document) == written(links[1], *WORDS)
        assert "overall" not in first.document["stated"]


def test_a_table_of_tests_beside_them_is_joined(tmp_path: Path) -> None:
    links = [link("T7", 60.0), link("T8", 70.0)]
    every = {path: text for one in links for path, text in files(one, "{}_{what}.csv").items()}
    with zipfile.ZipFile(tmp_path / "job.zip", "w") as packed:
        for path, text in every.items():
            packed.writestr(path, text)
        packed.writestr("tests.csv", LIST)
    names = [*list(every)[:5], "tests.csv"]
    for name in names:
        (tmp_path / name).write_text({**every, "tests.csv": LIST}[name], encoding="utf-8")
    draft = drafted(tmp_path, names)
    assert '\nother = "tests.csv"\n' in draft
    assert '\nkey = "{}"\nother_key = "Test"\n' in draft
    for name in names:
        (tmp_path / name).unlink()
    records = read(tmp_path, draft)
    assert [record.label for record in records] == ["A-7", "A-8"]
    assert curves(records[1].document) == written(links[1], *WORDS)
    lengths = [of.document["results"]["scalars"][0]["length_m"] for of in records]
    assert lengths == [60.0, 70.0]


@pytest.mark.parametrize(
    ("columns", "settled"),
    [
        ("Test;Again", "T7;T8,T8;T7"),  # the same texts lead to other tests
        ("Test;Again", "T7;T7,T8;T8"),
        ("No;Test", "7;T7,8;T8"),
    ],
)
def test_a_key_is_left_to_a_person_where_another_one_fits(
    columns: str, settled: str, tmp_path: Path
) -> None:
    links = [link("T7", 60.0), link("T8", 70.0)]
    every = {path: text for one in links for path, text in files(one, "{}_{what}.csv").items()}
    rows = zip(LIST.splitlines(), [columns, *settled.split(",")], strict=True)
    every["tests.csv"] = "".join(f"{two};{row.partition(';')[2]}\n" for row, two in rows)
    for name, text in every.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    draft = drafted(tmp_path, list(every))
    if settled == "T7;T8,T8;T7":
        told = "key '{}' with other_key 'Test' or key '{}' with other_key 'Again'"
        assert told in " ".join(draft.replace("\n#", "").split())
        assert '\nother_key = "TO-BE-SETTLED"\n' in draft
    else:
        assert [record.label for record in read(tmp_path, draft)] == ["A-7", "A-8"]


def test_a_table_that_holds_no_such_text_is_left_to_a_person(tmp_path: Path) -> None:
    every = files(link("T7", 60.0), "{}_{what}.csv") | {"tests.csv": LIST.replace("T", "Q")}
    every["tests.csv"] = every["tests.csv"].replace("Qest", "Test").replace("QIA", "TIA")
    for name, text in every.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    draft = drafted(tmp_path, list(every))
    assert "COULD NOT TELL: no column holds these texts; seen: 'T7'" in draft
    assert '\nother_key = "TO-BE-SETTLED"\n' in draft


def test_whole_exports_whose_names_hold_such_a_word_are_no_parts(tmp_path: Path) -> None:
    one = link("T7", 60.0)
    titles = "kHz;IL 12;IL 36;IL 45;IL 78"
    some = [one.curves["insertion_loss", None, (pair,)] for pair in ("1-2", "3-6", "4-5", "7-8")]
    rows = [
        ";".join([str(khz), *(shifted(of[at], 2, ",") for of in some)])
        for at, khz in enumerate(KHZ)
    ]
    for name in ("T7_IL_check.csv", "T8_NEXT_floor.csv"):
        text = "\n".join([f"Link;{name[:2]}", titles, *rows, ""])
        (tmp_path / name).write_text(text, encoding="utf-8")
    assert "[join]" not in drafted(tmp_path, ["T7_IL_check.csv", "T8_NEXT_floor.csv"])
