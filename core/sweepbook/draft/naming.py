"""How an export names its curves: texts to templates, and the words that stand in them."""

import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from sweepbook.dialect.parameters import parameters, quantity_of
from sweepbook.dialect.units import UNITS
from sweepbook.draft import phrases
from sweepbook.draft.phrases import PAIRINGS, Pairing, Span
from sweepbook.draft.trade_words import ENDS, FREQUENCY, MARGIN, VERDICT_KEYS

PLACEHOLDER = re.compile(r"\{[a-z_]+\}")
_LONGEST_BETWEEN = 8
_UNITS = {
    spelling: quantity
    for quantity, units in UNITS.items()
    if quantity not in ("frequency", "temperature", "plain")
    for unit in units.values()
    for spelling in unit.spellings
}

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
    spans: list[tuple[Span, str]] = []
    known = _spelt(text, words or {}) or phrases.parameter_in(text)
    rest = _without(text, known)
    if known:
        spans.append((known, "{parameter}"))
    pairs = pairing.find(rest)[:2]
    beside = rest
    for pair in pairs:
        beside = _without(beside, pair)
    end = phrases.find(beside, {"near": (ends[0],), "far": (ends[1],)}) if ends else None
    between = None
    if len(pairs) == 2 and (joint := _joint(text, pairs, known, end)) is not None:
        between = joint
        spans.append((Span(pairs[0].start, pairs[1].end, ""), "{pairs}"))
    elif len(pairs) == 2:
        spans += [(pairs[0], "{first_pair}"), (pairs[1], "{second_pair}")]
    elif pairs:
        spans.append((pairs[0], "{pairs}"))
    if end and all(end.start >= pair.end or end.end <= pair.start for pair in pairs):
        spans.append((end, "{end}"))
    else:
        end = None
    for span, _ in spans:
        rest = _without(rest, span)
    unit = _unit(rest, known)
    if unit:
        spans.append((unit, "{unit}"))
    clean = not any(char.isdigit() for char in _without(rest, unit)) and not set("{}") & set(text)
    return Parsed(
        template=_template(text, spans),
        parameter=(text[known.start : known.end], known.meaning) if known else None,
        pairs=tuple((text[pair.start : pair.end], pair.meaning) for pair in pairs),
        end=(text[end.start : end.end], end.meaning) if end else None,
        between=between,
        unit=text[unit.start : unit.end] if unit else None,
        clean=clean,
    )


@dataclass
class Naming:
    """The words that names are made of, gathered from texts.

    Attributes:
        pairing: how pairs are called.
        ends: words for near and far, or None where no text names an end.
        unknown: spellings that stand where a parameter should, with the word they were given.
        parameters, pairs, end_words: spellings by the record's word.
        between: texts between two pairs.
        units: spellings of units by quantity.
    """

    pairing: Pairing
    ends: Ends | None
    unknown: dict[str, str] = field(default_factory=dict)
    parameters: dict[str, list[str]] = field(default_factory=dict)
    pairs: dict[str, list[str]] = field(default_factory=dict)
    end_words: dict[str, list[str]] = field(default_factory=dict)
    between: list[str] = field(default_factory=list)
    units: dict[str, list[str]] = field(default_factory=dict)

    def parse(self, text: str) -> Parsed:
        """Take a text apart."""
        found = parse(text, self.pairing, self.ends, self.unknown)
        if (
            found.parameter
            and found.parameter[0] in self.unknown
            and not told_whole(found.template)
        ):
            return parse(text, self.pairing, self.ends)
        return found

    def take(self, parsed: Parsed, name: Named) -> None:
        """Keep the words of a text that was used."""
        if parsed.parameter and name.parameter:
            _keep(self.parameters, name.parameter, parsed.parameter[0])
            if name.parameter == "dc_resistance_unbalance_between_pairs":
                _keep(self.parameters, "dc_resistance_unbalance_within_pair", parsed.parameter[0])
        for spelling, pair in parsed.pairs:
            _keep(self.pairs, pair, spelling)
        if parsed.end:
            _keep(self.end_words, parsed.end[1], parsed.end[0])
        if parsed.between is not None and parsed.between not in self.between:
            self.between.append(parsed.between)
        if parsed.unit and parsed.parameter:
            _keep(self.units, _UNITS[parsed.unit], parsed.unit)

    def spell(self, parameter: str, spelling: str) -> None:
        """Keep a whole text as a spelling of a parameter."""
        _keep(self.parameters, parameter, spelling)

    def together(self, parts: Iterable[Parsed]) -> Named:
        """What several texts say together."""
        parameter, end = None, None
        pairs: list[str] = []
        for part in parts:
            if part.parameter:
                parameter = part.parameter[1]
            end = part.end[1] if part.end else end
            pairs += [pair for _, pair in part.pairs]
        if parameter == "dc_resistance_unbalance_within_pair" and len(pairs) == 2:
            parameter = "dc_resistance_unbalance_between_pairs"
        return Named(parameter, tuple(pairs), end)


