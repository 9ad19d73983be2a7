"""Drafts of exports with two files a test, one of curves and one with what else is known of it.

That a tester saves no curves of a link whose wires are crossed is common practice, no source.
"""

from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from sweepbook.source import Source
from sweepbook_plugins.csv.draft.told_apart import forms_of
from tests.joined.test_join import pipeline

from .drafting import curves, written
from .links import KHZ, PAIRS, WORDS, Link, link, shifted
from .test_folders import cells
from .test_spread import drafted, read

LINKS = [link("Q-1", 31.0), link("Q-2", 52.4)]
CROSSED = link("Q-3", 18.5)
RAW = ("insertion_loss", "return_loss", "next")
SIDES = {None: "-", "near": "Base", "far": "Hand"}
STRAIGHT = "12345678"
COLOURS = {"1-2": "Green", "3-6": "Orange", "4-5": "Blue", "7-8": "Brown"}
"""Of the wiring T568A (ANSI/TIA-568.2-D, recalled)."""


def head(one: Link) -> str:
    """Keys and values, below titles of both columns."""
    word = "FAIL" if one is CROSSED else "PASS"
    wires = "36145278" if one is CROSSED else STRAIGHT
    lines = ["Field;Value", f"Record;{one.label[-1]}7", f"Circuit;{one.label}"]
    lines += ["Limit;Cat 6A PL TIA 568.2-D", "Tested on;28.02.2026 17:05", "Colours;T568A"]
    lines += [f"Outcome;{word}", f"Wire map outcome;{word}"]
    lines += [f"Wire map base pin {n};hand pin {far}" for n, far in enumerate(wires, 1)]
    lines += [f"Length {COLOURS[pair]} (m);{one.metres:.1f}".replace(".", ",") for pair in PAIRS]
    return "\n".join([*lines, ""])


def points(one: Link) -> str:
    lines = ["Record;Quantity;Pair;Side;kHz;dB"]
    some = {key: of for key, of in one.curves.items() if key[0] in RAW}
    for (name, end, pairs), values in some.items():
        told = f"{WORDS[name]};{'-'.join(map(COLOURS.__getitem__, pairs))};{SIDES[end]}"
        lines += [
            f"{one.label[-1]}7;{told};{khz};{shifted(of, 2, ',')}"
            for khz, of in zip(KHZ, values, strict=True)
        ]
    return "\n".join([*lines, ""])


def columns(one: Link) -> str:
    some = {key: of for key, of in one.curves.items() if key[0] in RAW}
    side = {None: "", "near": " Base", "far": " Hand"}
    titles = [
        f"{WORDS[name]} {'-'.join(map(COLOURS.__getitem__, pairs))}{side[end]}"
        for name, end, pairs in some
    ]
    lines = [";".join(["kHz", *titles])]
    for at, khz in enumerate(KHZ):
        lines.append(";".join([str(khz), *(shifted(of[at], 2, ",") for of in some.values())]))
    return "\n".join([*lines, ""])


def rows(one: Link) -> str:
    some = {key: of for key, of in one.curves.items() if key[0] in RAW}
    lines = [";".join(["Quantity", "Pair", "Side", *map(str, KHZ)])]
    for (name, end, pairs), values in some.items():
        told = [WORDS[name], "-".join(map(COLOURS.__getitem__, pairs)), SIDES[end]]
        lines.append(";".join([*told, *(shifted(of, 2, ",") for of in values)]))
    return "\n".join([*lines, ""])


LAYOUTS: Mapping[str, Callable[[Link], str]] = {
    "point-per-row": points,
    "curve-per-column": columns,
    "curve-per-row": rows,
}
FORMS = [("{}/points.csv", "{}/head.csv"), ("{}-points.csv", "{}-head.csv")]


def export(folder: Path, form: tuple[str, str], layout: str, links: list[Link]) -> list[str]:
    """Write the files of some links, no curves of the crossed one; their names."""
    names = []
    for one in links:
        texts = {form[1]: head(one)}
        texts |= {} if one is CROSSED else {form[0]: LAYOUTS[layout](one)}
        for name, text in texts.items():
            names.append(name.replace("{}", f"job {one.label[-1]}"))
            (folder / names[-1]).parent.mkdir(exist_ok=True)
            (folder / names[-1]).write_text(text, encoding="utf-8")
    return sorted(names)


@pytest.mark.parametrize("form", FORMS, ids=["in folders", "by name"])
@pytest.mark.parametrize("layout", LAYOUTS)
def test_a_file_of_curves_is_joined_to_the_head_beside_it(
    layout: str, form: tuple[str, str], tmp_path: Path
) -> None:
    names = export(tmp_path, form, layout, [*LINKS, CROSSED])
    draft = drafted(tmp_path, names)
    assert f'\nfile = "{form[0]}"\nother = "{form[1]}"\n' in draft
    assert f'\nlayout = "{layout}"\n' in draft
    assert "no table was found" not in draft
    assert "some tests lack one of these files; seen: 'job 3'.\nmay_lack = true\n" in draft
    assert '\nscheme = "T568A"\n' in draft
    assert '\nskip = ["Field;Value"]\n' in draft
    records = read(tmp_path, draft.replace('first = "TO-BE-SETTLED"', 'first = "disturbing"'))
    found = {record.label: record.document for record in records}
    assert sorted(found) == ["Q-1", "Q-2", "Q-3"]
    for one in (*LINKS, CROSSED):
        document = found[one.label]
        if one is not CROSSED:
            assert curves(document) == written(one, *RAW)
        scalars = document["results"]["scalars"]
        assert [(of["pairs"], float(of["length_m"])) for of in scalars] == [
            ([pair], one.metres) for pair in PAIRS
        ]
        word = "fail" if one is CROSSED else "pass"
        assert document["stated"]["overall"]["verdict"] == word
        (wires,) = document["stated"]["items"]
        assert (wires["parameter"], wires["verdict"]) == ("wire_map", word)
    pins = [far for _, far in found["Q-3"]["results"]["wire_map"]["pins"]]
    assert pins == [*"36145278"]


