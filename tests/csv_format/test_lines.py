"""Lines of a file: encodings, line ends, quotes, bounds, and files that are cut off."""

import csv
import gzip
import itertools
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sweepbook.dialect.load import parse
from sweepbook.source import Source
from sweepbook_plugins.csv.forms import Layout
from sweepbook_plugins.csv.layout import layout_of
from sweepbook_plugins.csv.lines import blocks, seems_cut
from tests.reading import Result, sweep

from .dialects import CURVES, POINTS, changed
from .reading import read

TEXT = "Link,Büro 7\nMHz,IL 1-2\n1,1.90\n2,2.50\n100,19.40\n"
POINT_TEXT = "Test;What;Pair;End;MHz;dB;Text\n1;Link;;;;;A\n1;IL;1-2;;1;1.9;\n"


def encoded(encoding: str) -> str:
    layout = 'layout = "curve-per-column"'
    return changed(CURVES, layout, f'{layout}\nencoding = "{encoding}"')


@pytest.mark.parametrize(
    ("encoding", "codec"),
    [
        ("utf-8", "utf-8"),
        ("utf-8", "utf-8-sig"),
        ("utf-16", "utf-16"),
        ("utf-16-le", "utf-16-le"),
        ("utf-16-be", "utf-16-be"),
        ("cp1252", "cp1252"),
        ("cp850", "cp850"),
        ("iso-8859-15", "iso-8859-15"),
    ],
)
def test_encodings(encoding: str, codec: str, tmp_path: Path) -> None:
    document = read(tmp_path, TEXT.encode(codec), encoded(encoding)).document
    assert document["link"]["label"] == "Büro 7"


@pytest.mark.parametrize(
    ("encoding", "label"),
    [
        ("cp1251", "Этаж 7"),
        ("koi8-r", "Этаж 7"),
        ("cp1253", "Κτίριο 7"),
        ("cp1254", "Bina ığş"),
        ("gb18030", "楼层 7"),
        ("big5", "樓層 7"),
        ("cp949", "층 7"),
        ("shift_jis", "ポート|ソ 7"),  # whose second bytes are those of "|" and of a backslash
    ],
)
def test_code_pages_of_other_scripts(encoding: str, label: str, tmp_path: Path) -> None:
    raw = TEXT.replace("Büro 7", label).encode(encoding)
    assert read(tmp_path, raw, encoded(encoding)).document["link"]["label"] == label
    assert "csv.encoding" in read(tmp_path, raw, CURVES).lost


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_line_ends(end: str, tmp_path: Path) -> None:
    result = read(tmp_path, TEXT.replace("\n", end), CURVES)
    assert result.document["origin"][0]["locator"] == "lines 1-5"


def test_a_compressed_file_by_its_content(tmp_path: Path) -> None:
    assert read(tmp_path, gzip.compress(TEXT.encode()), CURVES).document["link"]["label"]


@pytest.mark.parametrize(
    ("raw", "expected"),
    [
        (TEXT.encode("cp1252"), "line 1: bytes that are not utf-8; see csv.encoding"),
        (TEXT.encode("utf-16"), "csv.encoding"),
        (TEXT.replace("1.90", "1.90\0").encode(), "line 3: a zero byte"),
    ],
)
def test_a_wrong_encoding_is_told(raw: bytes, expected: str, tmp_path: Path) -> None:
    assert expected in read(tmp_path, raw, CURVES).lost


def test_bytes_that_cannot_be_decoded_lose_one_test(tmp_path: Path) -> None:
    more = "2;Link;;;;;B\n2;IL;1-2;;1;1.8;\n"
    raw = (POINT_TEXT + more).encode().replace(b"1.9;", b"1.9;\xff")
    result = read(tmp_path, raw, POINTS)
    assert [record.label for record in result.records] == ["B"]
    assert "line 3: bytes that are not utf-8" in result.problems[0].message


def test_a_cut_off_utf16_file_says_so(tmp_path: Path) -> None:
    raw = TEXT.encode("utf-16")[:-1]
    assert "bytes that are not utf-16" in read(tmp_path, raw, encoded("utf-16")).lost


