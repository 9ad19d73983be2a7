"""What one text of an export says of a name: its parts, and a template of it."""

import re
from collections.abc import Mapping, Sequence
from functools import cache, lru_cache
from typing import NamedTuple

from sweepbook.dialect.parameters import parameters, quantity_of
from sweepbook.dialect.units import UNITS, spellings_of
from sweepbook.draft import phrases
from sweepbook.draft.phrases import Pairing, Span
from sweepbook.draft.trade_words import AND, AT, FIGURES, FREQUENCY

PLACEHOLDER = re.compile(r"\{[a-z_]+\}")
_NUMBERED = re.compile(r"[^\W\d_].*[0-9]")
"""A word and a number, as in unit 1: no number of a pair."""
_UNITS = re.compile(r"(?<![^\W_])(?:dB|дБ|[kMG]?Hz)(?![^\W_])")
"""Units whose letters name no end: the B of dB is none."""
_LONGEST_BETWEEN = 14
_BOTH = 2
_GOES_ON = re.compile(
    r"[ _](?:(?:of|von|van|di|de|do|da|du|del)[ _]|(?:dell'|d')[ _]?)[^\W\d_]{5,}", re.IGNORECASE
)
"""A word that a name goes on with; words for pairs and ends are shorter or come behind others."""
_CELL = re.compile(r"=[^\[\]]*\]/[^/\[\]]+(\[[0-9]+\])$")
"""Which cell of a row that its first one chooses: row[c=Length verdict]/c[2]."""
UNIT_WORDS = {
    spelling: quantity
    for quantity in UNITS
    if quantity not in ("frequency", "temperature", "nvp")
    for spelling in spellings_of(quantity)
}

CAPITALS = {
    **{"M": "m", "CM": "cm", "MM": "mm", "FT": "ft"},
    **{"PS": "ps", "NS": "ns", "US": "us"},
}
"""Units in names of nothing but capitals, such as LENGTH_M, and how they are spelt otherwise."""
UNITS_IN_NAMES = {**UNIT_WORDS, **{text: UNIT_WORDS[plain] for text, plain in CAPITALS.items()}}

Ends = tuple[str, str]


class Parsed(NamedTuple):
    """What one text says of a name.

    Attributes:
        template: the text with placeholders in place of words.
        parameter: spelling and word, or None.
        pairs: spelling and pair of each.
        end: spelling and near or far, or None.
        between: text between two pairs, or None.
        unit: spelling of a unit that goes with the parameter, or None.
        clean: whether no digit is left that no pair explains.
    """

    template: str
    parameter: tuple[str, str] | None
    pairs: tuple[tuple[str, str], ...]
    end: tuple[str, str] | None
    between: str | None
    unit: str | None
    clean: bool


class Named(NamedTuple):
    """What the texts of a curve say together: words of the record, as far as they are known."""

    parameter: str | None
    pairs: tuple[str, ...]
    end: str | None


def parse(
    text: str, pairing: Pairing, ends: Ends | None, words: Mapping[str, str] | None = None
) -> Parsed:
    """Take a text apart.

    Args:
        text: a title, a cell, a heading, a name.
        pairing: how pairs are called.
        ends: words for near and far.
        words: further spellings of parameters and their word, asked before those of the trade.
    """
    return _parse(text, pairing, ends, tuple(words.items()) if words else ())


@lru_cache(maxsize=1 << 14)
def _parse(
    text: str, pairing: Pairing, ends: Ends | None, words: tuple[tuple[str, str], ...]
) -> Parsed:
    """As `parse`: a draft asks the same of a text in many places."""
    whole, spans = text, list[tuple[Span, str]]()
    if cell := _CELL.search(text):
        text = without(text, Span(*cell.span(1), ""))
    known = _to_its_end(text, _spelt(text, dict(words)) or phrases.parameter_in(text))
    rest = without(text, known)
    spelt, parameter = (text[known.start : known.end], known.meaning) if known else ("", "")
    if known:
        spans.append((known, "{parameter}"))
    numbered = ends is not None and all(_NUMBERED.search(word) for word in ends)
    end = _end(rest, ends) if numbered else None
    pairs = pairing.find(without(rest, end))[:_BOTH]
    beside = without(rest, _and(rest, pairs))
    for pair in pairs:
        beside = without(beside, pair)
    end = end or _end(without(beside, _unit(beside, spelt, parameter)), ends)
    between = None
    if len(pairs) == _BOTH and (joint := _joint(text, pairs, known, end)) is not None:
        between = joint
        spans.append((Span(pairs[0].start, pairs[1].end, ""), "{pairs}"))
    elif len(pairs) == _BOTH:
        spans += [(pairs[0], "{first_pair}"), (pairs[1], "{second_pair}")]
    elif pairs:
        spans.append((pairs[0], "{pairs}"))
    if end and all(end.start >= pair.end or end.end <= pair.start for pair in pairs):
        spans.append((end, "{end}"))
    else:
        end = None
    for span, _ in spans:
        rest = without(rest, span)
    unit = _unit(rest, spelt, parameter)
    if unit:
        spans.append((unit, "{unit}"))
    clean = not any(char.isdigit() for char in without(rest, unit)) and not set("{}") & set(text)
    return Parsed(
        template=_template(whole, spans),
        parameter=(spelt, parameter) if known else None,
        pairs=tuple((text[pair.start : pair.end], pair.meaning) for pair in pairs),
        end=(text[end.start : end.end], end.meaning) if end else None,
        between=between,
        unit=text[unit.start : unit.end] if unit else None,
        clean=clean,
    )


