"""Drafts of exports whose tests stand in several tables, joined by the number of a test."""

import json
import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from tests.program import run

from .drafting import curves, written
from .links import KHZ, WORDS, Link, link, shifted

RAW = ("insertion_loss", "return_loss", "next")
SIDES = {None: "", "near": "base", "far": "hand"}
CASES = (
    ("insertion_loss", None, ("3-6",), "2.9", 4_700),
    ("return_loss", "near", ("4-5",), "0.8", 100_000),
    ("next", "far", ("1-2", "7-8"), "-0.3", 250_000),
    ("next", "near", ("3-6", "4-5"), "1.4", 310_000),
)
"""Parameter, end, pairs, margin in dB, kHz; of no calculation, for the reading alone."""
Stated = list[tuple[str, str | None, tuple[str, ...], float, float]]


def _one(pairs: tuple[str, ...], at: int) -> str:
    return pairs[at].replace("-", "") if len(pairs) > at else ""


def files(links: list[Link], form: str = "{}") -> dict[str, str]:
    """Four tables: heads, a row a curve, worst cases, and remarks of some tests; by its name."""
    heads = ["Nr;Circuit;Norm;Tested on;Outcome"]
    sweeps = [";".join(["Nr", "Quantity", "Heard", "Driven", "Side", *map(str, KHZ)])]
    cases = ["Nr;Quantity;Heard;Driven;Side;At kHz;Margin dB"]
    for nr, one in enumerate(links, 611):
        heads.append(f"{nr};{one.label};TIA-568.2-D Cat 6A PL;2026-03-04 14:{nr - 600}:00;PASS")
        for (parameter, end, pairs), values in one.curves.items():
            if parameter in RAW:
                told = [WORDS[parameter], _one(pairs, 0), _one(pairs, 1), SIDES[end]]
                sweeps.append(";".join([str(nr), *told, *(shifted(of, 2) for of in values)]))
        for parameter, end, pairs, margin, khz in CASES:
            told = [WORDS[parameter], _one(pairs, 0), _one(pairs, 1), SIDES[end]]
            cases.append(";".join([str(nr), *told, str(khz), margin]))
    remarks = ["Circuit;Drum;Metres left;Remark"]
    remarks += [f"{one.label};71{at};{40 + at};door {at}" for at, one in enumerate(links[:-1])]
    tables = {"heads": heads, "sweeps": sweeps, "worst": cases, "remarks": remarks}
    return {form.replace("{}", name): "\n".join([*of, ""]) for name, of in tables.items()}


def drafted(folder: Path, texts: Mapping[str, str]) -> str:
    for name, text in texts.items():
        (folder / name).write_text(text, encoding="utf-8")
    result = run("dialect", "draft", *(folder / name for name in texts))
    assert result.exit_code == 0, result.output
    return result.stdout


def gathered(folder: Path, names: Mapping[str, str], dialect: str) -> list[dict[str, Any]]:
    (folder / "mine.toml").write_text(dialect, encoding="utf-8")
    paths = [folder / name for name in names]
    result = run("gather", folder / "book", *paths, "--dialect", folder / "mine.toml")
    assert "nothing is" not in result.output
    found = (folder / "book").glob("records/*/*")
    return sorted((json.loads(of.read_bytes()) for of in found), key=lambda of: of["link"]["label"])


def stated(document: Mapping[str, Any]) -> Stated:
    found = []
    for item in document["stated"]["items"]:
        worst = item["worst_margin"]
        margin, mhz = float(worst["margin_db"]), float(worst["frequency_mhz"])
        end, pairs = item.get("end"), tuple(item["pairs"])
        found.append((item["parameter"], end, tuple(sorted(pairs)), margin, mhz))
    return sorted(found, key=str)


@pytest.mark.parametrize("form", ["yard-3-{}.csv", "{}.csv"])
def test_each_further_table_is_one_more_join(form: str, tmp_path: Path) -> None:
    links = [link("C-1", 31.0), link("C-2", 88.5), link("C-3", 12.0)]
    texts = files(links, form)
    draft = drafted(tmp_path, texts)
    assert draft.count("\n[[join]]\n") == 3
    assert draft.count("\nmay_lack = true\n") == 1
    assert "nothing here is of them" not in draft
    documents = gathered(tmp_path, texts, draft)
    assert [document["link"]["label"] for document in documents] == ["C-1", "C-2", "C-3"]
    wanted = sorted(
        ((p, end, pairs, float(db), khz / 1000) for p, end, pairs, db, khz in CASES), key=str
    )
    for document, one in zip(documents, links, strict=True):
        assert curves(document) == written(one, *RAW)
        assert document["stated"]["overall"]["verdict"] == "pass"
        assert stated(document) == wanted
    assert ["Remark" in document.get("extra", {}) for document in documents] == [True, True, False]


