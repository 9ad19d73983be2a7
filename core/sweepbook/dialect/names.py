"""From a heading or a few cells to the name of a curve: templates expanded over declared words.

A template such as "{parameter} {end} {pairs}" is expanded once into every text that the declared
words allow; reading is then an exact look-up. Nothing is matched by pattern.
"""

import math
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import chain, product
from typing import NamedTuple

from sweepbook.dialect.parameters import CROSSTALK, FAR_END, parameters
from sweepbook.dialect.raw import Name
from sweepbook.dialect.units import Spelt, unit_of
from sweepbook.dialect.words import Ambiguous, Words

PLACEHOLDERS = ("parameter", "pairs", "first_pair", "second_pair", "end", "unit")
_PLACEHOLDER = re.compile(r"\{([a-z_]+)\}")
_MOST_TEXTS = 500_000
_MOST_KNOWN = 10_000
_MAY_LACK = frozenset({"pairs", "first_pair", "second_pair", "end"})
_UNIT = "\0"
"""Stands for a unit, whichever it may be; no line of a file holds it."""
_OTHER_END = {"near": "far", "far": "near", None: None}


@dataclass(frozen=True)
class Grammar:
    """How an export names curves.

    Attributes:
        words: spellings.
        units: by quantity, the units that may stand in a name.
        between_pairs: texts that may stand between two pairs.
        first: whether the first of two pairs is the disturbing or the disturbed one.
        far_end: whether `end` of far-end crosstalk is the receiving or the driving end.
        blank: texts that a cell of a pair or an end may hold for none.
        spelt: further spellings of units.
    """

    words: Words
    units: Mapping[str, Sequence[str]]
    between_pairs: Sequence[str] = ("-",)
    first: str = "disturbing"
    far_end: str = "receiving"
    blank: frozenset[str] = field(default=frozenset({""}))
    spelt: Spelt = ()


class _Part(NamedTuple):
    """What one text says of a name."""

    parameter: str | None = None
    first: str | None = None
    second: str | None = None
    end: str | None = None
    quantity: str | None = None
    unit: str | None = None


class Namer:
    """Looks up what texts name.

    Args:
        columns: templates of each column; a heading is one column.
        grammar: the words they are expanded over.
        bare: whether a name may do without its pairs, as a verdict on a whole parameter does.

    Raises:
        Ambiguous: a text could mean two things.
        ValueError: a template has an unknown placeholder, or stands for too many texts.
    """

    def __init__(
        self, columns: Sequence[Sequence[str]], grammar: Grammar, *, bare: bool = False
    ) -> None:
        self._grammar = grammar
        self._bare = bare
        self._tables = [_expand_all(templates, grammar) for templates in columns]
        self._known: dict[tuple[str, ...], Name | None] = {}
        if len(columns) == 1:
            for text, parts in self._tables[0].items():
                self._refuse_doubles(text, parts)

    def name(self, texts: Sequence[str]) -> Name | None:
        """What the texts name, one text a column; None where nothing declared fits."""
        key = tuple(texts)
        if key not in self._known:
            if len(self._known) >= _MOST_KNOWN:
                self._known.clear()
            self._known[key] = self._look_up(key)
        return self._known[key]

    def _look_up(self, texts: tuple[str, ...]) -> Name | None:
        found = set()
        candidates = [
            table.get(text.strip(), ()) for table, text in zip(self._tables, texts, strict=True)
        ]
        for parts in product(*candidates):
            merged = _merge(parts)
            name = merged and _finish(merged, self._grammar, bare=self._bare)
            if name:
                found.add(name)
        return found.pop() if len(found) == 1 else None

    def texts(self) -> tuple[frozenset[str], ...]:
        """Every text that a column may hold, one set a column."""
        return tuple(frozenset(table) for table in self._tables)

    def names(self) -> Mapping[str, Name]:
        """Every text of the only column with its name."""
        return {text: name for text in self._tables[0] if (name := self.name([text]))}

    def _refuse_doubles(self, text: str, parts: Iterable[_Part]) -> None:
        names = {_finish(part, self._grammar, bare=False) for part in parts} - {None}
        if len(names) > 1:
            listed = " or ".join(sorted(f"'{name}'" for name in names))
            raise Ambiguous(f"{text!r} could be read as {listed}; change the words or the template")


