"""Figures of a pair whose keys are called as their unit: `pair[@colour=blue]/@metres`, `@ns`."""

import re
from collections.abc import Mapping, Sequence

from sweepbook.dialect.units import spellings_of, unit_of
from sweepbook.draft import phrases
from sweepbook.draft.absent_words import NOT_MEASURED
from sweepbook.draft.key_offers import steps_of
from sweepbook.draft.naming import Naming
from sweepbook.draft.numbers import either
from sweepbook.draft.parsed import UNIT_WORDS
from sweepbook.judging.physics import LIGHT_M_PER_NS, Bounds
from sweepbook.limits.practice import Practice
from sweepbook.word_lists import lists_of

_IN_WORDS = lists_of(
    """
    m: metre, metres, meter, meters, mètre, mètres, metro, metros, metri, metry, metrów, metrů,
        metriä, méter, метр, метры, метров, μέτρα
    ft: foot, feet, pied, pieds, pie, pies, piedi, fuß, fuss, pés, voet
    ns: nsec, nanosec, nanosecond, nanoseconds, nanosekunden, nanoseconde, nanosecondes,
        nanosegundos, nanosecondi, nanosekundy, nanosekund, nanosekunder, наносекунды
    us: usec, microsecond, microseconds, mikrosekunden, microsecondes, microsegundos, microsecondi
    ohm: ohmios, ohmů, ohmów, ohmia, омы
    """
)
"""Units in words, by how they are spelt else: common practice, no source."""
_UNITS = {word: unit for unit, some in _IN_WORDS.items() for word in some}
_MEANT = {
    "length": "length",
    "delay": "propagation_delay",
    "resistance": "dc_loop_resistance",
}
"""What is stated of each pair in units of these quantities, where nothing says more."""
_OF_THE_RECORD = ("m", "ns", "ohm")
_LEAST_LETTERS = 2
"""A lone m may mean anything."""

Told = dict[str, dict[str, list[float]]]


def last_step(key: str) -> str:
    """The name that a path ends with, without what marks an attribute or a namespace."""
    return re.split("[@:]", steps_of(key)[-1].partition("[")[0])[-1]


def learn(properties: Mapping[str, Sequence[str]], naming: Naming) -> None:
    """Keep the names of such keys, and their units.

    Two figures of a quantity leave open which is which, and then only that in the record's unit is
    taken. A time is a delay where the wave runs as fast as in a cable by the length beside it, and
    may be a skew else.

    Args:
        properties: texts by key, which are paths.
        naming: takes the names, each with the record's word, and the spellings of their units.
    """
    told, known = _told(properties, naming)
    names = {of: name for of, some in told.items() if of not in known and (name := _one_of(some))}
    lengths, delays = (told[of][names[of]] if of in names else [] for of in ("length", "delay"))
    if delays and not _run_as_in_a_cable(lengths, delays):
        names = {of: name for of, name in names.items() if of == "resistance"}
    elif not delays and len(names.get("length", "")) < _LEAST_LETTERS:
        names.pop("length", None)
    for name in names.values():
        naming.take_unit(_unit(name))
    naming.called_as_units |= {name: _MEANT[of] for of, name in names.items()}


def _told(properties: Mapping[str, Sequence[str]], naming: Naming) -> tuple[Told, set[str]]:
    """Numbers of pairs in the record's unit by quantity and name, and quantities of known names."""
    told, known = Told(), set[str]()
    if not any(UNIT_WORDS.get(_unit(last_step(key)), "") in _MEANT for key in properties):
        return told, known
    for key, texts in properties.items():
        part, unit = naming.parse(key), _unit(last_step(key))
        if len(part.pairs) != 1 or not part.clean:
            continue
        if part.parameter:
            known |= {of for of, meant in _MEANT.items() if meant == part.parameter[1]}
            continue
        quantity = UNIT_WORDS.get(unit, "")
        said = [text for text in texts if not phrases.whole(text, NOT_MEASURED)]
        numbers = [number for text in said if (number := either(text)) is not None]
        if quantity in _MEANT and 0 < len(numbers) == len(said):
            times = unit_of(quantity, spellings_of(quantity)[unit]).times
            some = told.setdefault(quantity, {}).setdefault(last_step(key), [])
            some += [number * times for number in numbers]
    return told, known


def _unit(name: str) -> str:
    """The unit that a name is, as it is spelt beside numbers; "" for another name."""
    return name if name in UNIT_WORDS else _UNITS.get(name.casefold(), "")


def _one_of(names: Mapping[str, object]) -> str:
    """The only name, or the only one in the record's unit; "" where several may be meant."""
    plain = [name for name in names if _unit(name) in _OF_THE_RECORD]
    some = [*names] if len(names) == 1 else plain
    return some[0] if len(some) == 1 else ""


def _run_as_in_a_cable(lengths: Sequence[float], delays: Sequence[float]) -> bool:
    """Whether the longest and the shortest way take as long as in a cable."""
    if not lengths or min(delays) <= 0.0:
        return False
    bounds = Bounds.of(Practice.shipped())
    speeds = (of(lengths) / of(delays) / LIGHT_M_PER_NS for of in (min, max))
    return all(bounds.nvp_lowest <= speed <= bounds.nvp_highest for speed in speeds)
