"""Drafts of XML in which curves and margins refer by an id to what says what they are."""

from pathlib import Path

from tests.xml_format.test_referring import KEPT, RAW, export
from tests.xml_format.test_titled import LINK

from .drafting import curves, draft_of, read, written

WORDS = {"IL": "Attenuation", "RL": "Return loss", "NEXT": "NEXT"}


def text(cases: str = "") -> str:
    """An export with facts of a test; attributes called as testers might."""
    made = export(cases).replace('<test name="L-1">', '<test name="L-1" outcome="pass">')
    for short, word in WORDS.items():
        made = made.replace(f'what="{short}"', f'what="{word}"')
    made = made.replace('side="A"', 'side="local"').replace('side="B"', 'side="remote"')
    return made.replace("<steps>", '<frequencies unit="MHz">').replace("</steps>", "</frequencies>")


def test_curves_by_ids_need_no_change(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, text(), "export.xml")
    assert '"../meanings/meaning[@id=@of]/@what" = "{parameter}"' in draft
    (record,), problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert curves(record.document) == written(LINK, *RAW)
    assert record.document["stated"]["overall"]["verdict"] == "pass"
    assert not any("meaning" in key for key in record.document.get("extra", {}))


def test_margins_by_ids_need_no_change(tmp_path: Path) -> None:
    named = {
        "a": ("insertion_loss", None, ("3-6",)),
        "b": ("return_loss", "far", ("7-8",)),
        "c": ("next", "near", ("1-2", "4-5")),
    }
    ids = {key: name for name, key in KEPT.items()}
    cases = "".join(
        f'<case of="{ids[key]}" margin="4.{at}5" at="220" limit="1{at}.5"/>'
        for at, key in enumerate(named.values())
    )
    draft = draft_of(tmp_path, text(cases), "export.xml")
    (record,), problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    stated = {
        (item["parameter"], item.get("end"), tuple(item["pairs"])): item["worst_margin"]
        for item in record.document["stated"]["items"]
    }
    assert stated.keys() == {*named.values()}
    margin = stated["next", "near", ("1-2", "4-5")]
    assert (margin["margin_db"], margin["limit_db"]) == (4.25, 12.5)


def test_ids_of_two_meanings_mean_nothing(tmp_path: Path) -> None:
    """Two lists that explain the same ids in different ways."""
    once = text()
    meanings = once.partition("<meanings>")[2].partition("</meanings>")[0]
    others = meanings.replace('what="NEXT"', 'what="Attenuation"')
    twice = once.replace("<meanings>", f"<notes>{others}</notes><meanings>")
    draft = draft_of(tmp_path, twice, "export.xml")
    assert "[@id=@of]" not in draft


def test_tests_with_labels_are_no_meanings(tmp_path: Path) -> None:
    """What stands in them is said of themselves, wherever their label comes again."""
    tests = "".join(
        text().partition("<job>")[2].removesuffix("</job>").replace('"L-1"', f'"L-{at}"')
        for at in range(1, 4)
    )
    again = "".join(f'<seen cable="L-{at}" by="Ada"/>' for at in range(1, 4))
    draft = draft_of(tmp_path, f"<job><visits>{again}</visits>{tests}</job>", "export.xml")
    assert "=@cable]" not in draft
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert [record.label for record in records] == ["L-1", "L-2", "L-3"]
