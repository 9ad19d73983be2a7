"""How tables of one document stand to each other: channel, permanent link, and their variants."""

import numpy as np
import pytest

from sweepbook.limits.formulas import Floats
from sweepbook.limits.library import Library
from sweepbook.limits.lines import unrounded_line
from sweepbook.limits.model import LimitTable
from sweepbook.limits.shape_model import DifferenceOf, Unknown

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
