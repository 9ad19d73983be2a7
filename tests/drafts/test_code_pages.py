"""Which code page a file is in, by the letters that it makes of the bytes."""

from pathlib import Path

import pytest

from sweepbook.draft.alphabets import PAGES
from sweepbook.draft.code_pages import guess
from sweepbook.schemas import schema
from sweepbook.source import Source
from sweepbook_plugins.csv.draft.text import read_all
from sweepbook_plugins.xml.head import root_of
from tests.program import run

WRITTEN = """
ru cp1251 koi8-r iso-8859-5 cp866
uk cp1251 koi8-u iso-8859-5
bg cp1251
el cp1253 iso-8859-7
tr cp1254 iso-8859-9 cp857
he cp1255 iso-8859-8
ar cp1256 iso-8859-6
pl cp1250 iso-8859-2 cp852
cs cp1250 iso-8859-2 cp852
sk cp1250 iso-8859-2
hu cp1250 iso-8859-2 cp852
lt cp1257 iso-8859-13
lv cp1257 iso-8859-13
de cp1252 iso-8859-1 cp850 cp437 mac-roman
fr cp1252 iso-8859-15 cp850 cp437 mac-roman
es cp1252 cp850 mac-roman
pt cp1252 cp850
sv cp1252 cp850
da cp1252
zh gb18030 gbk
zh_Hant big5
ja shift_jis cp932 euc-jp
ko cp949 euc-kr
"""
CASES = [(line.split()[0], page) for line in WRITTEN.split("\n")[1:-1] for page in line.split()[1:]]


def _words(language: str, page: str) -> list[str]:
    """Names of days, months and places that a code page can write (Unicode CLDR by Babel)."""
    locale = pytest.importorskip("babel").Locale.parse(language)
    names = [*locale.days["format"]["wide"].values(), *locale.months["format"]["wide"].values()]
    names += [name for code, name in locale.territories.items() if code.isalpha()][:40]
    return [name for name in names if name.encode(page, "ignore").decode(page) == name]


@pytest.mark.parametrize(("language", "page"), CASES)
def test_words_of_a_language_are_read_as_they_were_written(language: str, page: str) -> None:
    text = ";".join(_words(language, page)) + "\r\n1;2,5;-3\r\n"
    raw = text.encode(page)
    assert not raw.isascii()
    found = guess(raw)
    assert raw.decode(found.page) == text, found
    assert len(found.words) == 3
    assert all(word in text and not word.isascii() for word in found.words)
    assert all(raw.decode(other, "replace") != text for other, _ in found.others)


def test_titles_in_capitals_are_told_from_the_page_with_small_letters_in_their_place() -> None:
    """KOI8-R (RFC 1489) has small letters where Windows-1251 has capitals."""
    text = "НОМЕР ИСПЫТАНИЯ;ЧАСТОТА;ВНОСИМЫЕ ПОТЕРИ\n1;2;3\n"
    assert guess(text.encode("cp1251")).page == "cp1251"
    assert guess(text.lower().encode("cp1251")).page == "cp1251"
    assert guess(text.title().encode("koi8-r")).page == "koi8-r"


def test_a_file_with_hardly_a_letter_is_in_the_page_of_the_others(tmp_path: Path) -> None:
    few, many = tmp_path / "heads.csv", tmp_path / "points.csv"
    few.write_bytes("Nr;Link;м\n1;A-1;31,0\n".encode("cp1251"))
    many.write_bytes("Nr;Величина;Частота;Значение\n1;Затухание;1;2\n".encode("cp1251"))
    texts = list(read_all([Source(few), Source(many)]))
    assert [text.encoding for text in texts if text] == ["cp1251", "cp1251"]
    (alone,) = read_all([Source(few)])
    assert alone is not None
    assert alone.encoding != "cp1251"


def test_each_page_that_is_guessed_may_stand_in_a_dialect() -> None:
    for layout in ("csv", "touchstone"):
        known = schema(f"{layout}-layout-0.schema.json")["properties"]["encoding"]["enum"]
        assert set(known) >= PAGES.keys()
        for page in known:
            assert "Ab1;".encode(page).decode(page) == "Ab1;"


def test_a_draft_tells_the_page_with_words_and_other_candidates(tmp_path: Path) -> None:
    rows = "\n".join(
        f"{label};Вносимые потери;{n};{2 * n},5" for label in "АБ" for n in range(1, 9)
    )
    path = tmp_path / "export.csv"
    path.write_bytes(f"Кабель;Величина;МГц;Значение\n{rows}\n".encode("cp1251"))
    draft = " ".join(run("dialect", "draft", path).stdout.replace("\n#", "").split())
    assert "ASSUMED: by the letters that it makes of the bytes; the next likely ones are" in draft
    assert "koi8-r ('йЮАЕКЭ')" in draft
    assert "seen: 'Кабель', 'Величина', 'МГц'." in draft
    assert 'encoding = "cp1251"' in draft


@pytest.mark.parametrize("page", ["koi8-r", "cp866", "windows-1251", "gb18030", "shift_jis"])
def test_xml_may_name_each_of_them(page: str) -> None:
    word = "周波数" if page == "shift_jis" else "Частота"
    raw = f'<?xml version="1.0" encoding="{page}"?>\n<a title="{word}"/>'.encode(page)
    assert root_of(raw).attributes == {"title": word}
