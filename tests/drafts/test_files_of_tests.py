"""Drafts of XML with a file of curves for each test, and one file that says what they are of."""

from pathlib import Path

import pytest

from tests.program import run

from .drafting import curves, written
from .links import KHZ, WORDS, Link, link, shifted
from .test_xml_joined import read

RAW = ("insertion_loss", "return_loss", "next")
SIDES = {None: "", "near": ' side="local"', "far": ' side="remote"'}
LABELS = ("W-1-07", "W-1-08", "W-2-31")


def sweeps(one: Link, key: str = "") -> str:
    """The curves of one test, with what the other file calls it if there is such a text."""
    made = [f'<sweeps{key}><axis unit="kHz">{" ".join(map(str, KHZ))}</axis>']
    for (parameter, end, pairs), values in one.curves.items():
        if parameter in RAW:
            named = "/".join(pair.replace("-", "") for pair in pairs)
            text = " ".join(shifted(value, 2) for value in values)
            told = f'what="{WORDS[parameter]}" pairs="{named}"{SIDES[end]}'
            made.append(f"<trace {told}>{text}</trace>")
    return "\n".join([*made, "</sweeps>\n"])


def survey(keys: dict[str, str]) -> str:
    """The tests, one of which has no curves."""
    held = (
        f'<run no="{key}"><label>{label}</label><norm>TIA-568.2-D Cat 6A PL</norm>'
        f"<outcome>pass</outcome></run>"
        for key, label in {**keys, "9099": "W-4-99"}.items()
    )
    return f"<survey>{''.join(held)}</survey>\n"


@pytest.mark.parametrize("inside", [True, False], ids=["key inside too", "name alone"])
@pytest.mark.parametrize("name", ["sweeps/{}.xml", "sweeps/run_{}.xml", "{}-sweeps.xml"])
def test_names_of_files_tell_the_tests(name: str, inside: bool, tmp_path: Path) -> None:
    keys = {str(3001 + at): label for at, label in enumerate(LABELS)}
    links = {key: link(label, 20.0 + at) for at, (key, label) in enumerate(keys.items(), 1)}
    (tmp_path / "sweeps").mkdir()
    (tmp_path / "survey.xml").write_text(survey(keys), encoding="utf-8")
    for key, one in links.items():
        text = sweeps(one, f' of="{key}"' if inside else "")
        (tmp_path / name.format(key)).write_text(text, encoding="utf-8")
    files = sorted(path for path in tmp_path.rglob("*.xml"))
    for given in (files, files[::-1]):
        draft = run("dialect", "draft", *given).stdout
        assert f'\nfile = "{name}"\n' in draft
        assert '\nkey = "{}"\nother_key = "@no"\n' in draft
        records, problems = read(tmp_path, draft)
        told = {of["link"]["label"]: of for of in records}
        assert sorted(told) == sorted([*LABELS, "W-4-99"])
        for one in links.values():
            assert curves(told[one.label]) == written(one, *RAW)
        assert all("9099" in text for text in problems)


def test_a_text_inside_tells_the_test_where_the_names_of_files_do_not(tmp_path: Path) -> None:
    keys = {f"k-{at}": label for at, label in enumerate(LABELS, 41)}
    links = {key: link(label, 20.0 + at) for at, (key, label) in enumerate(keys.items(), 1)}
    (tmp_path / "survey.xml").write_text(survey(keys), encoding="utf-8")
    for name, (key, one) in zip(("first", "second", "third"), links.items(), strict=True):
        text = sweeps(one, f' of="{key}"')
        (tmp_path / f"{name}.xml").write_text(text, encoding="utf-8")
    draft = run("dialect", "draft", *sorted(tmp_path.glob("*.xml"))).stdout
    records, _ = read(tmp_path, draft)
    told = {of["link"]["label"]: of for of in records}
    assert sorted(told) == sorted([*LABELS, "W-4-99"])
    for one in links.values():
        assert curves(told[one.label]) == written(one, *RAW)
