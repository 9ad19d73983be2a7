"""Words for length, delay, skew and resistance that nobody knows, by the units beside numbers."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING

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


Known = dict[str, dict[str, list[float]]]
"""The same of all tests by quantity and parameter, of elements whose name the trade knows."""


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
                if element is not test and (of := _quantity(tree, element)):
                    _take(tree, element, of, told, found, known)
    lengths, delays, ohms = (_of_one(told, of) for of in ("length", "delay", "resistance"))
    words: dict[str, str] = {}
    if len(lengths) == 1 and "length" not in known:
        words |= dict.fromkeys(lengths, "length")
    if len(ohms) == 1 and "resistance" not in known:
        words |= dict.fromkeys(ohms, "dc_loop_resistance")
    if "delay" not in known:
        words |= _of_delays(delays, next(iter(lengths.values()), []))
    elif len(delays) == 1 and [*known["delay"]] == ["propagation_delay"]:
        skews = [number for some in delays.values() for of in some for number in of]
        if max(skews) < min(known["delay"]["propagation_delay"]):
            words |= dict.fromkeys(delays, "delay_skew")
    found.naming.unknown |= words
    found.by_unit |= words


def _of_one(told: Told, quantity: str) -> dict[str, list[list[float]]]:
    """The names of a quantity that stand for no other one as well."""
    others = {word for of, some in told.items() if of != quantity for word in some}
    return {word: some for word, some in told[quantity].items() if word not in others}


def _quantity(tree: Tree, element: "_Element") -> tuple[str, str]:
    """The quantity and the unit that an element names for the numbers in it, if it does."""
    for name, text in attributes(element).items():
        of = quantity_named(text) if tree.names_unit(local(name)) else ""
        if of in ("length", "delay", "resistance"):
            return of, text.strip()
    return "", ""


def _take(
    tree: Tree, element: "_Element", of: tuple[str, str], told: Told, found: Understood,
    known: Known,
) -> None:  # fmt: skip
    """Keep the numbers in an element, unless the trade knows what it is called."""
    quantity, unit = of
    if not quantity:
        return
    said = [local_name(element), *attributes(element).values(), *map(text_of, telling(element))]
    plain = [one for one in all_in(element) if not len(one)]
    texts = [text_of(one) for one in plain]
    times = unit_of(quantity, spellings_of(quantity)[unit]).times
    numbers = [number * times for number in map(either, texts) if number is not None]
    named = (part.parameter for part in map(found.naming.parse, said))
    if told_by := next(filter(None, named), None):
        known[quantity][told_by[1]] += numbers
    elif numbers:
        told[quantity][local_name(element)].append(numbers)


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