def test_tabulators_part_a_table_whose_titles_hold_digits_and_texts_other_marks(
    tmp_path: Path,
) -> None:
    """A row a test: a digit in each title of a pair, decimal commas, and commas within texts."""
    links = [link("C-1", 31.0), link("C-2", 88.5), link("C-3", 12.0)]
    texts = files(links)
    titles = "\t".join(f"{word} pair {nr}" for word in ("Length", "Delay") for nr in "1234")
    rows = ["Nr\tCircuit\tRemark\tNorm\tTested on\tOutcome\t" + titles]
    for nr, one in enumerate(links, 611):
        figures = "\t".join(f"{one.metres:.1f}".replace(".", ",") for _ in range(8))
        norm = "TIA-568.2-D Cat 6A PL\t2026-03-04 14:11:00\tPASS"
        rows.append(f"{nr}\t{one.label}\tdoor 4, floor 2; 3|1\t{norm}\t{figures}")
    pair = {"sweeps.csv": texts["sweeps"].replace(";", "\t"), "heads.csv": "\n".join([*rows, ""])}
    draft = drafted(tmp_path, pair)
    assert draft.count('delimiter = "\\t"') == 2
    assert "nothing here is of them" not in draft
    documents = gathered(tmp_path, pair, draft)
    assert [document["link"]["label"] for document in documents] == ["C-1", "C-2", "C-3"]
    for document, one in zip(documents, links, strict=True):
        assert curves(document) == written(one, *RAW)
        assert document["extra"]["Remark"] == "door 4, floor 2; 3|1"


def test_a_key_that_joins_tables_is_not_told_to_go_to_extra(tmp_path: Path) -> None:
    links = [link("C-1", 31.0), link("C-2", 88.5), link("C-3", 12.0)]
    texts = files(links, "{}.csv")
    draft = drafted(tmp_path, texts)
    assert draft.count('\nkey = "Nr"\n') == 2
    left = draft.partition("no field for these keys, which go to extra: ")[2]
    assert left.startswith("'Metres left', 'Remark'.\n")
    for document in gathered(tmp_path, texts, draft):
        assert document.get("extra", {}).keys() <= {"Metres left", "Remark"}


def test_a_file_that_nothing_joins_is_named(tmp_path: Path) -> None:
    texts = files([link(f"C-{nr}", 31.0 * nr) for nr in (1, 2, 3)], "yard-{}.csv")
    stock = "Article;Held\nlead;14\ncord;9\nplug;220\n"
    draft = drafted(tmp_path, {**texts, "yard-stock.csv": stock})
    assert draft.count("\n[[join]]\n") == 3
    assert "yard-stock.csv" in draft.partition("[csv]")[0]


def test_files_of_another_job_are_all_named(tmp_path: Path) -> None:
    texts = files([link(f"C-{nr}", 31.0 * nr) for nr in (1, 2, 3)], "yard-{}.csv")
    again = files([link(f"D-{nr}", 31.0 * nr) for nr in (1, 2, 3)], "quay-{}.csv")
    draft = drafted(tmp_path, {**again, **texts})
    assert draft.count("\n[[join]]\n") == 3
    head = draft.partition("[csv]\n")[0].partition("format =")[2]
    named = set(re.findall(r"'([a-z-]+[.]csv)'", head))
    assert named in (set(texts), set(again))


def test_files_that_do_not_join_at_all_are_named(tmp_path: Path) -> None:
    texts = files([link("C-1", 31.0), link("C-2", 88.5)], "yard-{}.csv")
    del texts["yard-heads.csv"], texts["yard-remarks.csv"]
    draft = drafted(tmp_path, texts)
    assert "join]" not in draft
    assert "yard-worst.csv" in draft.partition("[csv]\n")[0].partition("format =")[2]


def test_a_file_that_a_draft_of_the_other_does_not_fit_is_told_to_be_joined(tmp_path: Path) -> None:
    texts = files([link("C-1", 31.0), link("C-2", 88.5)])
    draft = drafted(tmp_path, {"sweeps": texts["sweeps"]}).replace("TO-BE-SETTLED", "Nr")
    mine = tmp_path / "mine.toml"
    mine.write_text(draft, encoding="utf-8")
    (tmp_path / "heads").write_text(texts["heads"], encoding="utf-8")
    said = run("dialect", "try", mine, tmp_path / "sweeps", tmp_path / "heads").output
    assert "and [join] where this is another part of tests" in " ".join(said.split())


