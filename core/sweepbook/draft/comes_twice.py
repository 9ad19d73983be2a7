"""Figures as the reader will take them: no key for two roles, and none a second time in a test."""

from collections.abc import Collection
from itertools import product
from typing import TYPE_CHECKING

from sweepbook.draft.parsed import Named

if TYPE_CHECKING:
    from sweepbook.draft.reading import Understood

_TOLD_BY_TEXT = "verdict"
"""A reader tells it from a figure under the same name."""
_Of = tuple[Named, str | None]


def settle(found: "Understood", in_all: Collection[str]) -> None:
    """Take out the templates by which a reader would refuse tests, those of fewest keys.

    Args:
        found: what names are made of; its figures are changed.
        in_all: keys that hold a text in every test. Of others several may stand for one figure,
            each in tests of its own.
    """
    figures = {role: some for role, some in found.figures.items() if role != _TOLD_BY_TEXT}
    for template in {of for templates in figures.values() for of in templates}:
        roles = [role for role, templates in figures.items() if template in templates]
        roles.sort(key=lambda role: -len(figures[role][template]))
        for role in roles[1:]:
            del figures[role][template]
    for templates in found.figures.values():
        for template in sorted(templates, key=lambda of: -len(templates[of]))[::-1]:
            own = _named(templates[template], found, in_all)
            others = [key for of, keys in templates.items() if of != template for key in keys]
            if any(_come_twice(*of) for of in product(own, _named(others, found, in_all))):
                found.figure_keys -= {*templates.pop(template)}
    found.figures = {role: some for role, some in found.figures.items() if some}


def _named(keys: Collection[str], found: "Understood", in_all: Collection[str]) -> list[_Of]:
    """What keys that each test has are figures of, and the unit in each."""
    parts = [found.naming.parse(key) for key in keys if key in in_all]
    return [(found.naming.together([part]), part.unit) for part in parts]


def _come_twice(one: _Of, other: _Of) -> bool:
    """Whether two keys are figures of one name; a reader takes one of two in different units."""
    return one[0] == other[0] and (one[1] == other[1] or None in (one[1], other[1]))
