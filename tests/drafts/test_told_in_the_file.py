"""Drafts take what the file says itself: scheme, zone, what an id refers to, near verdicts."""

from pathlib import Path

import pytest

from sweepbook.draft import fields, zones

from .drafting import curves, draft_of, read, written
from .links import link, lists

LINKS = [link("L-1", 35.5), link("L-2", 80.0)]
HEAD = """<survey written="2026-03-01">
<colours scheme="TIA T568A"/>
<cable id="c1" maker="Ravel Wire" type="RW 6A"/>
<limit id="q" name="TIA-568.2-D Cat 6A PL"/>
<gear serial="G-10" model="Umbel 2" place="local"/>
<gear serial="G-11" model="Umbel 3" place="remote"/>
<people><person id="p1">A. Rook</person><person id="p2">B. Finch</person></people>"""


def referring() -> str:
    """Tests that name cable, limit and people by ids, and whose times stand beside their zone."""
    text = lists(LINKS).replace("<survey>", HEAD)
    text = text.replace('<gear side="local" serial="S1"/><gear side="remote" serial="S2"/>', "")
    text = text.replace("<requirement>TIA-568.2-D Cat 6A PL</requirement>", "")
    text = text.replace(
        "2026-02-28T17:05:09Z</started>",
        "2026-02-28 17:05</started><clock>local, UTC+02:00</clock>",
    )
    for one, by, verdict in zip(LINKS, ("p1", "p2"), ("good", "good (marginal)"), strict=True):
        old = f'<link name="{one.label}">'
        text = text.replace(old, f'<link name="{one.label}" cable="c1" limit="q" operator="{by}">')
        end = text.index(old[:-1])
        text = text[:end] + text[end:].replace("<outcome>good<", f"<outcome>{verdict}<", 1)
    return text


def test_ids_schemes_and_zones_that_the_file_explains_need_no_change(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, referring(), "export.xml")
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert [record.label for record in records] == ["L-1", "L-2"]
    for record, verdict in zip(records, ("pass", "pass*"), strict=True):
        document = record.document
        assert document["stated"]["overall"]["verdict"] == verdict
        assert document["test"]["limit"]["as_stated"] == "TIA-568.2-D Cat 6A PL"
        assert document["test"]["started"]["rfc3339"] == "2026-02-28T17:05:00+02:00"
        assert document["link"]["cable"] == {"maker": "Ravel Wire", "part": "RW 6A"}
        assert document["test"]["near"]["instrument"] == {"model": "Umbel 2", "serial": "G-10"}
        assert document["test"]["far"]["instrument"] == {"model": "Umbel 3", "serial": "G-11"}
        assert "operator" not in document["test"]  # which of two people, no dialect can say
        assert document["extra"]["@operator"] in ("p1", "p2")
    assert "# worked out: the file says so; seen: 'TIA T568A'.\nscheme = \"T568A\"" in draft
    one = curves(records[0].document)
    turned = {"1-2": "3-6", "3-6": "1-2"}
    assert {
        (name, end, tuple(sorted(turned.get(pair, pair) for pair in pairs))): values
        for (name, end, pairs), values in one.items()
        if name in ("insertion_loss", "next")
    } == written(LINKS[0], "insertion_loss", "next")


@pytest.mark.parametrize(
    ("text", "offset", "behind", "offsets"),
    [
        ("CET (UTC+01:00)", "+01:00", "CET (UTCzone)", {}),
        ("UTC-5, east", "-05:00", "UTCzone, east", {"-5": "-05:00"}),
        ("+0530", "+05:30", "zone", {}),
        ("Sommerzeit UTC+02:00", "+02:00", None, None),
    ],
)
def test_zones(text: str, offset: str, behind: str | None, offsets: dict[str, str] | None) -> None:
    assert zones.offset_in(text) == offset
    found = zones.forms([text])
    assert (found and found.behind[0]) == behind
    assert (found and found.offsets) == offsets


@pytest.mark.parametrize("text", ["+01", "21 °C", "UTC", "gain +01:00 dB", "2026-03-01"])
def test_what_names_no_offset(text: str) -> None:
    assert zones.offset_in(text) is None


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("pass-marginal", "pass*"),
        ("NICHT BESTANDEN (knapp)", "fail*"),
        ("marginal", None),
        ("marginal curve", None),
        ("passage", None),
    ],
)
def test_near_verdicts(text: str, word: str | None) -> None:
    assert fields.verdict_of(text) == word