def test_three_tables_of_one_file_are_parts_of_it(tmp_path: Path) -> None:
    links = [link("C-1", 31.0), link("C-2", 88.5), link("C-3", 12.0)]
    texts = files(links)
    one = "".join(f"[{name}]\n{texts[name]}" for name in ("heads", "worst", "sweeps"))
    draft = drafted(tmp_path, {"one.csv": one})
    assert '\npart = ["[heads]", "[worst]"]\n' in draft
    assert '\npart = ["[worst]", "[sweeps]"]\n' in draft
    documents = gathered(tmp_path, {"one.csv": one}, draft)
    assert len(documents) == len(links)
    for document, of in zip(documents, links, strict=True):
        assert curves(document) == written(of, *RAW)
        assert [margin for *_, margin, _ in stated(document)] == [2.9, -0.3, 1.4, 0.8]


def counted(texts: Mapping[str, str], told: list[int]) -> dict[str, str]:
    """The heads and the sweeps, these told by 1, 2 and so on, those with rows that are counted."""
    head, *rows = texts["heads"].splitlines()
    lines = [f"Row;Test;{head.partition(';')[2]}"]
    for at, test in enumerate(told, 1):
        lines.append(f"{at};{test};{rows[test - 1].partition(';')[2]}")
    sweeps = re.sub(r"(?m)^61(\d);", lambda of: f"{int(of[1])};", texts["sweeps"])
    return {"heads.csv": "\n".join([*lines, ""]), "sweeps.csv": sweeps}


LINKS = [link(f"C-{at}", 15.0 * at) for at in (1, 2, 3)]


def test_of_two_columns_that_fit_as_well_a_person_chooses(tmp_path: Path) -> None:
    """A row's number and a test's hold the same texts; with the wrong one labels change places."""
    texts = counted(files(LINKS), [3, 1, 2])
    draft = drafted(tmp_path, texts)
    assert '\nother_key = "TO-BE-SETTLED"\n' in draft
    told = " ".join(draft.replace("\n#", "").split())
    assert "key 'Nr' with other_key 'Test' or key 'Nr' with other_key 'Row'" in told
    settled = draft.replace('other_key = "TO-BE-SETTLED"', 'other_key = "Test"')
    for document, one in zip(gathered(tmp_path, texts, settled), LINKS, strict=True):
        assert curves(document) == written(one, *RAW)


def test_nothing_is_joined_before_it_is_chosen(tmp_path: Path) -> None:
    texts = counted(files(LINKS), [3, 1, 2])
    draft = drafted(tmp_path, texts)
    assert '= "TO-BE-SETTLED"' in draft
    (tmp_path / "mine.toml").write_text(draft, encoding="utf-8")
    paths = [tmp_path / name for name in texts]
    result = run("gather", tmp_path / "book", *paths, "--dialect", tmp_path / "mine.toml")
    assert not list((tmp_path / "book").glob("records/*/*"))
    assert "'TO-BE-SETTLED'" in result.output


def test_columns_that_count_alike_are_told_apart_by_name_only(tmp_path: Path) -> None:
    """In other exports the tests may stand in another order."""
    texts = counted(files(LINKS), [1, 2, 3])
    assert '\nother_key = "TO-BE-SETTLED"\n' in drafted(tmp_path, texts)
    texts["sweeps.csv"] = texts["sweeps.csv"].replace("Nr;", "Test;", 1)
    draft = drafted(tmp_path, texts)
    assert '\nother_key = "Test"\n' in draft
    for document, one in zip(gathered(tmp_path, texts, draft), LINKS, strict=True):
        assert curves(document) == written(one, *RAW)


def test_a_number_that_counts_rows_never_wins_by_its_name(tmp_path: Path) -> None:
    texts = counted(files(LINKS), [3, 1, 2])
    texts["sweeps.csv"] = texts["sweeps.csv"].replace("Nr;", "Row;", 1)
    draft = drafted(tmp_path, texts)
    assert '\nother_key = "TO-BE-SETTLED"\n' in draft
    unlike = {"sweeps.csv": texts["sweeps.csv"].replace("Row;", "Test;", 1)}
    draft = drafted(tmp_path, {**texts, **unlike})
    assert '\nother_key = "Test"\n' in draft
    assert '= "TO-BE-SETTLED"' not in draft
