"""Keys whose texts say of which pairs, and of which end, a stated worst margin is."""

import re
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, NamedTuple

from sweepbook.dialect.parameters import parameters
from sweepbook.draft import crosstalk_told, phrases, spellings
from sweepbook.draft.absent_words import says
from sweepbook.draft.key_offers import chosen_by, steps_of
from sweepbook.draft.naming import settle
from sweepbook.draft.parsed import PLACEHOLDER, Parsed
from sweepbook.draft.trade_words import END_TITLES, MARGIN, PAIR_WORDS, VALUES, WORST

if TYPE_CHECKING:
    from sweepbook.draft.reading import Understood

_END, _PAIRS, _SECOND = "worst_margin.end", "worst_margin.pairs", "worst_margin.second_pair"
_ROLES = (_END, _PAIRS, _SECOND)
_WORST, _SIDE = spellings.expression((*WORST, *MARGIN)), spellings.expression(END_TITLES)
_WITH_END = re.compile(r"[^\W\d_]+[ _-]\{end\}|\{end\}[ _-][^\W\d_]+")
"""A word for an end beside another, as in "side remote"."""
_TOLD = ("{pairs}", "{first_pair}", "{pairs} {end}", "{end} {pairs}")


class _Of(NamedTuple):
    """A key that names pairs.

    Attributes:
        key: as the export has it.
        part: what it says of itself.
        called: what is left of it beside the parameter.
        parsed: its texts.
    """

    key: str
    part: Parsed
    called: str
    parsed: Sequence[Parsed]

    @property
    def parameter(self) -> str:
        """The word of the parameter."""
        return self.part.parameter[1] if self.part.parameter else ""

    @property
    def counts(self) -> set[int]:
        """How many pairs its texts name."""
        return {len(of.pairs) for of in self.parsed}


def take(keys: Mapping[str, Sequence[str]], found: "Understood") -> None:
    """Keep the keys among some that tell the pairs or the end of what is stated of a parameter.

    Those of pairs are taken where they name as many as the parameter has: both in one text, or
    each in a key of its own.

    Args:
        keys: texts by key, in the order of the export.
        found: what names are made of; takes keys and words.
    """
    named = {key: part for key in keys if (part := found.naming.parse(key)).parameter}
    paired: dict[str, list[_Of]] = {}
    for key, part in named.items():
        texts = [text for text in keys[key] if says(text)]
        if key in found.figure_keys or not texts:
            continue
        if _are_ends(key, part, texts, found):
            continue
        if (of := _of_pairs(key, part, texts, found)) is not None:
            paired.setdefault(of.parameter, []).append(of)
    _take_pairs(paired, found)
    for key, part in named.items():  # one without a word in any test is called as the others are
        role = next((of for of in _ROLES if part.template in found.figures.get(of, {})), None)
        if role and key not in found.figure_keys:
            _keep(role, key, [part], found)


def is_which_end(name: str) -> bool:
    """Whether a title, or template, says only at which end the worst is; ends may be 1 and 2."""
    plain = PLACEHOLDER.sub("0", (chosen_by(name) or name).replace("{parameter}", " "))
    left = _SIDE.sub(" ", _WORST.sub(" ", plain))
    return _SIDE.search(plain) is not None and not any(map(str.isalnum, left))


def are_pairs(template: str, texts: Sequence[str], found: "Understood") -> bool:
    """Whether texts of what is called worst are names of pairs, and its name asks for no value.

    Names of pairs may be numbers, and are no worst values then.
    """
    if phrases.has(PLACEHOLDER.sub(" ", template), VALUES):
        return False
    return bool(texts) and _are_pairs([found.naming.parse(text) for text in texts])


