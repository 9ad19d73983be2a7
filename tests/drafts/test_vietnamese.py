"""Drafts of XML in Vietnamese without the marks of its letters, a curve an attribute of points.

The words are common practice and memory, no source.
"""

from pathlib import Path

import pytest

from .drafting import curves, draft_of, read, written
from .links import KHZ, Link, link, shifted

LINKS = [link("P4-118", 37.5), link("P4-119", 62.0)]
COLOURS = {"1-2": "cam", "3-6": "luc", "4-5": "lam", "7-8": "nau"}
WORDS = {
    "insertion_loss": "TonHaoChen",
    "return_loss": "SuyHaoPhanXa",
    "next": "NhieuXuyenAmDauGan",
    "fext": "NhieuXuyenAmDauXa",
}
ENDS = {None: "", "near": ' phia="khối chính"', "far": ' phia="khối từ xa"'}


def sheet(one: Link, colours: dict[str, str], verdict: str = "đạt") -> str:
    """A test: an element for each parameter and end, in it an element a point."""
    facts = f'nhanCap="{one.label}" ngayDo="21/03/2026" gioDo="09:41:07" nguoiDo="Vũ Hạ"'
    lines = [f'<PhieuDo ketQua="{verdict}"><CapDo {facts} congTrinh="Xưởng sợi Bến Lá"/>']
    metres = shifted(round(one.metres * 10), 1, ",")
    lengths = " ".join(f'{of}="{metres}"' for of in colours.values())
    lines.append(f"<DoDai {lengths}/>")
    kinds = dict.fromkeys(key[:2] for key in one.curves if key[0] in WORDS)
    for parameter, end in kinds:
        some = {of: line for (*kind, of), line in one.curves.items() if kind == [parameter, end]}
        between = "_sang_" if parameter == "fext" else "_"
        lines.append(f"<{WORDS[parameter]}{ENDS[end]}>")
        for at, khz in enumerate(KHZ):
            cells = " ".join(
                f'{between.join(colours[pair] for pair in of)}="{shifted(line[at], 2, ",")}"'
                for of, line in some.items()
            )
            lines.append(f'<d tanSo="{khz}" {cells}/>')
        lines.append(f"</{WORDS[parameter]}>")
    lines.append("<DuTru>")
    lines.append(f'<{WORDS["return_loss"]} cap="{colours["7-8"]}"{ENDS["far"]} duTru="2,7"/>')
    return "\n".join([*lines, "</DuTru></PhieuDo>\n"])


@pytest.mark.parametrize(
    "colours",
    [COLOURS, {"1-2": "da_cam", "3-6": "xanh_la", "4-5": "xanh_duong", "7-8": "nau"}],
)
def test_each_attribute_that_names_pairs_is_a_curve(
    colours: dict[str, str], tmp_path: Path
) -> None:
    """The scheme of the colours is assumed, and said to be."""
    draft = draft_of(tmp_path, sheet(LINKS[0], colours), "a.xml")
    assert "# ASSUMED: colours as under T568B" in draft
    for one in LINKS:
        (tmp_path / "a.xml").write_text(sheet(one, colours), encoding="utf-8")
        (record,), problems = read(tmp_path / "a.xml", draft)
        assert (problems, record.label) == ([], one.label)
        assert curves(record.document) == written(one, *WORDS)
        (item,) = record.document["stated"]["items"]
        assert (item["parameter"], item["pairs"]) == ("return_loss", ["7-8"])
        assert (item["end"], item["worst_margin"]["margin_db"]) == ("far", 2.7)
        lengths = [of["length_m"] for of in record.document["results"]["scalars"]]
        assert lengths == [one.metres] * 4


@pytest.mark.parametrize(
    ("said", "verdict"),
    [("đạt", "pass"), ("KHÔNG ĐẠT", "fail"), ("Chưa đạt", "fail"), ("Đạt yêu cầu", "pass")],
)
def test_verdicts_and_facts_are_known_by_their_words(
    said: str, verdict: str, tmp_path: Path
) -> None:
    draft = draft_of(tmp_path, sheet(LINKS[0], COLOURS, said), "a.xml")
    (record,), _ = read(tmp_path / "a.xml", draft)
    document = record.document
    assert document["stated"]["overall"]["verdict"] == verdict
    assert document["test"]["operator"] == "Vũ Hạ"
    assert document["test"]["started"]["rfc3339"].startswith("2026-03-21T09:41:07")
    assert document["link"]["near"]["place"]["site"] == "Xưởng sợi Bến Lá"


def test_a_name_that_holds_figures_and_no_points_is_no_curve_without_points(
    tmp_path: Path,
) -> None:
    """Such as an element of lengths; one with nothing in it that is known is told."""
    text = sheet(LINKS[0], COLOURS)
    draft = draft_of(tmp_path, text, "a.xml")
    (tmp_path / "a.xml").write_text(text.replace("</PhieuDo>", '<TonHaoChen x="1"/></PhieuDo>'))
    _, problems = read(tmp_path / "a.xml", draft)
    assert len(problems) == 1
    assert "no points were found in this curve" in problems[0].message
