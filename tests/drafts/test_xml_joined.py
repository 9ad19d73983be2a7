"""Drafts of XML whose tests stand in one file and what they are of in another."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from sweepbook.record.model import Record
from tests.joined.test_join import pipeline
from tests.program import run

from .drafting import curves, written
from .links import KHZ, WORDS, Link, link, shifted

RAW = ("insertion_loss", "return_loss", "next")
SIDES = {None: "", "near": ' side="local"', "far": ' side="remote"'}
KEYS = {"k-07": "N-1-07", "k-08": "N-1-08", "m-31": "N-2-31"}
"""Label by the text that both files hold."""


def readings(links: Mapping[str, Link], space: str = "") -> str:
    """Each test with its curves."""
    axis = " ".join(map(str, KHZ))
    lines = [f'<round{space}><axis unit="kHz">{axis}</axis>']
    for key, one in links.items():
        lines.append(f'<probe of="{key}" norm="TIA-568.2-D Cat 6A PL"><outcome>pass</outcome>')
        for (parameter, end, pairs), values in one.curves.items():
            if parameter in RAW:
                named = "/".join(pair.replace("-", "") for pair in pairs)
                text = " ".join(shifted(value, 2) for value in values)
                told = f'what="{WORDS[parameter]}" pairs="{named}"{SIDES[end]}'
                lines.append(f"<trace {told}>{text}</trace>")
        lines.append("</probe>")
    return "\n".join([*lines, "</round>\n"])


def estate(keys: Mapping[str, str], prefix: str = "", space: str = "") -> str:
    """Where each link is, with one nobody tested."""
    storeys: dict[str, list[str]] = {}
    for key, label in {**keys, "z-99": "N-2-99"}.items():
        _, storey, port = label.split("-")
        tag = f'<{prefix}link ref="{key}" port="{port}"><{prefix}label>{label}</{prefix}label>'
        storeys.setdefault(storey, []).append(f"{tag}<{prefix}nvp>71%</{prefix}nvp></{prefix}link>")
    inner = [
        f'<{prefix}floor name="{storey}"><{prefix}panel name="R{storey}">{"".join(some)}'
        f"</{prefix}panel></{prefix}floor>"
        for storey, some in storeys.items()
    ]
    top = f'<{prefix}estate{space}><{prefix}building name="North mill">'
    return "\n".join([top, *inner, f"</{prefix}building></{prefix}estate>\n"])


def read(folder: Path, draft: str) -> tuple[list[dict[str, Any]], list[str]]:
    items = list(pipeline(folder, draft).read_all([folder]))
    records = [of.document for of in items if isinstance(of, Record)]
    return records, [str(getattr(of, "message", "")) for of in items if not isinstance(of, Record)]


@pytest.mark.parametrize("names", [("mill-readings.xml", "mill-estate.xml"), ("a.xml", "b.xml")])
@pytest.mark.parametrize(
    "spaces", [("", "", ""), (' xmlns="urn:r"', "e:", ' xmlns:e="urn:e"'), ("", "", ' xmlns="u:e"')]
)
def test_labels_and_places_come_from_the_other_file(
    names: tuple[str, str], spaces: tuple[str, str, str], tmp_path: Path
) -> None:
    links = {key: link(label, 20.0 + at) for at, (key, label) in enumerate(KEYS.items())}
    paths = [tmp_path / name for name in names]
    paths[0].write_text(readings(links, spaces[0]), encoding="utf-8")
    paths[1].write_text(estate(KEYS, *spaces[1:]), encoding="utf-8")
    for given in (paths, paths[::-1]):
        draft = run("dialect", "draft", *given).stdout
        records, problems = read(tmp_path, draft)
        assert [of["link"]["label"] for of in records] == [*KEYS.values()], draft
        assert len(problems) == 1
        assert "'z-99' under '@of'" in problems[0]
    for document, one in zip(records, links.values(), strict=True):
        assert curves(document) == written(one, *RAW)
        assert document["stated"]["overall"]["verdict"] == "pass"
        storey, port = one.label.split("-")[1:]
        place = document["link"]["near"]["place"]
        assert (place["building"], place["floor"]) == ("North mill", storey)
        assert (place["panel"], place["port"]) == (f"R{storey}", port)
        assert document["link"]["cable"]["nvp"] == 0.71


def test_a_file_that_nothing_joins_is_named_and_no_field_looks_there(tmp_path: Path) -> None:
    links = {key: link(label, 30.0) for key, label in KEYS.items()}
    other = '<stock><building name="North mill"/><reel ref="q-1">305</reel></stock>'
    paths = [tmp_path / "readings.xml", tmp_path / "stock.xml"]
    for path, text in zip(paths, (readings(links), other), strict=True):
        path.write_text(text, encoding="utf-8")
    draft = run("dialect", "draft", *paths).stdout
    assert "\n[join]" not in draft
    assert "/stock" not in draft
    assert "stock.xml" in draft.partition("[xml]\n")[0].partition("format =")[2]


def test_a_file_that_a_draft_of_the_other_does_not_fit_is_told_to_be_joined(tmp_path: Path) -> None:
    links = {key: link(label, 30.0) for key, label in KEYS.items()}
    paths = [tmp_path / "readings.xml", tmp_path / "estate.xml"]
    for path, text in zip(paths, (readings(links), estate(KEYS)), strict=True):
        path.write_text(text, encoding="utf-8")
    mine = tmp_path / "mine.toml"
    mine.write_text(run("dialect", "draft", paths[0]).stdout, encoding="utf-8")
    for command in (("dialect", "try", mine), ("gather", tmp_path / "book", "--dialect", mine)):
        said = " ".join(run(*command, *paths).output.split())
        assert "the root of this file is estate, expected is round" in said
        assert "and [join] where this is another part of tests" in said


@pytest.mark.parametrize(("told", "settled"), [((3, 1, 2), False), ((1, 2, 3), True)])
def test_of_two_paths_that_fit_as_well_a_person_chooses(
    told: tuple[int, ...], settled: bool, tmp_path: Path
) -> None:
    """An entry's number and a test's hold the same texts: by the wrong one labels change places."""
    links = {str(at): link(f"N-1-0{at}", 20.0 + at) for at in (1, 2, 3)}
    entries = [
        f'<entry of="{row}" test="{test}"><label>N-1-0{test}</label></entry>'
        for row, test in enumerate(told, 1)
    ]
    (tmp_path / "a.xml").write_text(readings(links), encoding="utf-8")
    (tmp_path / "b.xml").write_text(f"<list>{''.join(entries)}</list>", encoding="utf-8")
    draft = run("dialect", "draft", tmp_path / "a.xml", tmp_path / "b.xml").stdout
    assert ('\nother_key = "TO-BE-SETTLED"\n' not in draft) is settled
    if not settled:
        said = " ".join(draft.replace("\n#", "").split())
        assert "key '@of' with other_key '@of' or key '@of' with other_key '@test'" in said
        assert read(tmp_path, draft)[0] == []
    records, problems = read(tmp_path, draft.replace("TO-BE-SETTLED", "@test"))
    assert problems == []
    assert [of["link"]["label"] for of in records] == [one.label for one in links.values()]
    for document, one in zip(records, links.values(), strict=True):
        assert curves(document) == written(one, *RAW)


def test_a_label_of_no_known_name_is_that_of_the_other_file_and_not_its_key(tmp_path: Path) -> None:
    """Told by its texts, though that file has a test more, which nobody swept."""
    keys = {**KEYS, "q-40": "N-4-40"}
    held = (
        f'<entry of="{key}"><zzyx>{label}</zzyx><outcome>pass</outcome></entry>'
        for key, label in keys.items()
    )
    (tmp_path / "b.xml").write_text(f"<round>{''.join(held)}</round>\n", encoding="utf-8")
    links = {key: link(label, 30.0 + at) for at, (key, label) in enumerate(KEYS.items())}
    (tmp_path / "a.xml").write_text(readings(links), encoding="utf-8")
    draft = run("dialect", "draft", tmp_path / "a.xml", tmp_path / "b.xml").stdout
    assert '\nlink.label = "zzyx"\n' in draft
    records, _ = read(tmp_path, draft)
    assert sorted(of["link"]["label"] for of in records) == sorted(keys.values())
