"""Keys in `extra` whose texts are the dialect's words for ends, or for pairs.

They may say of which pairs and which end a worst margin is.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence

from sweepbook.dialect.parameters import parameters
from sweepbook.draft import crosstalk_told
from sweepbook.draft.document import quoted
from sweepbook.draft.naming import settle
from sweepbook.draft.parsed import Parsed
from sweepbook.judging import phrases
from sweepbook.trial.usable import Usable

_END = "worst_margin.end"
_PAIRS = ("worst_margin.pairs", "worst_margin.second_pair")
_SAYS = {_END: "the end", _PAIRS[0]: "the pair", _PAIRS[1]: "the second pair"}


def of_margins(
    extra: Mapping[str, str], usable: Usable, with_margin: Collection[str]
) -> Iterator[tuple[str, str]]:
    """Yield a key that tells the end or a pair of a worst margin, and what to add for it.

    Of keys with one template it is the first.

    Args:
        extra: texts by key that nothing took; several of one key are parted by line ends.
        usable: tries what is proposed.
        with_margin: parameters of which a worst margin is stated.
    """
    words = usable.dialect.meaning.words
    naming = settle(list(extra))
    named = {key: naming.parse(key) for key in extra}
    stated = {
        key: of for key, of in named.items() if of.parameter and of.parameter[1] in with_margin
    }
    ends = _held(extra, stated, words.ends)
    pairs = [key for key in _held(extra, stated, words.pairs) if not stated[key].pairs]
    told = {key: _END for key in ends}
    first = usable.dialect.meaning.grammar.first
    places = {key: _place(key, pairs, stated, first) for key in pairs}
    seconds = {stated[key].template for key, place in places.items() if place}
    told |= {key: _PAIRS[stated[key].template in seconds] for key in pairs}
    seen: set[str] = set()
    for key in stated:
        role, part = told.get(key), stated[key]
        if role is None or part.parameter is None or part.template in seen:
            continue
        spelling, word = part.parameter
        if usable.figure(role, part.template, word, spelling, key):
            seen.add(part.template)
            shown = ", ".join(map(repr, sorted(_texts(extra[key]))))
            what = f"{_SAYS[role]} of the worst margin of {phrases.name(word)}"
            also = _together(key, told, stated)
            yield key, f"{key!r} has {shown}, {what}: add {role} = {quoted(part.template)}{also}"


def _together(key: str, told: Mapping[str, str], named: Mapping[str, Parsed]) -> str:
    """What to add with the template of a key, since of two pairs one alone names no curve.

    Args:
        key: the key.
        told: what keys say of worst margins.
        named: what they are called.
    """
    template = named[key].template
    of_two = [of.parameter for other, of in named.items() if of.template == template]
    for other, role in told.items():
        of = named[other]
        if of.parameter in of_two and of.template != template and {role, told[key]} == {*_PAIRS}:
            return f", together with {role} = {quoted(of.template)}"
    return ""


def beside(extra: Mapping[str, str], usable: Usable) -> Iterator[tuple[str, str]]:
    """Yield a key that tells the ends of what stands beside it, and what to do with it."""
    naming = settle(list(extra))
    for key in _held(extra, extra, usable.dialect.meaning.words.ends):
        if not naming.parse(key).parameter and "\n" in extra[key]:  # no single text about the test
            shown = ", ".join(map(repr, sorted(_texts(extra[key]))))
            says = f"{key!r} says which end: {shown}; take it as {{end}} into the names of what"
            yield key, f"{says} stands beside it"


def _held(
    extra: Mapping[str, str], keys: Collection[str], spellings: Collection[str]
) -> Sequence[str]:
    """The keys whose texts are words out of some, and nothing else."""
    words = {word for word in spellings if word}
    return [key for key in keys if (texts := _texts(extra[key])) and texts <= words]


def _texts(text: str) -> set[str]:
    return {line.strip() for line in text.split("\n")} - {""}


def _place(key: str, pairs: Sequence[str], named: Mapping[str, Parsed], first: str) -> int:
    """Whether a key names the first of two pairs (0) or the second (1).

    Where one of both is called the disturbing or the disturbed one, that tells, and else their
    order.

    Args:
        key: the key.
        pairs: keys whose texts are pairs.
        named: what these are called.
        first: which of two pairs stands first in names: the disturbing or the disturbed one.
    """
    of = named[key].parameter
    alike = [other for other in pairs if named[other].parameter == of]
    if of is None or 2 not in parameters()[of[1]].pairs or len(alike) < 2:
        return 0
    at = alike.index(key)
    meant = [crosstalk_told.called(other) for other in alike[:2]]
    if at < 2 and meant[0] != meant[1]:
        own, other = meant[at], meant[1 - at]
        return int(own != first if own else other == first)
    return int(at == 1)
