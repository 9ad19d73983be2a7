"""Drafts of XML rows whose cells are called by names that elements elsewhere explain."""

from collections.abc import Callable
from pathlib import Path

import pytest

from .drafting import curves, draft_of, read, written
from .links import KHZ, Link, link, shifted

LINKS = [link("L-1", 35.5), link("L-2", 80.0)]
RAW = ("insertion_loss", "return_loss", "next", "fext")
WORDS = {
    "insertion_loss": "Attenuation",
    "return_loss": "Return loss",
    "next": "NEXT",
    "fext": "FEXT",
}
SIDES = {None: "", "near": "local", "far": "remote"}
Cells = dict[str, str]


def in_attributes(frequency: str, cells: Cells) -> str:
    told = " ".join(f'{name}="{text}"' for name, text in cells.items())
    return f'<step mhz="{frequency}" {told}/>'


def in_elements(frequency: str, cells: Cells) -> str:
    told = "".join(f"<{name}>{text}</{name}>" for name, text in {"q0": frequency, **cells}.items())
    return f"<step>{told}</step>"


def by_choice(frequency: str, cells: Cells) -> str:
    named = {"q0": frequency, **cells}.items()
    told = "".join(f'<v of="{name}">{text}</v>' for name, text in named)
    return f"<step>{told}</step>"


def column(name: str, parameter: str, end: str | None, pairs: tuple[str, ...]) -> str:
    """An element that says what cells of a name are; of far-end crosstalk the part of each pair."""
    said = {"key": name, "what": WORDS[parameter]}
    if parameter == "fext":
        said |= {"aggressor": pairs[0], "victim": pairs[1]}
    else:
        said |= {"pair": pairs[0], **({"other": pairs[1]} if pairs[1:] else {})}
    said |= {"side": SIDES[end]} if end else {}
    told = " ".join(f'{of}="{text}"' for of, text in said.items())
    return f"<meaning {told}/>"


def written_by(one: Link, write: Callable[[str, Cells], str]) -> str:
    kept = [key for key in one.curves if key[0] in RAW]
    named = {f"q{at}": key for at, key in enumerate(kept, 1)}
    means = "".join(column(name, *key) for name, key in named.items())
    if write is not in_attributes:
        means = f'<meaning key="q0" what="Frequency (MHz)"/>{means}'
    rows = "".join(
        write(
            shifted(khz, 3),
            {name: shifted(one.curves[key][at], 2) for name, key in named.items()},
        )
        for at, khz in enumerate(KHZ)
    )
    return (
        f'<link name="{one.label}"><limit>TIA-568.2-D Cat 6A PL</limit>'
        f"<started>2026-02-28T17:05:09Z</started><outcome>good</outcome>"
        f"<meanings>{means}</meanings><course>{rows}</course></link>"
    )


@pytest.mark.parametrize("write", [in_attributes, in_elements, by_choice])
@pytest.mark.parametrize("links", [LINKS, LINKS[:1]], ids=["two tests", "one"])
def test_the_draft_needs_no_change(
    write: Callable[[str, Cells], str], links: list[Link], tmp_path: Path
) -> None:
    text = f"<survey>{''.join(written_by(one, write) for one in links)}</survey>"
    draft = draft_of(tmp_path, text, "export.xml")
    assert '\nfirst = "disturbing"\n' in draft
    assert "@aggressor and @victim of its columns" in draft
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert len(records) == len(links)
    for one, record in zip(links, records, strict=True):
        assert curves(record.document) == written(one, *RAW)
        assert record.document["stated"]["overall"]["verdict"] == "pass"


def test_the_order_follows_the_words_for_the_pairs(tmp_path: Path) -> None:
    """The same with the disturbed pair first."""
    text = f"<survey>{''.join(written_by(one, in_attributes) for one in LINKS)}</survey>"
    turned = text.replace("aggressor=", "x=").replace("victim=", "aggressor=")
    turned = turned.replace("x=", "victim=")
    draft = draft_of(tmp_path, turned, "export.xml")
    assert '\nfirst = "disturbed"\n' in draft
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    fext = {key: of for key, of in curves(records[0].document).items() if key[0] == "fext"}
    right = written(LINKS[0], "fext")
    assert fext == {("fext", end, pairs[::-1]): of for (_, end, pairs), of in right.items()}


def test_attributes_that_nothing_explains_are_columns_as_before(tmp_path: Path) -> None:
    """Names that say themselves what they are need no elements beside them."""
    one = LINKS[0]
    rows = "".join(
        f'<step mhz="{shifted(khz, 3)}" '
        + " ".join(
            f'p{pair.replace("-", "")}="{shifted(values[at], 2)}"'
            for (name, _, (pair, *_)), values in one.curves.items()
            if name == "insertion_loss"
        )
        + "/>"
        for at, khz in enumerate(KHZ)
    )
    text = (
        f'<survey><link name="L-1"><outcome>good</outcome>'
        f"<Attenuation>{rows}</Attenuation></link></survey>"
    )
    draft = draft_of(tmp_path, text, "export.xml")
    assert "called" not in draft.partition("[xml]")[2].partition("[fields]")[0]
    records, _ = read(tmp_path / "export.xml", draft)
    assert curves(records[0].document) == written(one, "insertion_loss")
