"""Drafts of XML where an element judges parameters in attributes called as their figures are."""

from pathlib import Path

import pytest

from .drafting import draft_of, read
from .links import KHZ, PAIRS, Link, link, shifted

LINKS = [link("L-1", 35.5), link("L-2", 80.0), link("L-3", 60.0)]
OUTCOMES = {"L-1": ("good", "good"), "L-2": ("bad", "good"), "L-3": ("good", "not tested")}
VERDICTS = {"good": "pass", "bad": "fail"}


def of_pairs(one: Link) -> str:
    """A length in m and a delay in ns of each pair, the wave at seven tenths of light."""
    delay = one.metres / (0.7 * 0.299792458)
    lines = (
        f'<lead pair="{pair}" length_m="{one.metres + number:.1f}" delay_ns="{delay:.1f}"/>'
        for number, pair in enumerate(PAIRS)
    )
    return f"<leads>{''.join(lines)}</leads>"


def export(outcomes: str) -> str:
    lines = ["<survey>"]
    for one in LINKS:
        lines.append(f'<link name="{one.label}" norm="TIA-568.2-D Cat 6A PL" outcome="good">')
        length, delay = OUTCOMES[one.label]
        lines.append(of_pairs(one) + outcomes.format(length=length, delay=delay))
        khz = " ".join(map(str, KHZ))
        lines.append(f'<axis in="kHz" count="{len(KHZ)}">{khz}</axis>')
        for (parameter, _, pairs), values in one.curves.items():
            if parameter == "insertion_loss":
                text = " ".join(shifted(value, 2) for value in values)
                lines.append(f'<trace of="Attenuation" pair="{pairs[0]}">{text}</trace>')
        lines.append("</link>")
    return "\n".join([*lines, "</survey>", ""])


@pytest.mark.parametrize(
    "outcomes",
    [
        '<outcomes length="{length}" delay="{delay}"/>',
        '<checked length="{length}" delay="{delay}"/>',
    ],
)
def test_they_are_the_verdicts_of_these_parameters(outcomes: str, tmp_path: Path) -> None:
    draft = draft_of(tmp_path, export(outcomes), "export.xml")
    assert '\nnone = "not tested"\n' in draft
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    for one, record in zip(LINKS, records, strict=True):
        items = record.document["stated"]["items"]
        told = {item["parameter"]: item["verdict"] for item in items if "verdict" in item}
        length, delay = (VERDICTS.get(text) for text in OUTCOMES[one.label])
        wanted = {"length": length, "propagation_delay": delay}
        assert told == {parameter: word for parameter, word in wanted.items() if word}
        scalars = record.document["results"]["scalars"]
        assert len([of for of in scalars if of["parameter"] == "length"]) == len(PAIRS)


def test_units_that_end_the_names_of_figures_are_named(tmp_path: Path) -> None:
    """And of what stands beside frequencies only the unit speaks for theirs, and no count."""
    draft = draft_of(tmp_path, export('<outcomes length="{length}" delay="{delay}"/>'), "e.xml")
    assert "# worked out: named beside figures; seen: 'm'.\nlength = \"m\"" in draft
    assert "# worked out: named beside figures; seen: 'ns'.\ndelay = \"ns\"" in draft
    above = draft.partition('frequency = "kHz"')[0].rpartition("[units]")[2]
    assert "seen: 'kHz'." in above
    assert str(len(KHZ)) not in above
