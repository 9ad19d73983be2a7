"""Two texts about one cable: what contradicts, and what only says more. The constructions are those
of ISO/IEC 11801-1's names, recalled; how schedules are written is common practice, no source."""

import pytest

from sweepbook.schedule.cable import Cable, contradictions

WEFT = Cable("Pellumbra", "Weft 6A", "6A", "U/UTP", "W-1")


@pytest.mark.parametrize(
    ("cable", "tested", "differs"),
    [
        ("", WEFT, ()),
        ("Pellumbra Weft 6A", Cable(), ()),
        ("Pellumbra Weft 6A", WEFT, ()),
        ("WEFT-6A", WEFT, ()),
        ("Weft 6A LSZH grey", WEFT, ()),
        ("Cat 6A U/UTP", WEFT, ()),
        ("Category 6A", Cable(category="Cat 6A"), ()),
        ("Cat.6A LSZH", WEFT, ()),
        ("4 pair cat 6a u / utp", WEFT, ()),
        ("CAT-6A", WEFT, ()),
        ("CAT-5E", WEFT, ("category",)),
        ("4 pair UTP cable, grey, LSZH, 23 AWG", WEFT, ()),
        ("Cat 7A S/FTP", WEFT, ("category", "construction")),
        ("Cat 6", WEFT, ("category",)),
        ("Cat 5e", Cable(category="Category 5e"), ()),
        ("F/FTP", WEFT, ("construction",)),
        ("SF/UTP", Cable(construction="F/UTP"), ("construction",)),
        ("Pellumbra Harrow 7", WEFT, ("product",)),
        ("Harrow 7", WEFT, ("product",)),
        ("Pellumbra Harrow U/UTP", WEFT, ("product",)),
        ("Pellumbra", WEFT, ()),
    ],
)
def test_what_contradicts(cable: str, tested: Cable, differs: tuple[str, ...]) -> None:
    assert contradictions(cable, "", tested) == differs


def test_reels_are_compared_where_both_name_one() -> None:
    assert contradictions("", "w 1", WEFT) == ()
    assert contradictions("", "W-2", WEFT) == ("reel",)
    assert contradictions("", "W-2", Cable()) == ()
