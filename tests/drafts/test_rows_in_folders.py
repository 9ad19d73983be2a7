"""Drafts of exports with a folder a test, a file a parameter in it, and the pairs in rows."""

import tomllib
from pathlib import Path

import pytest

from .drafting import curves, written
from .links import KHZ, Link, link, shifted
from .test_spread import drafted, read

STEMS = {"insertion_loss": "loss", "return_loss": "return_loss", "next": "next", "fext": "fext"}
HEADINGS = {
    "insertion_loss": "Insertion loss",
    "return_loss": "Return loss",
    "next": "NEXT",
    "fext": "FEXT",
}
SIDES = {None: "-", "near": "local", "far": "remote"}
KEYS = "Label\t{0}\nLimit\tTIA-568.2-D Cat 6A PL\nStarted\t2026-02-28 17:0{1}\nOutcome\tPASS\n"
LENGTHS = {"Q1": "41.5", "Q2": "66.0"}


def pair_name(pairs: tuple[str, ...]) -> str:
    return "/".join(pair.replace("-", "") for pair in pairs)


def in_rows(one: Link, *, blank: bool) -> dict[str, str]:
    """Whole curves in rows below frequencies in kHz."""
    found = {}
    for parameter, stem in STEMS.items():
        lines = [f"{HEADINGS[parameter]} (dB)", "\t".join(["pair", "side", *map(str, KHZ)])]
        lines += [""] if blank else []
        lines += [
            "\t".join([pair_name(pairs), SIDES[end], *(shifted(of, 2) for of in values)])
            for (of_what, end, pairs), values in one.curves.items()
            if of_what == parameter
        ]
        found[f"{stem}.tsv"] = "\n".join([*lines, ""])
    return found


def in_points(one: Link) -> dict[str, str]:
    """A row a point."""
    found = {}
    for parameter, stem in STEMS.items():
        lines = [f"{HEADINGS[parameter]} (dB)", "pair\tside\tkHz\tdB"]
        lines += [
            "\t".join([pair_name(pairs), SIDES[end], str(khz), shifted(value, 2)])
            for (of_what, end, pairs), values in one.curves.items()
            if of_what == parameter
            for khz, value in zip(KHZ, values, strict=True)
        ]
        found[f"{stem}.tsv"] = "\n".join([*lines, ""])
    return found


def beside(one: Link) -> dict[str, str]:
    """The keys of a test with a table below them, and its worst margins in a file of their own."""
    keys = KEYS.format(one.label, one.label[-1])
    table = [f"{pair}\t{LENGTHS[one.label]}\t210" for pair in ("12", "36", "45", "78")]
    margins = ["Return loss\t36\tremote\t3.4\t262000", "NEXT\t36/45\tlocal\t2.75\t163000"]
    return {
        "card.txt": "\n".join([keys, "Pair\tLength (m)\tDelay (ns)", *table, ""]),
        "worst.tsv": "\n".join(["What\tPair\tSide\tMargin (dB)\tAt (kHz)", *margins, ""]),
    }


@pytest.mark.parametrize("way", ["rows", "rows with a blank line", "points"])
def test_names_tell_parameters_and_folders_tests(way: str, tmp_path: Path) -> None:
    links = [link("Q1", 41.5), link("Q2", 66.0)]
    for one in links:
        (tmp_path / f"t_{one.label}").mkdir()
        mine = in_points(one) if way == "points" else in_rows(one, blank="blank" in way)
        for name, text in (mine | beside(one)).items():
            (tmp_path / f"t_{one.label}" / name).write_text(text, encoding="utf-8")
    names = sorted(path.relative_to(tmp_path).as_posix() for path in tmp_path.glob("*/*"))
    draft = drafted(tmp_path, names)
    document = tomllib.loads(draft)
    assert [join["other"] for join in document["join"]] == ["{}/card.txt", "{}/worst.tsv"]
    assert document["join"][0]["file"] == "{}/{parameter}.tsv"
    settled = draft.replace('first = "TO-BE-SETTLED"', 'first = "disturbing"')
    records = read(tmp_path, settled)
    assert [record.label for record in records] == ["Q1", "Q2"]
    for one, record in zip(links, records, strict=True):
        assert curves(record.document) == written(one, *STEMS)
        scalars = record.document["results"]["scalars"]
        lengths = [of["length_m"] for of in scalars if of["parameter"] == "length"]
        assert lengths == [float(LENGTHS[one.label])] * 4
        margins = {
            (of["parameter"], of["end"], *of["pairs"]): of["worst_margin"]
            for of in record.document["stated"]["items"]
        }
        assert margins["return_loss", "far", "3-6"]["margin_db"] == 3.4
        assert margins["next", "near", "3-6", "4-5"]["margin_db"] == 2.75
        assert margins["next", "near", "3-6", "4-5"]["frequency_mhz"] == 163.0


def test_a_folder_without_margins_is_let_lack_them(tmp_path: Path) -> None:
    links = [link("Q1", 41.5), link("Q2", 66.0)]
    for one in links:
        (tmp_path / one.label).mkdir()
        for name, text in (in_rows(one, blank=False) | beside(one)).items():
            if (one.label, name) != ("Q2", "worst.tsv"):
                (tmp_path / one.label / name).write_text(text, encoding="utf-8")
    names = sorted(path.relative_to(tmp_path).as_posix() for path in tmp_path.glob("*/*"))
    draft = drafted(tmp_path, names)
    joins = {join["other"]: join for join in tomllib.loads(draft)["join"]}
    assert joins["{}/worst.tsv"].get("may_lack") is True
    assert "may_lack" not in joins["{}/card.txt"]
    settled = draft.replace('first = "TO-BE-SETTLED"', 'first = "disturbing"')
    assert [record.label for record in read(tmp_path, settled)] == ["Q1", "Q2"]


def test_the_card_of_a_test_says_how_pairs_are_called(tmp_path: Path) -> None:
    """Numbers that are those of no scheme, in a file of keys alone."""
    called = {"12": "4", "36": "2", "45": "3", "78": "1"}
    said = "; ".join(f"{name} = wires {pins[0]},{pins[1]}" for pins, name in called.items())
    links = [link("Q1", 41.5), link("Q2", 66.0)]
    for one in links:
        (tmp_path / one.label).mkdir()
        for name, text in in_rows(one, blank=True).items():
            rows = [line.split("\t") for line in text.splitlines()]
            for row in rows:
                row[0] = "/".join(called.get(pair, pair) for pair in row[0].split("/"))
            lines = ["\t".join(row) for row in rows]
            (tmp_path / one.label / name).write_text("\n".join([*lines, ""]), encoding="utf-8")
        card = f"{KEYS.format(one.label, one.label[-1])}Numbers of pairs\t{said}\n"
        (tmp_path / one.label / "card.txt").write_text(card, encoding="utf-8")
    names = sorted(path.relative_to(tmp_path).as_posix() for path in tmp_path.glob("*/*"))
    draft = drafted(tmp_path, names)
    assert "the file tells the contacts of each" in draft
    settled = draft.replace('first = "TO-BE-SETTLED"', 'first = "disturbing"')
    for one, record in zip(links, read(tmp_path, settled), strict=True):
        assert curves(record.document) == written(one, *STEMS)
