"""Drafts of XML whose figures of a pair stand in attributes or elements that are called as units.

What a record must hold is known from the links: the wave runs at seven tenths of light, and copper
of a loop has 0.15 ohm a metre.
"""

from pathlib import Path

import pytest

from .drafting import draft_of, read
from .links import PAIRS, link, lists

LIGHT_M_PER_NS = 0.299792458
"""Speed of light in vacuum, 299 792 458 m/s: exact, by the definition of the metre in the SI."""
FOOT = 0.3048
"""Metres of the international foot: exact (NIST SP 811, 2008, appendix B.6)."""
LINKS = [link("L-1", 35.5), link("L-2", 80.0)]
LENGTHS = '<length pair="'


def _metres(at: int, number: int) -> float:
    return LINKS[at].metres + 0.3 * number


def _export(told: str, *, elements: bool = False) -> str:
    """Links with a line a pair: names and what stands there, such as "ns={ns:.1f}"."""
    text = lists(LINKS)
    kept = [line for line in text.splitlines() if not line.startswith(LENGTHS)]
    parts = "\n".join(kept).split("<outcome>")
    made = parts[0]
    for at, part in enumerate(parts[1:]):
        for number, pair in enumerate("2314"):
            metres = _metres(at, number)
            numbers = {"m": metres, "ft": metres / FOOT, "ohm": 0.15 * metres, "skew": number + 0.5}
            numbers["ns"] = metres / (0.7 * LIGHT_M_PER_NS)
            said = [one.split("=") for one in told.format(**numbers).replace(".", ",").split()]
            if elements:
                inner = "".join(f"<{name}>{value}</{name}>" for name, value in said)
                made += f'<strand pair="{pair}">{inner}</strand>'
            else:
                inner = " ".join(f'{name}="{value}"' for name, value in said)
                made += f'<strand pair="{pair}" {inner}/>'
        made += f"<outcome>{part}"
    return made


def _scalars(document: dict[str, object], name: str, member: str) -> list[float]:
    results: dict[str, list[dict[str, object]]] = document["results"]  # type: ignore[assignment]
    found = {str(of["pairs"]): of[member] for of in results["scalars"] if of["parameter"] == name}
    return [float(str(found[str([pair])])) for pair in PAIRS]


@pytest.mark.parametrize("elements", [False, True], ids=["attributes", "elements"])
@pytest.mark.parametrize(
    "told",
    [
        "metres={m:.1f} ns={ns:.1f} ohms={ohm:.2f}",
        "feet={ft:.1f} nsec={ns:.1f} ohm={ohm:.2f}",
        "m={m:.1f} ns={ns:.1f} Ω={ohm:.2f}",
        "mètres={m:.1f} nanosecondes={ns:.1f} ohm={ohm:.2f}",
        "feet={ft:.1f} metres={m:.1f} ns={ns:.1f} ohms={ohm:.2f}",
    ],
)
def test_the_unit_says_which_figure_it_is(told: str, elements: bool, tmp_path: Path) -> None:
    draft = draft_of(tmp_path, _export(told, elements=elements), "export.xml")
    assert "ASSUMED: what is stated of each pair in the unit that it is called as" in draft
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    for at, record in enumerate(records):
        metres = [_metres(at, number) for number in range(4)]
        for name, member, wanted, off in (
            ("length", "length_m", metres, 0.02),
            ("propagation_delay", "delay_ns", [of / (0.7 * LIGHT_M_PER_NS) for of in metres], 0.06),
            ("dc_loop_resistance", "resistance_ohm", [0.15 * of for of in metres], 0.006),
        ):
            assert _scalars(record.document, name, member) == pytest.approx(wanted, abs=off)


@pytest.mark.parametrize(
    "told",
    ["metres={m:.1f} ns={skew:.1f}", "ns={ns:.1f}", "m={m:.1f}", "feet={ft:.1f} cm={ft:.0f}"],
)
def test_what_may_be_something_else_is_left(told: str, tmp_path: Path) -> None:
    """A skew, a time without a length, a lone letter, and two lengths of which neither is usual."""
    draft = draft_of(tmp_path, _export(told), "export.xml")
    assert "[figures]" not in draft
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert all("scalars" not in record.document["results"] for record in records)
