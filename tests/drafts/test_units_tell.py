"""Drafts of XML in a language that nobody knows: units and signs say what its figures are.

The words are made up. Wires, lengths and delays are those of plain links: the wave runs at seven
tenths of light, and the differences of delay are what the delays leave.
"""

import re
from pathlib import Path

import pytest

from .drafting import draft_of, read
from .links import KHZ, PAIRS, Link, link, shifted

LINKS = [link("L-1", 35.5), link("L-2", 80.0), link("L-3", 60.0)]
MARGINS = {"L-1": ("3.1", "good"), "L-2": ("-0.4", "bad"), "L-3": ("1.8", "good")}
NAMES = {"return_loss": "Return loss", "next": "NEXT"}
DELAYS = [0.0, 4.0, 2.0, 7.0]
LIGHT_M_PER_NS = 0.299792458
"""Speed of light in vacuum, 299 792 458 m/s: exact, by the definition of the metre in the SI."""


def figures(one: Link) -> str:
    """Four figures of each pair, each with its unit around them."""
    delay = round(one.metres / (0.7 * LIGHT_M_PER_NS))
    told = {
        ("vorra", "m"): [f"{one.metres + 0.3 * at:.1f}" for at in range(4)],
        ("tespa", "ns"): [f"{delay + more:.0f}" for more in DELAYS],
        ("tesdif", "ns"): [f"{more:.0f}" for more in DELAYS],
        ("ohva", "Ω"): [f"{0.15 * one.metres + 0.1 * at:.1f}" for at in range(4)],
    }
    return "".join(
        f'<{name} jun="{unit}" utul="good">'
        + "".join(f'<n par="{pair}">{text}</n>' for pair, text in zip(PAIRS, texts, strict=True))
        + f"</{name}>"
        for (name, unit), texts in told.items()
    )


def margin(one: Link) -> str:
    text, verdict = MARGINS[one.label]
    return (
        f'<zol as="Return loss" utul="{verdict}"><lasmar jun="dB">{text}</lasmar><par>3-6</par>'
        f'<sid>local</sid><fre jun="MHz">61.5</fre></zol>'
        '<zol as="NEXT" utul="good"><lasmar jun="dB">2.2</lasmar><par>1-2/3-6</par>'
        '<sid>remote</sid><fre jun="MHz">10</fre></zol>'
    )


def wires(one: Link) -> str:
    far = [str(pin) for pin in range(1, 9)]
    if one.label == "L-2":
        far[3] = "rupt"
    pins = "".join(f'<v local="{pin}" remote="{of}"/>' for pin, of in enumerate(far, 1))
    return f'<filmap utul="{"bad" if "rupt" in far else "good"}">{pins}</filmap>'


def export(unit: str = "MHz") -> str:
    lines = ["<survey>"]
    for one in LINKS:
        lines.append(f'<link name="{one.label}" norm="TIA-568.2-D Cat 6A PL">')
        lines.append(f"<outcome>{MARGINS[one.label][1]}</outcome>")
        lines.append(wires(one) + figures(one) + margin(one))
        axis = " ".join(shifted(khz, 3) if unit == "MHz" else str(khz) for khz in KHZ)
        lines.append(f'<axis jun="{unit}">{axis}</axis>')
        for (parameter, end, pairs), values in one.curves.items():
            if parameter in NAMES:
                side = {"near": "local", "far": "remote"}[end or "near"]
                text = " ".join(shifted(value, 2) for value in values)
                told = f'as="{NAMES[parameter]}" par="{"/".join(pairs)}" sid="{side}" jun="dB"'
                lines.append(f"<trace {told}>{text}</trace>")
        lines.append("</link>")
    return "\n".join([*lines, "</survey>", ""])


@pytest.fixture(name="documents", params=["MHz", "kHz"])
def _documents(tmp_path: Path, request: pytest.FixtureRequest) -> list[dict[str, object]]:
    """The records; frequencies of curves may count otherwise than those of margins, in MHz."""
    draft = draft_of(tmp_path, export(request.param), "export.xml")
    assert ('figures = { frequency = "MHz" }' in draft) == (request.param != "MHz")
    assert "by the unit beside its numbers, the trade has no such word" in draft
    assert (
        "below zero where the verdict beside it is a fail, and nowhere else.\nworst_margin" in draft
    )
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    return [record.document for record in records]