def test_a_damaged_gz_keeps_the_tests_before(tmp_path: Path) -> None:
    body = "".join(
        f"{test};Link;;;;;L{test}\n"
        + "".join(f"{test};IL;1-2;;{at};{at * test}.5;\n" for at in range(1, 90))
        for test in range(1, 1500)
    )
    packed = gzip.compress((POINT_TEXT.splitlines()[0] + "\n" + body).encode())
    result = read(tmp_path, packed[: len(packed) // 2], changed_bounds())
    assert 10 < len(result.records) < 1499
    assert "damaged or cut off" in result.problems[-1].message
    assert result.problems[-1].lost_record


def changed_bounds() -> str:
    """The dialect of points as it is; 90 dB times 1500 would not be physical, so scale it away."""
    return changed(POINTS, 'insertion_loss = "IL"', 'propagation_delay = "IL"')


def block_texts(folder: Path, text: str) -> list[Any]:
    path = folder / "lines.csv"
    path.write_text(text, encoding="utf-8", newline="")
    return [
        (block.first + at, row, block.bad.get(at, ""))
        for block in blocks(Source(path), layout())
        for at, row in enumerate(block.rows)
    ]


def layout() -> Layout:
    return layout_of(parse(CURVES.encode()))


def test_an_open_quote_swallows_no_line(tmp_path: Path) -> None:
    rows = block_texts(tmp_path, 'a,b\n"c,d\ne,f"\ng,"h"\n')
    assert [(number, row) for number, row, bad in rows if not bad] == [
        (1, ["a", "b"]),
        (3, ["e", 'f"']),
        (4, ["g", "h"]),
    ]
    assert [number for number, _, bad in rows if bad] == [2]


@pytest.mark.parametrize("quotes", ['a";"b', '"', '""""', '"a"b', 'a"b"', '","'])
def test_every_line_stays_a_line_whatever_its_quotes(quotes: str, tmp_path: Path) -> None:
    lines = ["1,2", quotes, "3,4", quotes, quotes, "5,6"]
    rows = block_texts(tmp_path, "\n".join(lines))
    assert [number for number, _, _ in rows] == [1, 2, 3, 4, 5, 6]
    assert [row for number, row, _ in rows if number in (1, 3, 6)] == [
        ["1", "2"],
        ["3", "4"],
        ["5", "6"],
    ]


def test_every_arrangement_of_quotes_commas_and_letters(tmp_path: Path) -> None:
    for letters in itertools.product('",a', repeat=5):
        rows = block_texts(tmp_path, "x,y\n" + "".join(letters) + "\nz,w\n")
        assert [number for number, _, _ in rows] == [1, 2, 3]
        assert (rows[0][1], rows[2][1]) == (["x", "y"], ["z", "w"])


def test_a_line_without_end_is_cut_and_told(tmp_path: Path) -> None:
    rows = block_texts(tmp_path, "a,b\n" + "1" * 3_000_000 + "\nc,d\n")
    assert [number for number, _, _ in rows] == [1, 2, 3]
    assert rows[1][2] == "the line is longer than 1,000,000 characters"
    assert rows[2][1] == ["c", "d"]


def test_a_million_columns_are_told(tmp_path: Path) -> None:
    rows = block_texts(tmp_path, "," * 20_000 + "\nc,d\n")
    assert rows[0][2] == "the line has 20,001 cells, more than 10,000"
    assert rows[1][1] == ["c", "d"]


def test_comments_and_lines_to_skip(tmp_path: Path) -> None:
    marks = 'layout = "curve-per-column"\ncomment = "#"\nskip = ["End of export"]'
    dialect = changed(CURVES, 'layout = "curve-per-column"', marks)
    text = f"# made on Monday\n#by hand\n{TEXT}# between\nEnd of export\n"
    document = read(tmp_path, text, dialect).document
    assert document["extra"] == {"comments": "# made on Monday\n#by hand\n# between"}
    assert len(sweep(document, "insertion_loss 1-2")["value_db"]) == 3


def test_headings_make_keys_of_their_own(tmp_path: Path) -> None:
    heading = 'layout = "curve-per-column"\npreamble.headings = ["[Main]", "[Remote]"]'
    dialect = changed(CURVES, 'layout = "curve-per-column"', heading)
    text = f"Link,A\n[Main]\nSerial,1\n[Remote]\nSerial,2\n{TEXT.partition(chr(10))[2]}"
    assert read(tmp_path, text, dialect).document["extra"] == {
        "[Main]/Serial": "1",
        "[Remote]/Serial": "2",
    }


@pytest.mark.parametrize(
    ("texts", "cut"),
    [
        (["1.90", "2.50", "19.4"], True),
        (["1.90", "2.50", "19"], True),
        (["1.90", "2.50", "19.40"], False),
        (["1.9", "2.50", "19"], False),
        (["1.90", "2"], False),
        (["1", "2", "3"], False),
    ],
)
def test_a_last_number_that_has_lost_digits(texts: list[str], cut: bool) -> None:
    assert seems_cut(texts, ".") is cut


def test_a_file_that_ends_within_its_last_number(tmp_path: Path) -> None:
    def curves(text: str) -> Result:
        return read(tmp_path, text, CURVES)

    assert len(curves(TEXT.rstrip("\n")).records) == 1
    assert "line 5, column 'IL 1-2': the file ends within" in curves(TEXT[:-2]).lost


def test_points_that_end_within_the_last_number(tmp_path: Path) -> None:
    rows = [
        "Test;What;Pair;End;Text;MHz;dB",
        "1;Link;;;A;;",
        "1;IL;1-2;;;1;1.9",
        "1;IL;1-2;;;2;2.1",
    ]
    text = "\n".join([*rows, "1;IL;1-2;;;3;2"])
    assert "line 5, column 'dB': the file ends within" in read(tmp_path, text, POINTS).lost
    assert len(read(tmp_path, f"{text}\n", POINTS).records) == 1


def test_millions_of_empty_lines_cost_little(tmp_path: Path) -> None:
    document = read(tmp_path, TEXT + "\n" * 3_000_000, CURVES).document
    assert document["origin"][0]["locator"] == "lines 1-5"


def test_rows_without_end_are_refused_and_blank_ones_are_none(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sweepbook_plugins.csv.curve_table.MOST_ROWS", 1000)
    monkeypatch.setattr("sweepbook_plugins.csv.lines.BLOCK_CHARACTERS", 1000)
    assert read(tmp_path, TEXT + ",\n" * 5000, CURVES).document["origin"]
    rows = "".join(f"{at},1.5\n" for at in range(101, 1999))
    assert "more than 1,000 rows" in read(tmp_path, TEXT + rows, CURVES).lost


def test_a_test_without_end_is_refused_and_the_next_is_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sweepbook_plugins.csv.points.MOST_ROWS", 50)
    rows = "".join(f"1;IL;1-2;;{at};1.5;\n" for at in range(1, 400))
    result = read(tmp_path, POINT_TEXT + rows + "2;Link;;;;;B\n2;IL;1-2;;1;1.8;\n", POINTS)
    assert [record.label for record in result.records] == ["B"]
    assert "one test has more than 50 rows" in result.problems[0].message
    assert "(and 99 times more)" in result.problems[0].message


PLAIN = st.text(st.characters(exclude_characters='"\n\r\0', exclude_categories=["Cs"]), max_size=40)


@settings(deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(lines=st.lists(PLAIN, min_size=1, max_size=5))
def test_lines_without_quotes_split_as_the_standard_reader_splits_them(
    lines: list[str], tmp_path: Path
) -> None:
    rows = block_texts(tmp_path, "\n".join(["x,y", *lines, "z"]))
    assert [row for _, row, _ in rows] == list(csv.reader(["x,y", *lines, "z"], strict=True))


@pytest.mark.parametrize("kept", [12, 40])
def test_a_file_cut_off_before_its_first_line_names_no_lines_and_no_titles(
    tmp_path: Path, kept: int
) -> None:
    whole = gzip.compress(b"Link,A-17\nMHz,IL 1-2\n1,1.9\n2,2.5\n")
    result = read(tmp_path, whole[:kept], CURVES, "cut.csv.gz")
    (problem,) = result.problems
    assert problem.place == ""
    assert problem.message.startswith("the file cannot be read to its end: the compressed data")
    assert "copy the file again" in problem.message
    assert "cut.csv.gz" not in problem.message, "the source stands before it"
    assert "titles" not in problem.message
