"""Which tests are of one link; the cases follow from what is said of links, worked out by hand."""

from itertools import permutations

import pytest

from sweepbook.record.links import MOST, Key, Links, link_key, own_site

Place = tuple[str, str]


def _links(*places: Place, site: str = "") -> list[set[Place]]:
    """Places of one label by the links that they are of."""
    keys: list[Key] = [link_key("sb0-1", "A-1", *place) for place in places]
    links = Links(keys, own_site(keys, site))
    groups: dict[Key, set[Place]] = {}
    for key, place in zip(keys, places, strict=True):
        groups.setdefault(links.of(key), set()).add(place)
    return sorted(groups.values(), key=sorted)


@pytest.mark.parametrize(
    ("places", "site"),
    [
        ((("", ""), ("Quay", "")), ""),
        ((("Quay", ""), ("", "Quay")), ""),
        ((("Quay", ""), ("", "Mill")), ""),
        ((("Quay", ""), ("Quay", "Mill"), ("", "")), ""),
        ((("Quay", "Mill"), ("", "Quay")), ""),
        ((("Quay", "Mill"), ("Mill", "")), ""),
        ((("Quay", ""), ("", ""), ("", "Quay"), ("Town", "Quay")), "quay"),
        ((("Quay", "Mill"), ("", "Mill"), ("Mill", "")), "Quay"),
        ((("QUAY", " north  mill"), ("quay", "North Mill")), ""),
    ],
)
def test_places_that_do_not_contradict_are_of_one_link(
    places: tuple[Place, ...], site: str
) -> None:
    for order in permutations(places):
        assert len(_links(*order, site=site)) == 1


@pytest.mark.parametrize(
    ("links", "site"),
    [
        ([{("", "Hall")}, {("", "Mill")}], ""),
        ([{("Depot", "")}, {("Quay", "")}], ""),
        ([{("", ""), ("Quay", "")}, {("Depot", "")}], "Quay"),
        ([{("", "Quay")}, {("Depot", "")}], "Quay"),
        # what fits two that do not fit each other is of neither
        ([{("", "")}, {("", "Hall")}, {("", "Mill")}], ""),
        ([{("", "Mill")}, {("Depot", "")}, {("Quay", "")}], ""),
        # a site that no test names tells nothing
        ([{("", ""), ("Depot", "")}], "1 Harbour Road"),
    ],
)
def test_places_that_contradict_are_of_links_of_their_own(
    links: list[set[Place]], site: str
) -> None:
    for order in permutations([place for link in links for place in link]):
        assert _links(*order, site=site) == sorted(links, key=sorted)


def test_a_link_has_the_first_key_of_its_tests_and_one_alone_keeps_its_own() -> None:
    keys = [link_key("", "A-1", *place) for place in (("Quay", ""), ("", "Mill"), ("Quay", "Mill"))]
    links = Links([*keys, link_key("", "B-1", "Quay", "")], "quay")
    assert {links.of(key) for key in keys} == {("", "mill", "a-1")}
    assert links.of(("quay", "", "b-1")) == ("quay", "", "b-1")


def test_a_test_without_a_label_is_a_link_of_its_own() -> None:
    assert link_key("sb0-1", "  ", "Quay", "") == ("sb0-1",)
    assert Links([("sb0-1",), ("sb0-2",)]).of(("sb0-2",)) == ("sb0-2",)


def test_of_very_many_places_each_is_its_own() -> None:
    inside = link_key("", "A-1", "Site 0", "Hall")
    for count, first in ((MOST - 1, ("site 0", "", "a-1")), (MOST, inside)):
        sites = [link_key("", "A-1", f"Site {n}", "") for n in range(count)]
        assert Links([*sites, inside]).of(inside) == first
