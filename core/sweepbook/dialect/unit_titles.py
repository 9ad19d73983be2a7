"""Titles that would name a figure or a curve if their unit were the declared one."""

from collections.abc import Iterator, Mapping
from functools import lru_cache

from sweepbook import numerals
from sweepbook.dialect.model import Dialect
from sweepbook.dialect.names import beside_unit
from sweepbook.dialect.parameters import quantity_of
from sweepbook.dialect.units import spellings_of, unit_of

LONGEST_UNIT = 12
"""Longer texts in place of a unit are no unit."""

_Beside = Mapping[str, tuple[tuple[str, str, str], ...]]


def lost_to_unit(dialect: Dialect, extra: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """Yield the key and a sentence for each number in `extra` that only its unit has put there.

    Args:
        dialect: its templates with `{unit}` are asked, those of the reader's half included.
        extra: texts by key that nothing took.
    """
    beside = _beside(dialect)
    for key, text in extra.items() if beside else ():
        found = _but_for_unit(key, beside)
        if found is not None and is_number(text, dialect):
            unit, parameter, _ = found
            quantity = quantity_of(parameter)
            grammar = dialect.meaning.grammar
            allowed = (unit_of(quantity, of, grammar.spelt) for of in grammar.units[quantity])
            if not any(unit in of.spellings for of in allowed):
                yield key, _told(key, *found, dialect)


def _but_for_unit(key: str, beside: _Beside) -> tuple[str, str, str] | None:
    """What stands in place of a unit, the parameter and the template; None where none fits."""
    for end in range(len(key)):
        for after, parameter, template in beside.get(key[:end], ()):
            unit = key[end : len(key) - len(after)].strip()
            if key.endswith(after) and 0 < len(unit) <= LONGEST_UNIT:
                return unit, parameter, template
    return None


def _told(key: str, unit: str, parameter: str, template: str, dialect: Dialect) -> str:
    quantity = quantity_of(parameter)
    declared = dialect.meaning.numbers.units[quantity]
    known = spellings_of(quantity).get(unit)
    cure = (
        f"if each of them is in {known}, write units.{quantity} = {known!r}"
        if known
        else f"if {unit!r} means {declared.rpartition(' ')[2]} or another unit, say so in "
        f"units.spellings; see units.{quantity} too"
    )
    return (
        f"{key!r} fits {template!r} as {parameter} but for {unit!r}, which is no spelling of "
        f"{declared}; what stands there is kept in extra and not judged; {cure}"
    )


def is_number(text: str, dialect: Dialect) -> bool:
    """Whether a text, or every line of one, is a plain number."""
    numbers = dialect.meaning.numbers
    texts = [line for line in map(str.strip, text.split("\n")) if line not in numbers.missing]
    return bool(texts) and numerals.first_fault(texts, numbers.notation) == len(texts)


@lru_cache(maxsize=64)
def _beside(dialect: Dialect) -> _Beside:
    """By what stands before the unit: what stands after it, the parameter and the template."""
    found: dict[str, tuple[tuple[str, str, str], ...]] = {}
    for template in dict.fromkeys(_templates([*dialect.meaning.figures.values(), dialect.layout])):
        for before, after, parameter in beside_unit(template, dialect.meaning.grammar):
            if parameter is not None and quantity_of(parameter):
                found[before] = (*found.get(before, ()), (after, parameter, template))
    return found


def _templates(part: object) -> Iterator[str]:
    """Every text with `{unit}` in it, anywhere in plain data."""
    if isinstance(part, str):
        if "{unit}" in part:
            yield part
    elif isinstance(part, Mapping):
        yield from _templates(list(part.values()))
    elif isinstance(part, list | tuple):
        for inner in part:
            yield from _templates(inner)
