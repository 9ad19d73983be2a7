"""Drafts of XML tables whose columns are titled by elements that stand among the rows."""

from collections.abc import Callable
from pathlib import Path

import pytest

from .drafting import curves, draft_of, read, written
from .links import KHZ, Link, link, shifted

LINKS = [link("L-1", 35.5), link("L-2", 80.0)]
for one in LINKS:
    one.curves = {key: of for key, of in one.curves.items() if key[:2] != ("fext", "far")}
WORDS = {"insertion_loss": "IL", "return_loss": "RL", "next": "NEXT", "fext": "FEXT"}
NUMBER = {"1-2": "2", "3-6": "3", "4-5": "1", "7-8": "4"}
SIDES = {"near": "Local", "far": "Remote"}

Column = dict[str, str]
Write = Callable[[Column], str]


def in_elements(column: Column) -> str:
    told = "".join(f"<{name}>{text}</{name}>" for name, text in column.items())
    return f"<Col>{told}</Col>"


def in_attributes(column: Column) -> str:
    told = "".join(f' {name}="{text}"' for name, text in column.items())
    return f"<Col{told}/>"


def column(at: int, parameter: str, end: str | None, pairs: tuple[str, ...]) -> Column:
    """What a column says: its number, what is measured, one pair or two, and the end."""
    numbers = [NUMBER[pair] for pair in pairs]
    named = dict(zip(("Of", "Onto"), numbers, strict=True)) if parameter == "fext" else {}
    side = {"Side": SIDES[end]} if end else {}
    return {
        "No": str(at),
        "What": WORDS[parameter],
        **(named or {"Pair": " ".join(numbers)}),
        **side,
    }


def table(one: Link, parameter: str, write: Write, mhz: str) -> str:
    keys = [key for key in one.curves if key[0] == parameter]
    heads = "".join(write(column(at, *key)) for at, key in enumerate(keys, 1))
    rows = "".join(
        f'<Line {mhz}="{shifted(khz, 3)}">'
        f"{' '.join(shifted(one.curves[key][at], 2) for key in keys)}</Line>"
        for at, khz in enumerate(KHZ)
    )
    return f"<Run><Scale>MHz</Scale>{heads}{rows}</Run>"


def export(write: Write, mhz: str = "f", remark: str = "") -> str:
    parts = [
        f"<Test><Label>{one.label}</Label><Limit>TIA-568.2-D Cat 6A PL</Limit>"
        "<Started>2026-02-28T17:05:09Z</Started><Outcome>good</Outcome>"
        f"{''.join(table(one, parameter, write, mhz) for parameter in WORDS)}</Test>"
        for one in LINKS
    ]
    return f"<Survey>{remark}{''.join(parts)}</Survey>"


@pytest.mark.parametrize("write", [in_elements, in_attributes], ids=lambda write: write.__name__)
@pytest.mark.parametrize("mhz", ["f", "mhz"])
def test_each_column_is_a_curve(write: Write, mhz: str, tmp_path: Path) -> None:
    draft = draft_of(tmp_path, export(write, mhz), "export.xml")
    assert "NOT READ" not in draft
    assert draft.count("[[xml.curves]]") == 1
    settled = draft.replace('first = "TO-BE-SETTLED"', 'first = "disturbing"')
    records, problems = read(tmp_path / "export.xml", settled)
    assert problems == []
    for one, record in zip(LINKS, records, strict=True):
        assert curves(record.document) == written(one, *WORDS)


@pytest.mark.parametrize(
    ("remark", "first"),
    [
        ("<Remark>Of = disturbing pair, Onto = disturbed pair. All in dB.</Remark>", "disturbing"),
        ("<Remark>Onto: disturbing, Of: victim</Remark>", "disturbed"),
        ('<Words><w k="Of" is="victim"/><w k="Onto" is="disturber"/></Words>', "disturbed"),
        ("<Remark>Of = disturbing pair, Onto = pair.</Remark>", "TO-BE-SETTLED"),
        (
            "<Remark>Of = disturber, Onto = victim</Remark>"
            "<Remark>Of = victim, Onto = disturber</Remark>",
            "TO-BE-SETTLED",
        ),
    ],
)
def test_a_remark_says_which_text_is_of_which_pair(remark: str, first: str, tmp_path: Path) -> None:
    draft = draft_of(tmp_path, export(in_elements, remark=remark), "export.xml")
    before, found, _ = draft.partition(f'\nfirst = "{first}"\n')
    assert found
    said = "worked out: the export says so" in " ".join(before.rpartition("[crosstalk]")[2].split())
    assert said == (first != "TO-BE-SETTLED")