class Completer:
    """Tells which pairs and which end a name is of by texts beside it.

    Args:
        grammar: the words of both.
    """

    def __init__(self, grammar: Grammar) -> None:
        self._grammar = grammar
        self._pairs = _expand_all(["{pairs}", "{pairs} {end}", "{end} {pairs}"], grammar)
        self._seconds = _expand_all(["{second_pair}"], grammar)
        self._ends = _expand_all(["{end}"], grammar)

    def knows(self, which: str, text: str) -> bool:
        """Whether a text has a meaning as the `pairs`, `second_pair` or `end` of a name."""
        tables = {"pairs": self._pairs, "second_pair": self._seconds, "end": self._ends}
        return bool(tables[which].get(text))

    def complete(self, name: Name, pairs: str, second_pair: str, end: str) -> Name | None:
        """A name with what texts say besides; None where they do not fit, or contradict it.

        Args:
            name: the name.
            pairs: a pair or two, and perhaps an end with a blank between; "" for none.
            second_pair: the second of two pairs, where only the first is in `pairs`; else "".
            end: an end; "" for none.
        """
        told = ((self._pairs, pairs), (self._seconds, second_pair), (self._ends, end))
        tables = [table.get(text, ()) for table, text in told if text]
        bare = bool(name.end or not pairs)
        found = set()
        for parts in product(*tables):
            merged = _merge([_Part(parameter=name.parameter), *parts])
            full = merged and _finish(merged, self._grammar, bare=bare)
            if full is None or (name.pairs and full.pairs not in ((), name.pairs)):
                continue
            if name.end is None or full.end in (None, name.end):
                found.add(Name(full.parameter, full.pairs or name.pairs, full.end or name.end))
        return found.pop() if len(found) == 1 else None


def placeholders(template: str) -> list[str]:
    """The names in braces of a template, in order."""
    return _PLACEHOLDER.findall(template)


def beside_unit(template: str, grammar: Grammar) -> Iterator[tuple[str, str, str | None]]:
    """What stands before and after `{unit}` in every text a template can stand for.

    Yields:
        the text before, the text after, and the parameter; None where another column names it.
    """
    for text, part in _expand(template.replace("{unit}", _UNIT), grammar):
        before, _, after = text.partition(_UNIT)
        yield before, after, part.parameter


def without_pairs(template: str, grammar: Grammar) -> Mapping[str, str]:
    """Parameter by each text of a template that names one, and no pair of those it is of."""
    return {
        text: part.parameter
        for text, part in (() if check(template) else _expand(template, grammar))
        if part.parameter and not _count(part) and 0 not in parameters()[part.parameter].pairs
    }


def check(template: str) -> str:
    """What is wrong with a template, in words; "" if nothing."""
    names = placeholders(template)
    unknown = [name for name in names if name not in PLACEHOLDERS]
    if unknown or template.count("{") != len(names) or template.count("}") != len(names):
        listed = ", ".join(f"{{{name}}}" for name in PLACEHOLDERS)
        return f"{template!r} may hold these only in braces: {listed}"
    if len(set(names)) != len(names):
        return f"{template!r} has a placeholder twice"
    return ""


def _expand_all(templates: Sequence[str], grammar: Grammar) -> dict[str, tuple[_Part, ...]]:
    found: dict[str, tuple[_Part, ...]] = {}
    known: _Known = {}
    for template in templates:
        for text, part in _expand(template, grammar, known):
            parts = found.get(text, ())
            if part not in parts:
                found[text] = (*parts, part)
    return found


_Known = dict[tuple[str, ...], list[tuple[tuple[str, ...], _Part]]]
"""What placeholders in a row can stand for, and say together, as far as it was worked out."""


def _expand(
    template: str, grammar: Grammar, known: _Known | None = None
) -> Iterator[tuple[str, _Part]]:
    """Every text a template can stand for, with what it says.

    Args:
        template: it.
        grammar: the words.
        known: shared by templates of one grammar, of which many have the same placeholders.
    """
    if fault := check(template):
        raise ValueError(fault)
    pieces = _PLACEHOLDER.split(template)
    kept, names = pieces[::2], pieces[1::2]
    alone = set(names) <= _MAY_LACK and not any(kept)
    said = _said(tuple(names), grammar, {} if known is None else known)
    if said is None:
        raise ValueError(f"{template!r} stands for too many texts; declare fewer spellings")
    for texts, part in said:
        made = zip(kept, (*texts, ""), strict=True)
        text = "".join(chain.from_iterable(made)).strip()
        if text or not alone:
            yield text, part
    if alone:
        yield from ((blank, _Part()) for blank in grammar.blank)