def _end(text: str, ends: Ends | None) -> Span | None:
    if ends is None:
        return None
    text = _UNITS.sub(lambda unit: "\0" * len(unit[0]), text)
    return phrases.find(text, {"near": (ends[0],), "far": (ends[1],)})


def told_whole(template: str, beside: Sequence[str] = ()) -> bool:
    """Whether the rest of a name is words for what a figure is, or of these, and nothing else."""
    rest = PLACEHOLDER.sub(" ", template)
    known = (*FREQUENCY, *AT, "value", "db", "ns", "дб", "нс", "end", "pair", "pairs", *beside)
    while span := phrases.find(rest, {**FIGURES, "": known}):
        rest = f"{rest[: span.start]} {rest[span.end :]}"
    return not any(map(str.isalpha, rest))


def tells(part: Parsed) -> bool:
    """Whether a text names something, and hardly anything else."""
    left = PLACEHOLDER.sub("", part.template)
    again = phrases.parameter_in(left) if part.parameter else None
    if again and part.parameter and again.meaning == part.parameter[1]:
        left = without(left, again)  # a name with its code in brackets
    return part.template != left and sum(map(str.isalnum, left)) <= 6


def plausible(name: Named) -> bool:
    """Whether a parameter goes with as many pairs as are named."""
    if name.parameter is None:
        return False
    return len(name.pairs) in parameters()[name.parameter].pairs and len(set(name.pairs)) == len(
        name.pairs
    )


def _spelt(text: str, words: Mapping[str, str]) -> Span | None:
    for spelling in sorted(words, key=len, reverse=True):
        match = re.search(rf"(?<![^\W\d_]){re.escape(spelling)}(?![^\W\d_])", text)
        if match:
            return Span(match.start(), match.end(), words[spelling])
    return None


def _to_its_end(text: str, known: Span | None) -> Span | None:
    """A parameter with the word that goes on with it: "Attenuazione di inserzione"."""
    more = known and _GOES_ON.match(text, known.end)
    return known._replace(end=more.end()) if known and more else known


def _joint(text: str, pairs: Sequence[Span], known: Span | None, end: Span | None) -> str | None:
    """The text between two pairs, if nothing else stands there."""
    start, stop = pairs[0].end, pairs[1].start
    if any(span and start <= span.start < stop for span in (known, end)):
        return None
    between = text[start:stop]
    return between if 0 < len(between) <= _LONGEST_BETWEEN else None


def _and(text: str, pairs: Sequence[Span]) -> Span | None:
    """A small word for and that is all between two pairs, be it spelt as an end: zelený a modrý."""
    if len(pairs) < _BOTH:
        return None
    start, stop = pairs[0].end, pairs[1].start
    between = text[start:stop]
    return Span(start, stop, "") if between[:1] == " " and between.strip() in AND else None


def _unit(rest: str, spelt: str, parameter: str) -> Span | None:
    """A unit of the parameter, as a word of its own; of several the longest.

    Args:
        rest: the text, what was found in it made void.
        spelt: the parameter as it stands there, or "".
        parameter: the record's word for it, or "".
    """
    capitals = spelt.isupper() and not any(map(str.islower, rest))
    any_of, each = _units_of(quantity_of(parameter), capitals) if parameter else (None, {})
    if any_of is None or any_of.search(rest) is None:
        return None
    matches = ((spelling, pattern.search(rest)) for spelling, pattern in each.items())
    spans = (Span(match.start(), match.end(), spelling) for spelling, match in matches if match)
    return next(spans, None)


@cache
def _units_of(
    quantity: str, capitals: bool
) -> tuple[re.Pattern[str] | None, dict[str, re.Pattern[str]]]:
    """What finds any unit of a quantity, None where it has none, and what finds each of them."""
    known = UNITS_IN_NAMES if capitals else UNIT_WORDS
    longest_first = sorted(known, key=len, reverse=True)
    words = [word for word in longest_first if known[word] == quantity]
    each = {word: re.compile(_as_a_word(re.escape(word))) for word in words}
    any_of = _as_a_word(f"(?:{'|'.join(map(re.escape, words))})")
    return re.compile(any_of) if words else None, each


def _as_a_word(expression: str) -> str:
    """An expression beside which no letter, digit or sign for percent stands."""
    return rf"(?<![^\W_])(?<!%){expression}(?![^\W_])(?!%)"


def without(text: str, span: Span | None) -> str:
    """A text with a stretch of it made void, as long as before."""
    if span is None:
        return text
    return text[: span.start] + "\0" * (span.end - span.start) + text[span.end :]


def _template(text: str, spans: Sequence[tuple[Span, str]]) -> str:
    made, at = [], 0
    for span, placeholder in sorted(spans):
        made += [text[at : span.start], placeholder]
        at = span.end
    return "".join([*made, text[at:]])
