"""Words for length, delay, skew and resistance that nobody knows, by the units beside numbers."""

import re
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.dialect.units import spellings_of, unit_of
from sweepbook.draft.numbers import either
from sweepbook.draft.reading import Understood
from sweepbook.judging.physics import LIGHT_M_PER_NS, Bounds
from sweepbook.limits.practice import Practice
from sweepbook_plugins.xml.draft.tests import telling
from sweepbook_plugins.xml.draft.tree import Tree, all_in, attributes, local, local_name, text_of
from sweepbook_plugins.xml.draft.unit_names import quantity_named

if TYPE_CHECKING:
    from lxml.etree import _Element

Told = dict[str, dict[str, list[list[float]]]]
"""Numbers of each test in metres, ns or ohm, by quantity and by the name of their element."""


Known = dict[str, dict[str, list[list[float]]]]
"""The same by quantity and parameter, of elements whose name the trade knows."""
_IN_NAME = re.compile(r"(?P<stem>.*[^\W\d_])[-_.](?P<unit>[^\W\d_]+)")
"""A name with a unit behind it."""
_LONE = 1
"""Letters of a unit in a name that may mean anything: m."""


class Counted(NamedTuple):
    """What an element says of the numbers in it.

    Attributes:
        quantity, unit: of them.
        name: that of the element, without the unit.
    """

    quantity: str
    unit: str
    name: str


def learn(files: "Iterable[tuple[Tree, Sequence[_Element]]]", found: Understood) -> None:
    """Keep the names of elements that say by their units what is in them.

    Args:
        files: the files, and the elements of tests in each.
        found: takes the words. Of delays the longer ones are those of the wave, if it runs as fast
            as in a cable, or the trade knows their name; the others are their differences.
    """
    told: Told = defaultdict(lambda: defaultdict(list))
    known: Known = defaultdict(lambda: defaultdict(list))
    for tree, tests in files:
        for test in tests:
            for element in all_in(test):
                if element is not test and (of := _counted(tree, element)):
                    _take(element, of, told, found, known)
    lengths, delays, ohms = (_of_one(told, of) for of in ("length", "delay", "resistance"))
    words: dict[str, str] = {}
    if len(lengths) == 1 and "length" not in known:
        words |= dict.fromkeys(lengths, "length")
    if len(ohms) == 1 and "resistance" not in known:
        words |= dict.fromkeys(ohms, "dc_loop_resistance")
    if "delay" not in known:
        metres = next(iter((lengths | known["length"]).values()), [])
        words |= _of_delays(delays, metres)
    elif len(delays) == 1 and [*known["delay"]] == ["propagation_delay"]:
        (skews,) = delays.values()
        if max(map(max, skews)) < min(map(min, known["delay"]["propagation_delay"])):
            words |= dict.fromkeys(delays, "delay_skew")
    found.naming.unknown |= words
    found.by_unit |= words


def _of_one(told: Told, quantity: str) -> dict[str, list[list[float]]]:
    """The names of a quantity that stand for no other one as well."""
    others = {word for of, some in told.items() if of != quantity for word in some}
    return {word: some for word, some in told[quantity].items() if word not in others}


def _counted(tree: Tree, element: "_Element") -> Counted | None:
    """The quantity and the unit that an element names for the numbers in it, if it does."""
    name = local_name(element)
    units = [(text, name) for of, text in attributes(element).items() if tree.names_unit(local(of))]
    if told := _IN_NAME.fullmatch(name):
        units.append((told["unit"], told["stem"]))
    for text, stem in units:
        if (quantity := quantity_named(text)) in ("length", "delay", "resistance"):
            return Counted(quantity, text.strip(), stem)
    return None


def _take(element: "_Element", of: Counted, told: Told, found: Understood, known: Known) -> None:
    """Keep the numbers in an element, unless the trade knows what it is called."""
    said = [local_name(element), *attributes(element).values(), *map(text_of, telling(element))]
    plain = [one for one in all_in(element) if not len(one)]
    texts = [text_of(one) for one in plain]
    times = unit_of(of.quantity, spellings_of(of.quantity)[of.unit]).times
    numbers = [number * times for number in map(either, texts) if number is not None]
    named = (part.parameter for part in map(found.naming.parse, said))
    told_by = next(filter(None, named), None)
    if numbers and told_by:
        known[of.quantity][told_by[1]].append(numbers)
    elif numbers and (len(of.unit) > _LONE or of.name == local_name(element)):
        told[of.quantity][of.name].append(numbers)


def _of_delays(
    delays: Mapping[str, Sequence[Sequence[float]]], lengths: Sequence[Sequence[float]]
) -> dict[str, str]:
    """Which of one or two names is that of delays, and which that of their differences."""
    ranked = sorted(delays, key=lambda word: -max(map(max, delays[word])))
    if not ranked or len(ranked) > len(("delay", "skew")) or not lengths:
        return {}
    bounds = Bounds.of(Practice.shipped())
    speeds = [
        metres[0] / delay[0] / LIGHT_M_PER_NS
        for metres, delay in zip(lengths, delays[ranked[0]], strict=False)
        if delay[0] > 0.0
    ]
    if not speeds or not all(bounds.nvp_lowest <= of <= bounds.nvp_highest for of in speeds):
        return {}
    both = zip(*(delays[word] for word in ranked), strict=False)
    skewed = len(ranked) > 1 and all(max(less) < min(more) for more, less in both)
    words = {ranked[0]: "propagation_delay"}
    return words | ({ranked[1]: "delay_skew"} if skewed else {})
