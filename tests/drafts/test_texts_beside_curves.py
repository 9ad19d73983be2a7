"""Drafts of XML in which texts stand beside curves that name none of them."""

from pathlib import Path

import pytest

from .drafting import curves, draft_of, read, written
from .links import KHZ, Link, link, lists, shifted

TAGS = {"insertion_loss": "Attenuation", "return_loss": "ReturnLoss", "next": "Next"}
COLOURS = {"1-2": "Orange", "3-6": "Green", "4-5": "Blue", "7-8": "Brown"}
"""The colours under T568B: ANSI/TIA-568.2-D, recalled."""
SIDES = {None: "", "near": ' side="A"', "far": ' side="B"'}


@pytest.mark.parametrize("axis", ["a", "g1", "1", "3", "4-5"])
def test_what_refers_to_an_axis_is_no_pair(axis: str, tmp_path: Path) -> None:
    links = [link("L-1", 35.5), link("L-2", 80.0)]
    text = lists(links).replace('id="a"', f'id="{axis}"').replace('grid="a"', f'grid="{axis}"')
    draft = draft_of(tmp_path, text, "export.xml")
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    for one, record in zip(links, records, strict=True):
        assert curves(record.document) == written(one, *TAGS, "fext", "acr_f")


def rooms(links: list[Link], word: str) -> str:
    """A room a test; the margin, pair and side of its worst case stand around the curves of each
    parameter."""
    lines = ['<folder scheme="T568B"><site name="Wherry Quay">']
    for number, one in enumerate(links):
        lines.append(f'<room name="R{number + 1}"><cable name="{one.label}" verdict="ok">')
        lines.append(f"<made>2026-03-0{number + 1} 09:10</made><norm>TIA-568.2-D Cat 6A PL</norm>")
        for at, (parameter, tag) in enumerate(TAGS.items()):
            several = [pairs for name, _, pairs in one.curves if name == parameter]
            pairs = several[(at + 2 * number + number // 2) % len(several)]
            pair = "/".join(COLOURS[pair] for pair in pairs)
            side = f' {word}Side="{"AB"[(at + number) % 2]}"' if at else ""
            lines.append(
                f'<{tag} verdict="ok" {word}Margin="{number + 1}.{at + 2}" {word}Pair="{pair}"'
                f'{side} {word}Frequency="{4 + at}.5">'
            )
            for (name, end, pairs), values in one.curves.items():
                if name == parameter:
                    told = "/".join(COLOURS[pair] for pair in pairs)
                    lines.append(f'<sweep pairs="{told}"{SIDES[end]}>')
                    points = zip(KHZ, values, strict=True)
                    lines += [f'<p mhz="{shifted(f, 3)}" db="{shifted(v, 2)}"/>' for f, v in points]
                    lines.append("</sweep>")
            lines.append(f"</{tag}>")
        lines.append("</cable></room>")
    return "\n".join([*lines, "</site></folder>\n"])


@pytest.mark.parametrize("tests", [1, 2, 5])
@pytest.mark.parametrize("word", ["worst", "closest"])
def test_worst_cases_around_curves_name_none(word: str, tests: int, tmp_path: Path) -> None:
    """By what such texts are called or, where the trade does not call them so, by several tests."""
    if (word, tests) == ("closest", 1):
        pytest.skip("nothing shows then that a pair beside the curves is none of theirs")
    links = [link(f"L-{number}", 30.0 + 7 * number) for number in range(tests)]
    draft = draft_of(tmp_path, rooms(links, word), "export.xml")
    assert '\ntest = "/folder/site/room/cable"\n' in draft
    assert '\nname = { "@pairs" = "{pairs}", "@side" = "{end}" }\n' in draft
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert [record.label for record in records] == [one.label for one in links]
    for one, record in zip(links, records, strict=True):
        assert curves(record.document) == written(one, *TAGS)
        assert record.document["link"]["near"]["place"]["site"] == "Wherry Quay"
