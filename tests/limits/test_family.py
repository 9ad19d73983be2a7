"""How tables of one document stand to each other: channel, permanent link, and their variants."""

from dataclasses import replace

import numpy as np
import pytest

from sweepbook.limits.formulas import Floats, evaluate
from sweepbook.limits.library import Library
from sweepbook.limits.lines import unrounded_line
from sweepbook.limits.model import LimitTable
from sweepbook.limits.shape_model import DifferenceOf, Sum, Unknown, VoltageSum

PATHS = Library.load().paths()
LINKS = [path for path in PATHS if not path.endswith("/channel")]
MPTL = [path for path in PATHS if path.endswith("/mptl")]


def values(table: LimitTable, parameter: str) -> Floats:
    return unrounded_line(table, parameter, np.linspace(1.0, table.f_max_mhz, 4991)).value


@pytest.mark.parametrize("path", LINKS)
def test_a_link_is_never_looser_than_its_channel(path: str, library: Library) -> None:
    part, whole = library.table(path), library.table(path.rsplit("/", 1)[0] + "/channel")
    for word, limit in part.parameters.items():
        wide, narrow = values(whole, word), values(part, word)
        both = ~np.isnan(wide) & ~np.isnan(narrow)
        looser = wide[both] - narrow[both] if limit.sense == "min" else narrow[both] - wide[both]
        assert np.all(looser <= 1e-9), word


def test_every_link_has_its_channel() -> None:
    assert {path.rsplit("/", 1)[0] for path in LINKS} == {path.rsplit("/", 1)[0] for path in PATHS}


# 568.2-D, Annex F: an MPTL meets all requirements of a permanent link (cable maker's article of
# 27 October 2020).
@pytest.mark.parametrize("path", MPTL)
def test_a_link_with_a_plug_has_the_figures_of_a_permanent_link(
    path: str, library: Library
) -> None:
    plug, jack = library.table(path), library.table(path.replace("mptl", "permanent-link"))
    assert list(plug.parameters) == list(jack.parameters)
    for word, limit in plug.parameters.items():
        np.testing.assert_array_equal(values(plug, word), values(jack, word))
        assert limit.obligation == jack.parameters[word].obligation


# Insertion loss is left out: Category 6A takes cords of half as much loss again, Category 6 of a
# fifth, so that 6A may lose 0.1 dB more than 6 at the low end.
@pytest.mark.parametrize("kind", ["channel", "permanent-link"])
@pytest.mark.parametrize(
    ("lower", "upper"),
    [
        ("tia-568.2-d/cat5e", "tia-568.2-d/cat6"),
        ("tia-568.2-d/cat6", "tia-568.2-d/cat6a"),
        ("iso-11801-1-2017/class-d", "iso-11801-1-2017/class-e"),
        ("iso-11801-1-2017/class-e", "iso-11801-1-2017/class-ea"),
    ],
)
def test_a_higher_class_is_never_looser_in_reflections_and_crosstalk(
    lower: str, upper: str, kind: str, library: Library
) -> None:
    """Each class or category serves what the one below it serves (common practice, no source)."""
    low, high = library.table(f"{lower}/{kind}"), library.table(f"{upper}/{kind}")
    mhz = np.linspace(1.0, low.f_max_mhz, 997)
    for word in ("return_loss", "next", "psnext", "acr_f", "psacr_f"):
        one, other = (unrounded_line(x, word, mhz).value for x in (low, high))
        assert np.all(other >= one - 1e-9), word


def test_a_link_with_consolidation_point_differs_in_near_end_crosstalk_alone(
    library: Library,
) -> None:
    bare = library.table("iso-11801-1-2017/class-ea/permanent-link")
    with_cp = library.table("iso-11801-1-2017/class-ea/permanent-link-cp")
    assert bare.variants == (with_cp.path,)
    assert with_cp.variants == (bare.path,)
    mhz = np.linspace(1.0, 500.0, 4991)
    for word in bare.parameters:
        one, other = values(bare, word), values(with_cp, word)
        differs = ~np.isclose(one, other, equal_nan=True)
        if word in ("next", "psnext", "acr_n", "psacr_n"):
            assert mhz[differs].min() >= 300.0
            assert np.all(other[differs] < one[differs])
        else:
            assert not differs.any(), word


def test_differences_are_made_of_curves_of_the_same_table(library: Library) -> None:
    for path in PATHS:
        for word, limit in library.table(path).parameters.items():
            made = [s.shape for s in limit.segments if isinstance(s.shape, DifferenceOf | Unknown)]
            assert (word in ("acr_n", "psacr_n")) <= bool(made)
            assert not any(isinstance(x, DifferenceOf) for x in made) or word.endswith("acr_n")


CROSSTALK = ("next", "psnext", "acr_f", "psacr_f")


def parts(table: LimitTable, parameter: str) -> dict[str, Floats]:
    """Loss or delay of 100 m of cable, and of one connection, at a few frequencies."""
    mhz = np.array([1.0, 4.0, 31.25, 100.0])
    shape = table.parameters[parameter].segments[0].shape
    if isinstance(shape, VoltageSum):
        return {line.what: evaluate(line.line, mhz) for line in shape.lines}
    assert isinstance(shape, Sum)
    found = {part.what: evaluate(Sum((replace(part, times=1.0),)), mhz) for part in shape.parts}
    return {what.split(" (")[0].replace("100 m of ", ""): loss for what, loss in found.items()}


# A link is made of the same cable and connections as its channel, less of them: slide 'Breaking
# down the ISO channel loss equation', IEEE 802.3 10GBASE-T task force, March 2004; component and
# channel values of the supplier article 'Component vs. channel testing'.
@pytest.mark.parametrize("path", LINKS)
def test_a_link_is_made_of_the_parts_of_its_channel(path: str, library: Library) -> None:
    table, channel = library.table(path), library.table(path.rsplit("/", 1)[0] + "/channel")
    for parameter in ("insertion_loss", *CROSSTALK, "propagation_delay"):
        if table.parameters[parameter].grade < "D":
            whole = parts(channel, parameter)
            for what in ("cable", "connections"):
                loss = parts(table, parameter)[what]
                np.testing.assert_allclose(loss, whole[what], rtol=0.0, atol=1e-9)


# Same constants, written for 100 MHz by TIA and for 1 MHz by ISO/IEC: supplier article 'Component
# vs. channel testing' against the 13-frequency table of class E (see checkpoints/sources.json).
@pytest.mark.parametrize("kind", ["channel", "permanent-link"])
@pytest.mark.parametrize(
    ("category", "of_class"), [("cat5e", "class-d"), ("cat6", "class-e"), ("cat6a", "class-ea")]
)
def test_category_and_class_ask_the_same_of_crosstalk_and_reflections(
    category: str, of_class: str, kind: str, library: Library
) -> None:
    tia = library.table(f"tia-568.2-d/{category}/{kind}")
    iso = library.table(f"iso-11801-1-2017/{of_class}/{kind}")
    mhz = np.linspace(4.0, min(tia.f_max_mhz, 300.0) * 0.999, 1997)
    for word in (*CROSSTALK, "return_loss"):
        one, other = (unrounded_line(table, word, mhz).value for table in (tia, iso))
        np.testing.assert_allclose(one, other, rtol=0.0, atol=0.011, err_msg=word)
