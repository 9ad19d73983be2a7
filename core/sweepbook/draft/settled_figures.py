"""Which keys are figures in the end, once all are told: as a reader will take them."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from itertools import product
from typing import TYPE_CHECKING

from sweepbook.draft.document import PARAMETER
from sweepbook.draft.parsed import Named
from sweepbook.draft.verdicts import are_verdicts

if TYPE_CHECKING:
    from sweepbook.draft.reading import Understood

_TOLD_BY_TEXT = "verdict"
"""A reader tells it from a figure under the same name."""
_OF_VALUE, _OF_MARGIN = "worst_value.frequency", "worst_margin.frequency"

Properties = Mapping[str, Sequence[str]]
_Of = tuple[Named, str | None]


def settle(properties: Properties, found: "Understood", in_all: Collection[str]) -> None:
    """Take back what a reader would take otherwise, or refuse tests by.

    Args:
        properties: distinct texts by key.
        found: what names are made of; its figures are changed.
        in_all: keys that hold a text in every test. Of others several may stand for one figure,
            each in tests of its own.
    """
    if "worst_margin.margin" in found.figures:
        _frequencies_of_margins(found)
    _no_key_twice(found, in_all)
    found.figures = {role: some for role, some in found.figures.items() if some}
    _verdicts_alone(properties, found)


def _frequencies_of_margins(found: "Understood") -> None:
    """A worst frequency of a parameter that has no worst value is that of its worst margin."""
    valued, judged, told = (
        set(_parameters(found.figures.get(role, {}).values(), found))
        for role in ("worst_value.value", "worst_margin.margin", _OF_MARGIN)
    )
    for template, keys in [*found.figures.get(_OF_VALUE, {}).items()]:
        named = set(_parameters([keys], found))
        if named & judged and not named & (valued | told):
            del found.figures[_OF_VALUE][template]
            found.figures.setdefault(_OF_MARGIN, {})[template] = keys


def _parameters(some: Collection[Sequence[str]], found: "Understood") -> Iterator[str | None]:
    return (found.naming.name(key).parameter for keys in some for key in keys)


def _no_key_twice(found: "Understood", in_all: Collection[str]) -> None:
    """No key is for two roles, and no figure comes twice in a test: those of most keys stay."""
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


def _named(keys: Collection[str], found: "Understood", in_all: Collection[str]) -> list[_Of]:
    """What keys that each test has are figures of, and the unit in each."""
    return [(found.naming.name(key), found.naming.parse(key).unit) for key in keys if key in in_all]


def _come_twice(one: _Of, other: _Of) -> bool:
    """Whether two keys are figures of one name; a reader takes one of two in different units."""
    return one[0] == other[0] and (one[1] == other[1] or None in (one[1], other[1]))


def _verdicts_alone(properties: Properties, found: "Understood") -> None:
    """Take words of a key out of its parameter into the template, as in "{parameter} map".

    A template of a verdict stands for the keys of all parameters. Where one of these holds a text
    that is no verdict, such as a unit, the test would not be read. A key that cannot be told from
    it is no figure.
    """
    templates = found.figures.get("verdict", {})
    for template, keys in list(templates.items()):
        if template != PARAMETER or not _takes_others(keys, properties, found):
            continue
        del templates[template]
        for key in keys:
            spelling, meaning = found.naming.parse(key).parameter or ("", "")
            word, _, rest = spelling.rpartition(" ")
            if not word:
                found.figure_keys.discard(key)
                continue
            found.naming.spell(meaning, word)
            templates.setdefault(f"{PARAMETER} {rest}", []).append(key)


def _takes_others(keys: Sequence[str], properties: Properties, found: "Understood") -> bool:
    """Whether the bare name of another parameter is a key with a text that is no verdict."""
    return any(
        key not in keys
        and key not in found.figure_keys
        and found.naming.parse(key).template == PARAMETER
        and not are_verdicts(texts)
        for key, texts in properties.items()
    )
