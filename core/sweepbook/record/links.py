"""Which tests are of one link: the one idea of that, by which every command goes.

A test is of a link by its label, and by the site and the building that it names. Makes of testers
write places into different fields, or none, so what one test leaves out fits whatever another one
says; a link of its own begins only where two of them name different places.
"""

from collections import defaultdict
from collections.abc import Iterable
from functools import lru_cache
from itertools import combinations, product
from typing import TYPE_CHECKING

from sweepbook.record.identity import normalised

if TYPE_CHECKING:
    from sweepbook.record.model import Record

Key = tuple[str, ...]
"""Site, building and label for comparison, "" for what is not named; of a test without a label its
record id alone."""
MOST = 50
"""Places of one label that are held against each other; of more each is one of its own."""
_normalised = lru_cache(maxsize=4096)(normalised)


def plain_label(label: str) -> str:
    """A label for comparison: compatible forms, case and runs of blanks do not count; "" for none.

    Labels that are equal so are one label everywhere.
    """
    return _normalised(label)


def link_key(record_id: str, label: str, site: str, building: str) -> Key:
    """What a test says of its link; compatible forms, case and runs of blanks do not count."""
    plain = plain_label(label)
    return (_normalised(site), _normalised(building), plain) if plain else (record_id,)


def key_of(record: "Record") -> Key:
    """What a record that follows its schema says of its link: of the near end, else the far one."""
    link = record.document["link"]
    places = [link.get(end, {}).get("place", {}) for end in ("near", "far")]
    site, building = (
        next((place[level] for place in places if place.get(level)), "")
        for level in ("site", "building")
    )
    return link_key(record.record_id, record.label, site, building)


def own_site(keys: Iterable[Key], site: str) -> str:
    """The job's own site for comparison, where some test names it, as site or as building; else "".

    A site that no test names is spelled in another way, or is an address: it tells no link from
    another one.
    """
    own = _normalised(site)
    return own if own and any(own in key[:-1] for key in keys) else ""


class Links:
    """The links of some tests.

    Two tests of one label are of one link where site and building of the one fit those of the
    other. A level that is not named fits any, but no site is the job's own, and so is a building
    that is called as that is. A text that one test gives as site and the other as building is the
    same place. A test that fits two which do not fit each other is of a link of its own.
    """

    def __init__(self, keys: Iterable[Key], own: str = "") -> None:
        """Sort keys out.

        Args:
            keys: of all tests, or of all that have one label; gone through once.
            own: see `own_site`.
        """
        self._own = own
        first: dict[str, Key] = {}
        by_label: defaultdict[str, set[Key]] = defaultdict(set)
        for key in keys:
            if len(key) > 1 and (one := first.setdefault(key[-1], key)) != key:
                by_label[key[-1]] |= {one, key}
        self._of: dict[Key, Key] = {}
        for of_label in by_label.values():
            if 1 < len(of_label) <= MOST:
                self._bring_together(sorted(of_label))

    def of(self, key: Key) -> Key:
        """The key of the link that a test is of: the first of those of its tests."""
        return self._of.get(key, key)

    def fit(self, one: Key, other: Key) -> bool:
        """Whether two keys of one label name no different places."""
        if one == other:
            return True
        first, second = self._levels(one), self._levels(other)
        if _fit(first, second):
            return True
        readings = product(_readings(first, second), _readings(second, first))
        return any(_fit(*either) for either in readings)

    def _bring_together(self, keys: list[Key]) -> None:
        near = {key: {other for other in keys if self.fit(key, other)} for key in keys}
        sure = {
            key
            for key, fitting in near.items()
            if all(self.fit(one, other) for one, other in combinations(fitting, 2))
        }
        for key in sure:
            first = min(near[key] & sure)
            if first != key:
                self._of[key] = first

    def _levels(self, key: Key) -> tuple[str, str]:
        site, building = key[:2]
        if self._own and building == self._own:
            return self._own, ""
        return site or self._own, building


def _readings(one: tuple[str, str], other: tuple[str, str]) -> list[tuple[str, str]]:
    """The levels of a place, and these put into the fields into which the other puts them."""
    site, building = one
    found = [one]
    if site and not building and site == other[1]:
        found.append(("", site))
    if building and not site and building == other[0]:
        found.append((building, ""))
    return found


def _fit(one: tuple[str, str], other: tuple[str, str]) -> bool:
    (site, building), (its_site, its_building) = one, other
    return (not site or not its_site or site == its_site) and (
        not building or not its_building or building == its_building
    )
