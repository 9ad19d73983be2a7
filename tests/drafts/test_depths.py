"""Drafts of XML in which curves of one test stand at several depths, within what names them."""

from pathlib import Path

from .drafting import curves, draft_of, read, written
from .links import KHZ, Link, link, shifted

NAMES = {
    "insertion_loss": "insertion loss",
    "next": "NEXT",
    "return_loss": "return loss",
}
SIDES = {"near": "main", "far": "remote"}


def report(one: Link) -> str:
    """Insertion loss stands a step further out than what has an end."""
    lines = ["<report>", f"<link>{one.label}</link>", "<limit>TIA-568.2-D Cat 6A PL</limit>"]
    lines += ["<room>2.04</room>", "<rack>R1</rack>", "<verdict>not passed</verdict>"]
    lines += [f'<grid unit="kHz">{" ".join(map(str, KHZ))}</grid>']
    for parameter, name in NAMES.items():
        held = {key: values for key, values in one.curves.items() if key[0] == parameter}
        if not held:
            continue
        lines.append(f'<measurement name="{name}">')
        for end in dict.fromkeys(key[1] for key in held):
            lines += [f'<side at="{SIDES[end]}">'] if end else []
            for (_, at, pairs), values in held.items():
                if at == end:
                    shown = " ".join(shifted(value, 2) for value in values)
                    lines.append(f'<curve pair="{"/".join(pairs)}">{shown}</curve>')
            lines += ["</side>"] if end else []
        lines.append("</measurement>")
    return "\n".join([*lines, "</report>"])


def test_no_element_within_what_names_curves_is_a_test(tmp_path: Path) -> None:
    one = link("L-7", 35.5)
    draft = draft_of(tmp_path, report(one), "export.xml")
    (record,), problems = read(tmp_path / "export.xml", draft)
    assert not [problem for problem in problems if problem.lost_record]
    assert record.label == "L-7"
    assert curves(record.document) == written(one, "insertion_loss", "next", "return_loss")
    assert record.document["stated"]["overall"]["verdict"] == "fail"


def test_titles_of_a_table_name_no_curve(tmp_path: Path) -> None:
    """They are short enough for that where a table has few columns."""
    one = link("L-8", 35.5)
    losses = [one.curves["insertion_loss", None, (pair,)] for pair in ("1-2", "3-6", "4-5", "7-8")]
    lines = ["<report>", "<link>L-8</link>", "<verdict>passed</verdict>", '<table of="IL">']
    lines.append("<columns>kHz|1,2|3,6|4,5|7,8</columns>")
    for khz, *values in zip(KHZ, *losses, strict=True):
        lines.append(f"<row>{khz}|{'|'.join(shifted(value, 2) for value in values)}</row>")
    text = "\n".join([*lines, "</table>", "</report>"])
    draft = draft_of(tmp_path, text, "export.xml")
    (record,), _ = read(tmp_path / "export.xml", draft)
    assert curves(record.document) == written(one, "insertion_loss")


def test_a_room_and_a_rack_are_places(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, report(link("L-7", 35.5)), "export.xml")
    (record,), _ = read(tmp_path / "export.xml", draft)
    assert record.document["link"]["near"]["place"] == {"space": "2.04", "cabinet": "R1"}