def test_figures_are_told_by_their_units(documents: list[dict[str, object]]) -> None:
    _are_told(documents)


@pytest.mark.parametrize("known", ["vorra=length", "vorra=length tespa=delay"])
@pytest.mark.parametrize("named", [False, True])
def test_so_are_those_beside_figures_that_the_trade_knows(
    known: str, named: bool, tmp_path: Path
) -> None:
    """Units may be part of the names of elements."""
    text = export()
    for word, other in (pair.split("=") for pair in known.split()):
        text = text.replace(f"<{word} ", f"<{other} ").replace(f"</{word}>", f"</{other}>")
    if named:
        text = re.sub(r'<(\w+) jun="(m|ns|Ω)"(.*?)</\1>', r"<\1_\2\3</\1_\2>", text)
        text = text.replace("_Ω", "_ohm")
    records, problems = read(tmp_path / "export.xml", draft_of(tmp_path, text, "export.xml"))
    assert problems == []
    _are_told([record.document for record in records])


def _are_told(documents: list[dict[str, object]]) -> None:
    for one, document in zip(LINKS, documents, strict=True):
        results: dict[str, list[dict[str, object]]] = document["results"]  # type: ignore[assignment]
        members = {
            "length": "length_m",
            "propagation_delay": "delay_ns",
            "delay_skew": "delay_ns",
            "dc_loop_resistance": "resistance_ohm",
        }
        found = {
            name: [of[member] for of in results["scalars"] if of["parameter"] == name]
            for name, member in members.items()
        }
        delay = round(one.metres / (0.7 * LIGHT_M_PER_NS))
        assert found == {
            "length": [round(one.metres + 0.3 * at, 1) for at in range(4)],
            "propagation_delay": [delay + more for more in DELAYS],
            "delay_skew": DELAYS,
            "dc_loop_resistance": [float(f"{0.15 * one.metres + 0.1 * at:.1f}") for at in range(4)],
        }


def test_a_margin_is_told_by_its_sign_and_the_verdict_is_that_of_the_parameter(
    documents: list[dict[str, object]],
) -> None:
    for one, document in zip(LINKS, documents, strict=True):
        stated: dict[str, list[dict[str, object]]] = document["stated"]  # type: ignore[assignment]
        items = [of for of in stated["items"] if of["parameter"] == "return_loss"]
        text, verdict = MARGINS[one.label]
        word = {"good": "pass", "bad": "fail"}[verdict]
        (judged,) = [of for of in items if "verdict" in of]
        assert (judged["verdict"], "pairs" in judged, "end" in judged) == (word, False, False)
        (margined,) = [of for of in items if "worst_margin" in of]
        assert (margined["pairs"], margined["end"]) == (["3-6"], "near")
        worst: dict[str, float] = margined["worst_margin"]  # type: ignore[assignment]
        assert (worst["margin_db"], worst["frequency_mhz"]) == (float(text), 61.5)


def test_a_wire_that_is_not_whole_is_known_by_the_others(
    documents: list[dict[str, object]],
) -> None:
    for one, document in zip(LINKS, documents, strict=True):
        results: dict[str, dict[str, object]] = document["results"]  # type: ignore[assignment]
        pins = {str(pin): str(pin) for pin in range(1, 9)}
        wanted = pins | ({"4": None} if one.label == "L-2" else {})
        assert results["wire_map"]["pins"] == [[near, far] for near, far in wanted.items()]


def test_numbers_whose_sign_says_nothing_are_no_margins(tmp_path: Path) -> None:
    """As where no link of the examples failed."""
    text = export().replace(">-0.4<", ">0.4<").replace('"bad"', '"good"').replace(">bad<", ">good<")
    draft = draft_of(tmp_path, text, "export.xml")
    assert "lasmar" not in draft.partition("[fields]")[0]


def test_one_name_for_several_quantities_is_a_word_for_none(tmp_path: Path) -> None:
    text = export()
    for name in ("vorra", "tespa", "tesdif", "ohva"):
        text = text.replace(f"<{name} ", "<quand ").replace(f"</{name}>", "</quand>")
    draft = draft_of(tmp_path, text, "export.xml")
    assert "quand" not in draft.partition("[words.parameters]")[2]