@pytest.mark.parametrize("form", FORMS, ids=["in folders", "by name"])
def test_where_all_have_both_neither_may_lack(form: tuple[str, str], tmp_path: Path) -> None:
    draft = drafted(tmp_path, export(tmp_path, form, "point-per-row", LINKS))
    assert f'\nfile = "{form[0]}"\nother = "{form[1]}"\n' in draft
    assert "may_lack" not in draft


def test_one_test_alone_shows_it(tmp_path: Path) -> None:
    draft = drafted(tmp_path, export(tmp_path, FORMS[0], "point-per-row", LINKS[:1]))
    assert '\nfile = "{}/points.csv"\nother = "{}/head.csv"\n' in draft
    assert '\nlink.label = "Circuit"\n' in draft


def test_a_third_file_is_one_more_join(tmp_path: Path) -> None:
    names = export(tmp_path, FORMS[0], "curve-per-column", [*LINKS, CROSSED])
    for one in LINKS[:1]:
        names.append(f"job {one.label[-1]}/margins.csv")
        lines = ["Quantity;Pair;Side;Margin (dB);At (kHz)", "RL;Green;Base;2,5;100000"]
        lines += ["RL;Blue;Hand;3,1;250000"]
        (tmp_path / names[-1]).write_text("\n".join([*lines, ""]), encoding="utf-8")
    draft = drafted(tmp_path, names)
    assert draft.count("\n[[join]]\n") == 2
    assert draft.count("\nmay_lack = true\n") == 2
    records = read(tmp_path, draft.replace('first = "TO-BE-SETTLED"', 'first = "disturbing"'))
    (document,) = (record.document for record in records if record.label == "Q-1")
    margins = [of["worst_margin"] for of in document["stated"]["items"] if "worst_margin" in of]
    assert [float(of["margin_db"]) for of in margins] == [2.5, 3.1]
    assert len(records) == 3


def test_a_folder_of_files_a_parameter_may_hold_its_head_alone(tmp_path: Path) -> None:
    links = [link("A7", 60.5), link("A8", 71.0)]
    for one in links:
        (tmp_path / one.label).mkdir()
        for name, text in cells(one).items():
            if one is links[0] or name == "ficha.txt":
                (tmp_path / one.label / name).write_text(text, encoding="utf-8")
    names = sorted(path.relative_to(tmp_path).as_posix() for path in tmp_path.glob("*/*"))
    draft = drafted(tmp_path, names)
    assert "seen: 'A8'.\nmay_lack = true\n" in draft
    draft = draft.replace('first = "TO-BE-SETTLED"', 'first = "disturbing"')
    labels = [getattr(of, "label", "") for of in pipeline(tmp_path, draft).read_all([tmp_path])]
    assert labels == ["A7", "", "A8"]


def test_files_of_all_tests_are_no_file_each(tmp_path: Path) -> None:
    """Keys of a job beside the points of several tests say nothing of one of them."""
    (tmp_path / "all").mkdir()
    lines = [points(one).splitlines() for one in LINKS]
    text = "\n".join([*lines[0], *lines[1][1:], ""])
    (tmp_path / "all" / "points.csv").write_text(text, encoding="utf-8")
    (tmp_path / "all" / "head.csv").write_text(head(LINKS[0]), encoding="utf-8")
    draft = drafted(tmp_path, ["all/points.csv", "all/head.csv"])
    assert "\n[join]\n" not in draft
    assert "nothing here is of them: 'head.csv'" in draft.replace("\n# ", " ")


@pytest.mark.parametrize(
    ("curves", "others", "forms"),
    [
        (["1/p.csv", "2/p.csv"], ["1/h.csv", "2/h.csv"], ("{}/p.csv", ["{}/h.csv"])),
        (["1/p.csv", "2/q.csv"], ["1/h.csv", "2/h.csv"], None),
        (["1/p.csv"], ["2/h.csv"], None),
        (["p_1.csv", "p_2.csv"], ["h_1.csv", "h_2.csv"], ("p_{}.csv", ["h_{}.csv"])),
        (["A-1_p.csv", "A-2_p.csv"], ["A-1_h.csv"], ("{}_p.csv", ["{}_h.csv"])),
        (["A-1.csv", "A-2.csv"], ["A-1_h.csv", "A-2_h.csv"], ("{}.csv", ["{}_h.csv"])),
        (["x/p.csv"], ["x/h.csv"], ("{}/p.csv", ["{}/h.csv"])),
        (["1/p.csv.gz", "2/p.csv"], ["1/h.csv", "2/h.csv"], ("{}/p.csv", ["{}/h.csv"])),
        (["1/p.csv", "2/p.csv"], ["1/h.csv", "read me.csv"], ("{}/p.csv", ["{}/h.csv"])),
    ],
)
def test_what_names_have_in_common(
    curves: list[str],
    others: list[str],
    forms: tuple[str, list[str]] | None,
    tmp_path: Path,
) -> None:
    found = forms_of(*([Source(tmp_path / name) for name in some] for some in (curves, others)))
    assert (found and (found.curves, [*found.beside])) == forms
