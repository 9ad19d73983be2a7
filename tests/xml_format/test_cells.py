"""Texts of elements that hold several texts, worst cases with their pair, and scaled units."""

from pathlib import Path

from tests.reading import called
from tests.xml_format.reading import HEAD, read

DIALECT = (
    HEAD
    + """
[xml]
test = "/job/test"
[[xml.figures]]
path = "figure"
name = { "@of" = "{parameter}" }
worst_margin.margin = "margin"
worst_margin.pairs = "pair"
[[xml.curves]]
path = "curve"
name = { "@of" = "{parameter}", "@pair" = "{pairs}" }
point = { path = "p", frequency = "@f", value = "@v" }
[figures]
value = "{parameter}_{pairs}"
[[cells]]
key = "size"
form = ["{} m (limit {})", "{} m"]
names = ["Length_1-2", "most"]
[units]
loss = "0.01 dB"
"""
)
FILE = """<job><test label="A"><size>62.1 m (limit 90)</size>
<figure of="NEXT"><margin>310</margin><pair>1-2/3-6 B</pair></figure>
<curve of="IL" pair="1-2"><p f="1" v="190"/><p f="100" v="1941"/></curve></test></job>"""


def test_a_text_of_an_element_is_taken_apart(tmp_path: Path) -> None:
    document = read(tmp_path, FILE, DIALECT).document
    assert document["results"]["scalars"][0]["length_m"] == 62.1
    assert document["extra"] == {"most": "90"}
    result = read(tmp_path, FILE.replace("62.1 m (", "62.1 ft ("), DIALECT)
    assert result.records == []
    assert "'62.1 ft (limit 90)' is not of the form" in result.problems[0].message


def test_a_worst_case_takes_its_pair_from_beside_it(tmp_path: Path) -> None:
    (item,) = read(tmp_path, FILE, DIALECT).document["stated"]["items"]
    assert (called(item), item["worst_margin"]["margin_db"]) == ("next far 1-2/3-6", 3.1)
    result = read(tmp_path, FILE.replace("1-2/3-6 B", "all"), DIALECT)
    (record,) = result.records
    assert "stated" not in record.document
    assert "all\n310" in record.document["extra"].values()
    (problem,) = result.problems
    assert problem.place == "line 2, /job/test[1]/figure[@of=NEXT]"
    assert problem.message.startswith("'all' should say which pairs and end the worst_margin")


def test_points_are_read_in_hundredths(tmp_path: Path) -> None:
    (sweep,) = read(tmp_path, FILE, DIALECT).document["results"]["sweeps"]
    assert ([*sweep["value_db"]], sweep["decimals"]) == ([1.9, 19.41], 2)


def test_pairs_without_a_margin_beside_them_are_no_figures(tmp_path: Path) -> None:
    """Lengths of each pair in the same elements; none of them is the pair of a margin."""
    pairs = ("1-2", "3-6", "4-5", "7-8")
    lengths = "".join(
        f'<figure of="Length"><long>6{at}.5</long><pair>{pair}</pair></figure>'
        for at, pair in enumerate(pairs)
    )
    document = read(tmp_path, FILE.replace("<curve", f"{lengths}<curve", 1), DIALECT).document
    (item,) = document["stated"]["items"]
    assert called(item) == "next far 1-2/3-6"
    assert all(text in str(document["extra"]) for text in ("60.5", "63.5", *pairs))
