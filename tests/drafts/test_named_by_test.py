"""Drafts of exports with a file of curves each test, called as a column of tables beside has it.

Pairs are numbered under T568A: 4-5, 3-6, 1-2 and 7-8 are pairs 1 to 4 (ANSI/TIA-568, recalled).
"""

import json
import re
import zipfile
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Any

import pytest

from sweepbook.draft.examples import chosen
from tests.program import run

from .drafting import curves, written
from .links import KHZ, WORDS, Link, link, shifted

RAW = ("insertion_loss", "return_loss", "next")
NUMBERS = {"4-5": "1", "3-6": "2", "1-2": "3", "7-8": "4"}
SIDES = {None: "", "near": "main", "far": "far"}
LINKS = {"QD310": link("N-1", 31.0), "QD311": link("N-2", 88.5), "QD312": link("N-3", 12.0)}
CASES = (("insertion_loss", None, "7-8", "2.91"), ("return_loss", "far", "3-6", "0.84"))
"""Parameter, end, pair, margin in dB; of no calculation, for the reading alone."""


def _names(one: Link) -> Iterable[tuple[list[str], list[int]]]:
    for (parameter, end, pairs), values in one.curves.items():
        if parameter in RAW:
            told = "-".join(NUMBERS[pair] for pair in pairs)
            yield [WORDS[parameter], told, SIDES[end]], values


def in_columns(one: Link) -> str:
    some = list(_names(one))
    lines = [",".join(["kHz", *(" ".join(filter(None, name)) for name, _ in some)])]
    for at, khz in enumerate(KHZ):
        lines.append(",".join([str(khz), *(shifted(values[at], 2) for _, values in some)]))
    return "\n".join([*lines, ""])


def in_points(one: Link) -> str:
    lines = ["Quantity,Pair,End,kHz,dB"]
    for name, values in _names(one):
        points = zip(KHZ, values, strict=True)
        lines += [",".join([*name, str(khz), shifted(of, 2)]) for khz, of in points]
    return "\n".join([*lines, ""])


def in_rows(one: Link) -> str:
    lines = [",".join(["Quantity", "Pair", "End", *(f"{khz} kHz" for khz in KHZ)])]
    lines += [",".join([*name, *(shifted(of, 2) for of in values)]) for name, values in _names(one)]
    return "\n".join([*lines, ""])


def in_sections(one: Link) -> str:
    lines = []
    for parameter in RAW:
        for end, side in SIDES.items():
            some = {k[2]: of for k, of in one.curves.items() if k[:2] == (parameter, end)}
            if some:
                titles = ["-".join(NUMBERS[pair] for pair in pairs) for pairs in some]
                lines += [
                    " ".join(filter(None, [WORDS[parameter], side])),
                    ",".join(["kHz", *titles]),
                ]
                for at, khz in enumerate(KHZ):
                    cells = [shifted(of[at], 2) for of in some.values()]
                    lines.append(",".join([str(khz), *cells]))
                lines.append("")
    return "\n".join(lines)


def tables(links: Mapping[str, Link] = LINKS) -> dict[str, str]:
    """A row a test, a row a pair, a row a parameter; by the name of the file."""
    tests = ["Test,Link,Norm,Tested on,Wiring,Outcome"]
    pairs = ["Test,Pair,Length (m)"]
    worst = ["Test,Parameter,Worst margin (dB),Pair,End,Frequency (kHz)"]
    for at, (test, one) in enumerate(links.items()):
        tests.append(f"{test},{one.label},TIA-568.2-D Cat 6A PL,2026-03-04 14:1{at}:00,T568A,PASS")
        pairs += [f"{test},{number},{one.metres + at:.1f}" for at, number in enumerate("1234")]
        worst += [
            ",".join([test, WORDS[parameter], margin, NUMBERS[pair], SIDES[end], str(KHZ[3])])
            for parameter, end, pair, margin in CASES
        ]
    found = {"tests.csv": tests, "pairs.csv": pairs, "worst.csv": worst}
    return {name: "\n".join([*lines, ""]) for name, lines in found.items()}


def files(
    body: Callable[[Link], str], form: str, links: Mapping[str, Link] = LINKS
) -> dict[str, str]:
    return {form.replace("{}", test): body(one) for test, one in links.items()}


