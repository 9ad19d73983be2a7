"""Drafts for XML whose points hold a number of each end."""

import math
from pathlib import Path

import pytest

from .drafting import curves, draft_of, read, written
from .links import KHZ, WORDS, Link, link, lists, shifted

ONE = link("L-7", 35.5)
RAW = ("insertion_loss", "return_loss", "next")


def columns(one: Link, near: str, far: str, beside: str = "") -> str:
    """An element a point: the numbers of both ends in it, or the only one of a curve.

    Args:
        one: the link.
        near, far: what the numbers of the ends are called.
        beside: a text of each parameter, which stands before its curves.
    """
    lines = [f"<test label='{one.label}' result='pass'>"]
    for parameter in RAW:
        lines.append(f"<quantity name='{WORDS[parameter]}'>{beside}")
        some = {key[1:]: values for key, values in one.curves.items() if key[0] == parameter}
        for pairs in dict.fromkeys(pairs for _, pairs in some):
            held = {None: "v", "near": near, "far": far}
            named = {
                called: some[end, pairs] for end, called in held.items() if (end, pairs) in some
            }
            lines.append(f"<curve pairs='{' - '.join(pairs)}'>")
            for at, khz in enumerate(KHZ):
                told = "".join(f" {called}='{shifted(of[at], 2)}'" for called, of in named.items())
                lines.append(f"<p f='{shifted(khz, 3)}'{told}/>")
            lines.append("</curve>")
        lines.append("</quantity>")
    return "\n".join([*lines, "</test>\n"])


def wavy(one: Link) -> Link:
    """The link with ends that differ by no constant, as those of a real one do."""
    made = Link(one.label, one.metres)
    for number, (key, values) in enumerate(one.curves.items()):
        wave = [round(60 * math.sin((1 + number) * at)) for at in range(len(values))]
        made.curves[key] = [a + b for a, b in zip(values, wave, strict=True)] if key[1] else values
    return made


@pytest.mark.parametrize(
    ("near", "far"), [("near", "far"), ("loc", "rem"), ("nah", "fern"), ("prox", "dist")]
)
def test_numbers_of_a_point_called_by_words_for_the_ends(
    near: str, far: str, tmp_path: Path
) -> None:
    one = wavy(ONE)
    draft = draft_of(tmp_path, columns(one, near, far), "export.xml")
    assert 'value = "@{end}"' in draft
    assert "differs most" not in draft
    (record,), problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert curves(record.document) == written(one, *RAW)


@pytest.mark.parametrize(("near", "far"), [("zyx", "wvu"), ("uno", "otro")])
def test_numbers_of_a_point_that_both_differ_from_curve_to_curve(
    near: str, far: str, tmp_path: Path
) -> None:
    one = wavy(ONE)
    draft = draft_of(tmp_path, columns(one, near, far), "export.xml")
    assert "ASSUMED: two numbers a point that differ from curve to curve" in draft
    (record,), problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert curves(record.document) == written(one, *RAW)


def turned(one: Link, kind: str) -> Link:
    """The link with something else in the place of its far ends: no far end of any curve."""
    made = Link(one.label, one.metres)
    for key, values in one.curves.items():
        parameter, end, pairs = key
        if end == "far":
            near = one.curves[parameter, "near", pairs]
            of_all = range(1_200, 1_200 + len(near))
            values = {
                "limit": list(of_all),
                "headroom": [a - b for a, b in zip(near, of_all, strict=True)],
                "phase": [round(18_000 * math.sin(at + sum(near))) for at in range(len(near))],
            }[kind]
        made.curves[key] = values
    return made


@pytest.mark.parametrize("kind", ["limit", "headroom", "phase"])
def test_a_limit_what_is_above_it_and_a_phase_are_no_end(kind: str, tmp_path: Path) -> None:
    draft = draft_of(tmp_path, columns(turned(wavy(ONE), kind), "zyx", "wvu"), "export.xml")
    assert "{end}" not in draft
    assert "ASSUMED: of several numbers a point this one differs most" in draft


def test_a_worst_case_names_its_end_by_other_words(tmp_path: Path) -> None:
    worst = "<worst margin='2.1' pairs='{}' side='{}' frequency='100'/>"
    one, text = wavy(ONE), columns(wavy(ONE), "loc", "rem")
    cases = (("RL", "3-6", "locale"), ("NEXT", "1-2 - 3-6", "remota"), ("Attenuation", "1-2", "―"))
    for word, pairs, side in cases:
        head = f"<quantity name='{word}'>"
        text = text.replace(head, head + worst.format(pairs, side))
    draft = draft_of(tmp_path, text, "export.xml")
    assert 'near = ["loc", "locale"]' in draft
    (record,), problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert curves(record.document) == written(one, *RAW)
    margins = [of for of in record.document["stated"]["items"] if "worst_margin" in of]
    assert sorted((of["parameter"], of.get("end")) for of in margins) == [
        ("insertion_loss", None),
        ("next", "far"),
        ("return_loss", "near"),
    ]


def test_two_words_that_alone_tell_a_curve_from_another_are_the_ends(tmp_path: Path) -> None:
    """Unknown words for two parameters stand in one place with known ones, and are no ends."""
    text = lists([ONE]).replace('"Attenuation"', '"Zedoz"').replace('"RL"', '"Quxaz"')
    text = text.replace('"local"', '"oya"').replace('"remote"', '"ko"')
    draft = draft_of(tmp_path, text, "export.xml")
    assert '"@side" = "{end}"' in draft
    assert '\nnear = "oya"\nfar = "ko"\n' in draft
    assert "ASSUMED: which unit is near and which far is a matter of naming" in draft
    (record,), problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert curves(record.document) == written(ONE, *RAW, "fext", "acr_f")