def _said(
    names: tuple[str, ...], grammar: Grammar, known: _Known
) -> list[tuple[tuple[str, ...], _Part]] | None:
    """The texts of some placeholders, and what they say together; None where they are too many."""
    if names not in known:
        options = [list(choices(name, grammar)) for name in names]
        if math.prod(map(len, options)) > _MOST_TEXTS:
            return None
        made: list[tuple[tuple[str, ...], _Part]] = [((), _Part())]
        for option in options:
            both = (
                (texts, text, _merge((one, other))) for texts, one in made for text, other in option
            )
            made = [((*texts, text), part) for texts, text, part in both if part]
        known[names] = [(texts, part) for texts, part in made if _possible(part)]
    return known[names]


def choices(placeholder: str, grammar: Grammar) -> Iterator[tuple[str, _Part]]:
    """Each text a placeholder can stand for, with what it says."""
    words = grammar.words
    if placeholder == "parameter":
        for text, candidates in words.parameters.items():
            yield from ((text, _Part(parameter=word)) for word in candidates)
    elif placeholder == "end":
        # the empty word names none: what has no end stays without, for the rest see `_end`
        yield from ((text, _Part(end=end if text else None)) for text, end in words.ends.items())
    elif placeholder == "unit":
        for quantity in ("loss", "delay", "length", "resistance", "unbalance"):
            for unit in grammar.units[quantity]:
                for text in unit_of(quantity, unit, grammar.spelt).spellings:
                    yield text, _Part(quantity=quantity, unit=unit)
    elif placeholder == "second_pair":
        yield from ((text, _Part(second=pair)) for text, pair in words.pairs.items())
    else:
        yield from ((text, _Part(first=pair)) for text, pair in words.pairs.items())
        if placeholder == "pairs":
            yield from _two_pairs(grammar)


def _two_pairs(grammar: Grammar) -> Iterator[tuple[str, _Part]]:
    spelled = grammar.words.pairs.items()
    for (text_a, a), between, (text_b, b) in product(spelled, grammar.between_pairs, spelled):
        if a != b:
            yield f"{text_a}{between}{text_b}", _Part(first=a, second=b)


def _merge(parts: Iterable[_Part]) -> _Part | None:
    """All that the parts say together; None where two say the same thing differently."""
    merged: list[str | None] = [None] * len(_Part._fields)
    for part in parts:
        for position, value in enumerate(part):
            if value is not None:
                if merged[position] not in (None, value):
                    return None
                merged[position] = value
    return _Part(*merged)


def _possible(part: _Part) -> bool:
    """Whether the pairs and the unit go with the parameter, as far as both are known."""
    if part.parameter is None:
        return True
    parameter = parameters()[part.parameter]
    if part.quantity is not None and part.quantity != parameter.quantity:
        return False
    return _count(part) in (0, *parameter.pairs) and (
        part.first is None or part.first != part.second
    )


def _count(part: _Part) -> int:
    return (part.first is not None) + (part.second is not None)


def _finish(part: _Part, grammar: Grammar, *, bare: bool) -> Name | None:
    """The name in the record's terms; None where it is incomplete."""
    if part.parameter is None or not _possible(part):
        return None
    pairs = tuple(pair for pair in (part.first, part.second) if pair is not None)
    parameter = parameters()[part.parameter]
    if len(pairs) not in parameter.pairs and (pairs or not bare):
        return None
    if part.parameter in CROSSTALK and grammar.first == "disturbed":
        pairs = pairs[::-1]
    end = _end(part, parameter.end, grammar, bare=bare)
    return Name(part.parameter, pairs, end, part.unit or "")


def _end(part: _Part, rule: str, grammar: Grammar, *, bare: bool) -> str | None:
    """The record's end: none for what has none, the receiving one for far-end crosstalk."""
    if rule == "none":
        return None
    end = part.end
    if end is None and rule == "each" and not bare:
        end = grammar.words.ends.get("")
    turned = part.parameter in FAR_END and grammar.far_end == "driving"
    return _OTHER_END[end] if turned else end