def put(folder: Path, texts: Mapping[str, str]) -> list[Path]:
    for name, text in texts.items():
        (folder / name).parent.mkdir(exist_ok=True, parents=True)
        (folder / name).write_text(text, encoding="utf-8")
    return [folder / name for name in texts]


def drafted(paths: Iterable[Path]) -> str:
    result = run("dialect", "draft", *paths)
    assert result.exit_code == 0, result.output
    return result.stdout


def gathered(folder: Path, paths: Iterable[Path], draft: str) -> list[dict[str, Any]]:
    """The records of some files by a draft, in the order of their labels; none has a problem."""
    settled = draft.replace('first = "TO-BE-SETTLED"', 'first = "disturbing"')
    assert "TO-BE-SETTLED" not in settled.partition("schema =")[2]
    (folder / "mine.toml").write_text(settled, encoding="utf-8")
    result = run("gather", folder / "book", *paths, "--dialect", folder / "mine.toml")
    assert result.exit_code == 0, result.output
    found = (folder / "book").glob("records/*/*")
    return sorted((json.loads(of.read_bytes()) for of in found), key=lambda of: of["link"]["label"])


def check_all(documents: list[dict[str, Any]], links: Mapping[str, Link] = LINKS) -> None:
    assert [document["link"]["label"] for document in documents] == [
        one.label for one in links.values()
    ]
    for document, one in zip(documents, links.values(), strict=True):
        assert curves(document) == written(one, *RAW)
        assert document["stated"]["overall"]["verdict"] == "pass"
        lengths = {tuple(of["pairs"]): of["length_m"] for of in document["results"]["scalars"]}
        assert lengths == {(pair,): one.metres + at for at, pair in enumerate(NUMBERS)}
        margins = {
            (item["parameter"], item.get("end"), *item["pairs"]): item["worst_margin"]["margin_db"]
            for item in document["stated"]["items"]
        }
        assert margins == {(p, end, pair): float(margin) for p, end, pair, margin in CASES}


BODIES = (in_columns, in_points, in_rows, in_sections)
FORMS = ("{}.csv", "curves/{}.csv", "sweep_{}_raw.csv", "{}/curves.csv")


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("body", BODIES, ids=lambda body: body.__name__)
def test_three_tables_are_joined_by_the_names_of_files_in_any_order(
    body: Callable[[Link], str], form: str, tmp_path: Path
) -> None:
    paths = put(tmp_path / "job", tables() | files(body, form))
    draft = drafted(paths)
    assert draft.count('\nkey = "{}"\nother_key = "Test"\n') == 3
    assert f'\nfile = "{form}"\n' in draft
    assert '\nscheme = "T568A"\n' in draft
    again = drafted(reversed(paths))
    assert again.count('\nkey = "{}"\nother_key = "Test"\n') == 3
    check_all(gathered(tmp_path, [tmp_path / "job"], draft))


@pytest.mark.parametrize("form", ["{}.csv", "curves/{}.csv"])
def test_an_archive_with_many_files_of_curves_shows_its_tables_too(
    form: str, tmp_path: Path
) -> None:
    links = {f"QD{at}": link(f"N-{at}", 5.0 + at) for at in range(101, 115)}
    packed = tmp_path / "bay-7.zip"
    with zipfile.ZipFile(packed, "w") as archive:
        for name, text in (tables(links) | files(in_columns, form, links)).items():
            archive.writestr(name, text)
    draft = drafted([packed])
    assert draft.count('\nkey = "{}"\nother_key = "Test"\n') == 3
    check_all(gathered(tmp_path, [packed], draft), links)


def test_the_files_of_an_archive_are_chosen_by_kind() -> None:
    curved = [f"curves/C{at}-{'RGB'[at % 3]}{at}.csv" for at in range(9)]
    assert chosen([*curved, "pairs.csv", "tests.csv"], 4) == [0, 1, 9, 10]
    assert chosen(["a.csv", "b.csv", "c.csv"], 2) == [0, 1]
    assert chosen(["T1_IL.csv", "T1_RL.csv", "T1_NEXT.csv", "T2_IL.csv"], 3) == [0, 1, 2]
    assert chosen([], 8) == []