def _are_ends(key: str, part: Parsed, texts: Sequence[str], found: "Understood") -> bool:
    """Keep a key whose texts are words for ends, and tell whether they are.

    Where it asks for ends, each may be that of curves with one more word that all of them have.
    """
    parsed = [found.naming.parse(text) for text in texts]
    form = parsed[0].template
    alike = all(of.template == form for of in parsed)
    if alike and _WITH_END.fullmatch(form) and is_which_end(part.template):
        sides = {text.strip(): of.end[1] for text, of in zip(texts, parsed, strict=True) if of.end}
        found.naming.further_ends |= sides
        parsed = [found.naming.parse(text) for text in texts]
    ends = all(of.template == "{end}" for of in parsed)
    if ends and part.clean and not (part.pairs or part.end):
        _keep(_END, key, [part, *parsed], found)
    return ends


def _take_pairs(paired: "Mapping[str, Sequence[_Of]]", found: "Understood") -> None:
    """Keep keys of pairs, but none that is called as one which names too few of them.

    One that is called as the second pair of another parameter is a second pair, too: a reader
    takes it where no other pair is named.
    """
    told = {
        parameter: _roles(parameters()[parameter].pairs, some, found)
        for parameter, some in paired.items()
    }
    seconds = {of.part.template for some in told.values() for at, of in some if at == _SECOND}
    told = {
        parameter: [(_SECOND if of.part.template in seconds else at, of) for at, of in some]
        for parameter, some in told.items()
    }
    kept = {of.key for some in told.values() for _, of in some}
    short = {of.part.template for some in paired.values() for of in some if of.key not in kept}
    for role, of in (one for some in told.values() for one in some):
        if of.part.template not in short:
            _keep(role, of.key, [of.part, *of.parsed], found)


def _of_pairs(key: str, part: Parsed, texts: Sequence[str], found: "Understood") -> _Of | None:
    """A key that is called so, and whose texts are pairs and nothing else, but perhaps an end."""
    rest = PLACEHOLDER.sub(" ", chosen_by(part.template) or steps_of(part.template)[-1])
    if part.pairs or not phrases.has(rest, (*PAIR_WORDS, *WORST)):
        return None
    parsed = [found.naming.parse(text) for text in texts]
    if not _are_pairs(parsed):
        own = settle(texts)  # of ends perhaps, which no name holds
        if found.naming.ends not in (None, own.ends) or own.pairing != found.naming.pairing:
            return None
        parsed = [own.parse(text) for text in texts]
        if not _are_pairs(parsed):
            return None
        found.naming.ends = own.ends
    return _Of(key, part, spellings.folded(rest), parsed)


def _are_pairs(parsed: Sequence[Parsed]) -> bool:
    return all(of.template in _TOLD for of in parsed)


def _roles(
    counts: Sequence[int], some: Sequence[_Of], found: "Understood"
) -> list[tuple[str, _Of]]:
    """What the keys of a parameter with so many pairs hold."""
    whole = [of for of in some if of.counts <= {*counts}]
    if whole or counts != (2,) or len(some) != 2:
        return [(_PAIRS, of) for of in whole]
    first, second = some
    if _is_second(first, found) or _is_second(second, found) is False or _turned(some, found):
        first, second = second, first
    return [(_PAIRS, first), (_SECOND, second)]


def _is_second(of: _Of, found: "Understood") -> bool | None:
    """Whether it is called as the second pair of curves is, or as the first; None if as neither."""
    for slot, templates in found.templates.items():
        if spellings.folded(slot) == of.called and any("_pair}" in one for one in templates):
            return any("{second_pair}" in one for one in templates)
    return None


def _turned(some: Sequence[_Of], found: "Understood") -> bool:
    """Whether two keys say by their words that they stand in the other order than pairs in names.

    Where the file does not settle that order, a person does, and nothing is turned.
    """
    if any(_is_second(of, found) is not None for of in some):
        return False
    said = [crosstalk_told.called(of.key) for of in some]
    order = crosstalk_told.settled(found) if said[0] != said[1] else None
    return order is not None and (said[0] != order if said[0] else said[1] == order)


def _keep(role: str, key: str, parts: Sequence[Parsed], found: "Understood") -> None:
    """Keep what the name of a key and its texts say, and its template for a role."""
    for of in parts:
        found.naming.take(of, found.naming.together([parts[0], of]))
    found.figures.setdefault(role, {}).setdefault(parts[0].template, []).append(key)
    found.figure_keys.add(key)
