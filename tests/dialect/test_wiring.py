"""Pairs by number, where the tests of an export are wired to two schemes.

T568A has pair 2 on contacts 3-6 and pair 3 on 1-2, T568B the other way round (ANSI/TIA-568,
recalled).
"""

from pathlib import Path

import pytest

from sweepbook.dialect.load import BadDialect
from tests.joined.test_join import document, read
from tests.reading import sweep

HEAD = """
schema = "urn:sweepbook:dialect-0"
name = "schemes"
title = "Pairs by number"
format = "csv"
[csv]
layout = "point-per-row"
rows.test = "Link"
rows.point = { name = { What = "{parameter}", Pair = "{pairs}" }, frequency = "MHz", value = "dB" }
[fields]
link.label = "Link"
[figures]
value = "{parameter} {pairs}"
worst_margin.margin = "Margin {parameter}"
worst_margin.pairs = "Margin pair {parameter}"
[words.parameters]
insertion_loss = "IL"
length = "Length"
[words.pairs]
pair-1 = "1"
pair-2 = "2"
pair-3 = "3"
pair-4 = "4"
"""
BY_TEST = f'{HEAD}[wiring]\nscheme = "T568B"\nkey = "Wired"\n'
ALL_ONE = f'{HEAD}[wiring]\nscheme = "T568B"\n'
EXPORT = """Link,Wired,What,Pair,MHz,dB,Length 2,Margin IL,Margin pair IL
A-1,T568B,IL,2,1,1.9,61,3.1,2
A-1,T568B,IL,2,2,2.7,61,3.1,2
A-1,T568B,IL,3,1,2.1,61,3.1,2
A-2,568-A,IL,2,1,1.8,62,2.9,3
A-2,568-A,IL,3,1,2.2,62,2.9,3
"""


def test_each_test_has_the_contacts_of_its_scheme(tmp_path: Path) -> None:
    records, problems = read(tmp_path, {"e.csv": EXPORT}, BY_TEST)
    assert problems == []
    first, second = (document(records, label) for label in ("A-1", "A-2"))
    assert sweep(first, "insertion_loss 1-2")["value_db"].tolist() == [1.9, 2.7]
    assert sweep(first, "insertion_loss 3-6")["value_db"].tolist() == [2.1]
    assert sweep(second, "insertion_loss 3-6")["value_db"].tolist() == [1.8]
    assert sweep(second, "insertion_loss 1-2")["value_db"].tolist() == [2.2]
    assert first["results"]["scalars"][0]["pairs"] == ["1-2"]
    assert second["results"]["scalars"][0]["pairs"] == ["3-6"]
    assert first["stated"]["items"][0]["pairs"] == ["1-2"]
    assert second["stated"]["items"][0]["pairs"] == ["1-2"]
    assert (first["extra"]["Wired"], second["extra"]["Wired"]) == ("T568B", "568-A")


def test_a_test_that_says_another_scheme_is_not_read_under_the_one(tmp_path: Path) -> None:
    """Its margins would be told of the wrong pairs, and nothing else would show it."""
    records, problems = read(tmp_path, {"e.csv": EXPORT}, ALL_ONE)
    assert [record.label for record in records] == ["A-1"]
    assert any(
        "'568-A' stands under 'Wired', and the pairs are read as wired to T568B; see wiring.scheme"
        in problem
        for problem in problems
    )


@pytest.mark.parametrize("text", ["", "USOC", "T568B or T568A"])
def test_what_says_no_scheme_loses_the_test(text: str, tmp_path: Path) -> None:
    export = EXPORT.replace("568-A", text)
    records, problems = read(tmp_path, {"e.csv": export}, BY_TEST)
    assert [record.label for record in records] == ["A-1"]
    assert any("see wiring.key" in problem for problem in problems)


def test_a_key_is_of_no_use_to_pairs_by_contacts(tmp_path: Path) -> None:
    dialect = BY_TEST.replace('pair-2 = "2"', '1-2 = "2"')
    with pytest.raises(BadDialect, match=r"wiring\.key: is for exports that name all pairs by"):
        read(tmp_path, {"e.csv": EXPORT}, dialect)