def test_worst_cases_are_no_curves_beside_files_of_curves(tmp_path: Path) -> None:
    """Their names tell no test, and the worst cases are more than any curve has points."""
    many = {f"QD{at}": link(f"N-{at}", 5.0 + at) for at in range(300, 330)}
    odd = {
        f"north-{at}.csv": in_columns(one) for at, one in zip("abc", LINKS.values(), strict=True)
    }
    draft = drafted(put(tmp_path, tables(many) | odd))
    assert '\nlayout = "curve-per-column"\n' in draft
    assert 'value = "Worst margin (dB)"' not in draft
    assert "'worst.csv'" in draft.partition("[csv]")[0]


def test_without_a_table_of_tests_the_name_is_the_label(tmp_path: Path) -> None:
    texts = files(in_columns, "{}.csv") | {"pairs.csv": tables()["pairs.csv"]}
    paths = put(tmp_path, texts)
    draft = drafted(paths)
    assert '\nlink.label = "{}"\n' in draft
    documents = gathered(tmp_path, paths, draft)
    assert [document["link"]["label"] for document in documents] == list(LINKS)
    assert [document["results"]["scalars"][0]["length_m"] for document in documents] == [
        31.0,
        88.5,
        12.0,
    ]


def test_one_file_of_curves_is_enough_where_its_whole_name_is_a_test(tmp_path: Path) -> None:
    texts = tables() | files(in_columns, "{}.csv", {"QD311": LINKS["QD311"]})
    draft = drafted(put(tmp_path, texts))
    assert draft.count('\nkey = "{}"\nother_key = "Test"\n') == 3
    paths = put(tmp_path, files(in_columns, "{}.csv"))
    every = [*paths, *(tmp_path / name for name in tables())]
    check_all(gathered(tmp_path, every, draft))


def test_a_file_of_no_test_is_named(tmp_path: Path) -> None:
    texts = tables() | files(in_columns, "{}.csv")
    stock = "Article,Held,Shelf\nlead,14,2\ncord,9,3\nplug,220,7\n"
    draft = drafted(put(tmp_path, {**texts, "stock.csv": stock}))
    assert draft.count("\n[[join]]\n") == 3
    assert "'stock.csv'" in draft.partition("[csv]")[0]


def test_a_column_of_whole_names_of_files_is_none_that_joins_the_other_tables(
    tmp_path: Path,
) -> None:
    texts = tables() | files(in_columns, "{}.csv")
    first, *rows = texts["tests.csv"].splitlines()
    lines = [f"File,{first}", *(f"{row.partition(',')[0]}.csv,{row}" for row in rows)]
    texts["tests.csv"] = "\n".join([*lines, ""])
    paths = put(tmp_path, texts)
    draft = drafted(paths)
    assert draft.count('\nkey = "{}"\nother_key = "Test"\n') == 3
    check_all(gathered(tmp_path, paths, draft))


def test_a_column_of_whole_names_of_files_joins_where_no_other_does(tmp_path: Path) -> None:
    texts = files(in_columns, "{}.csv")
    for name, text in tables().items():
        texts[name] = re.sub("(?m)^(QD[0-9]+),", r"\1.csv,", text)
    paths = put(tmp_path, texts)
    draft = drafted(paths)
    assert draft.count('\nkey = "{}"\nother_key = "Test"\n') == 3
    check_all(gathered(tmp_path, paths, draft))


def test_of_two_columns_that_names_hold_a_person_chooses(tmp_path: Path) -> None:
    texts = tables() | files(in_columns, "{}.csv")
    first, *rows = texts["tests.csv"].splitlines()
    others = [*list(LINKS)[1:], next(iter(LINKS))]
    lines = [f"{first},Twin", *(f"{row},{of}" for row, of in zip(rows, others, strict=True))]
    texts["tests.csv"] = "\n".join([*lines, ""])
    draft = drafted(put(tmp_path, texts))
    assert '\nother_key = "TO-BE-SETTLED"\n' in draft
    assert "key '{}' with other_key 'Twin'" in " ".join(draft.replace("\n#", "").split())
