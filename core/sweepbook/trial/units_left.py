"""Units that stand in a test beside what is read in another one."""

from collections.abc import Iterator, Mapping

from sweepbook.dialect.model import Dialect
from sweepbook.dialect.parameters import quantity_of
from sweepbook.dialect.units import UNITS, spellings_of, unit_of

_NOT_BESIDE = ("temperature", "nvp")
"""Quantities of fields, whose units stand in the text itself."""


def units(extra: Mapping[str, str], dialect: Dialect) -> Iterator[tuple[str, str]]:
    """Yield the key and a sentence for each text of units alone that has one that is not declared.

    Args:
        extra: texts by key that nothing took; several of one key are parted by line ends.
        dialect: its units are what is expected.
    """
    meaning = dialect.meaning
    named = {word for words in meaning.words.parameters.values() for word in words}
    used = {"frequency", *map(quantity_of, named)} - {""}
    for key, text in extra.items():
        found = dict.fromkeys(line.strip() for line in text.splitlines())
        quantities = {unit: list(_quantities(unit)) for unit in found}
        if not all(quantities.values()):
            continue
        for unit, of in quantities.items():
            for quantity in used.intersection(of):
                declared = (meaning.numbers.units[quantity], meaning.figure_units.get(quantity))
                names = [name for name in declared if name]
                if not any(
                    unit in unit_of(quantity, name, meaning.numbers.spelt).spellings
                    for name in names
                ):
                    yield (
                        key,
                        f"{key!r} says {unit!r}, while each {quantity} is read in "
                        f"{' or '.join(names)}; take it into the names of what stands beside it as "
                        f"{{unit}}, or see units.{quantity}",
                    )


def _quantities(unit: str) -> Iterator[str]:
    """The quantities that a text is a unit of."""
    return (name for name in UNITS if name not in _NOT_BESIDE and unit in spellings_of(name))