def told_whole(template: str) -> bool:
    """Whether the rest of a name is words for what a figure is, and nothing else."""
    rest = PLACEHOLDER.sub(" ", template)
    known = (*FREQUENCY[:-1], "at", *MARGIN, *VERDICT_KEYS, "limit", "worst", "value", "accuracy")
    while span := phrases.find(rest, {"": (*known, "db", "ns", "end", "pair", "pairs")}):
        rest = f"{rest[: span.start]} {rest[span.end :]}"
    return not any(map(str.isalpha, rest))


def settle(texts: Sequence[str]) -> Naming:
    """How pairs and ends are called in texts: the way that explains most of them."""
    rests = [_without(text, phrases.parameter_in(text)) for text in dict.fromkeys(texts)]
    scores = Counter({pairing: _score(rests, pairing) for pairing in PAIRINGS})
    best = max(PAIRINGS, key=lambda pairing: scores[pairing])
    return Naming(best, _ends(rests))


def plausible(name: Named) -> bool:
    """Whether a parameter goes with as many pairs as are named."""
    if name.parameter is None:
        return False
    return len(name.pairs) in parameters()[name.parameter].pairs and len(set(name.pairs)) == len(
        name.pairs
    )


def tells(part: Parsed) -> bool:
    """Whether a text names something, and hardly anything else."""
    left = PLACEHOLDER.sub("", part.template)
    return part.template != left and sum(map(str.isalnum, left)) <= 6


def _score(texts: Sequence[str], pairing: Pairing) -> int:
    score = 0
    for text in texts:
        found = pairing.find(text)
        rest = text
        for span in found[:2]:
            rest = _without(rest, span)
        if found and not any(char.isdigit() for char in rest):
            score += 2 if len({span.meaning for span in found}) == len(found) else -1
    return score


def _ends(texts: Sequence[str]) -> Ends | None:
    best, most = None, 0
    for ends in ENDS:
        found = [phrases.find(text, {"near": (ends[0],), "far": (ends[1],)}) for text in texts]
        count = Counter(span.meaning for span in found if span)
        score = sum(count.values()) if len(count) == 2 else 0
        if score > most:
            best, most = ends, score
    return best


def _spelt(text: str, words: Mapping[str, str]) -> Span | None:
    for spelling in sorted(words, key=len, reverse=True):
        match = re.search(rf"(?<![^\W\d_]){re.escape(spelling)}(?![^\W\d_])", text)
        if match:
            return Span(match.start(), match.end(), words[spelling])
    return None


def _joint(text: str, pairs: Sequence[Span], known: Span | None, end: Span | None) -> str | None:
    """The text between two pairs, if nothing else stands there."""
    start, stop = pairs[0].end, pairs[1].start
    if any(span and start <= span.start < stop for span in (known, end)):
        return None
    between = text[start:stop]
    return between if 0 < len(between) <= _LONGEST_BETWEEN else None


def _unit(rest: str, known: Span | None) -> Span | None:
    """A unit of the parameter, as a word of its own."""
    if known is None:
        return None
    for spelling in sorted(_UNITS, key=len, reverse=True):
        match = re.search(rf"(?<![\w%]){re.escape(spelling)}(?![\w%])", rest)
        if match and _UNITS[spelling] == quantity_of(known.meaning):
            return Span(match.start(), match.end(), spelling)
    return None


def _without(text: str, span: Span | None) -> str:
    if span is None:
        return text
    return text[: span.start] + "\0" * (span.end - span.start) + text[span.end :]


def _template(text: str, spans: Sequence[tuple[Span, str]]) -> str:
    made, at = [], 0
    for span, placeholder in sorted(spans):
        made += [text[at : span.start], placeholder]
        at = span.end
    return "".join([*made, text[at:]])


def _keep(table: dict[str, list[str]], word: str, spelling: str) -> None:
    known = table.setdefault(word, [])
    if spelling not in known:
        known.append(spelling)
