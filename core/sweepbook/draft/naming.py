"""How an export names its curves: the words that stand in names, gathered from texts."""

import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from sweepbook.draft import phrases, spellings
from sweepbook.draft.absent_words import NOT_MEASURED
from sweepbook.draft.contacts_joined import joined_otherwise
from sweepbook.draft.document import PARAMETER
from sweepbook.draft.legend import NOTHING, Legend
from sweepbook.draft.parsed import (
    UNIT_WORDS,
    UNITS_IN_NAMES,
    Ends,
    Named,
    Parsed,
    parse,
    told_whole,
    without,
)
from sweepbook.draft.phrases import LETTERS, PAIRINGS, Pairing, Span
from sweepbook.draft.trade_words import ENDS, ENGLISH

_NUMBER = re.compile(r"(?<![0-9])[0-9]{2,}(?![0-9])")
_ANY_NUMBER = re.compile(r"[0-9]+")
_SEVERAL = 8
_LEAST_LETTERS = 3
_LETTERED_OR_NUMBERED = (" a", " b", " 1", " 2")


def _alone(words: Sequence[str]) -> tuple[str, ...]:
    """Words that say near or far without the other beside them, each once."""
    told = (
        word
        for word in words
        if len(word) >= _LEAST_LETTERS and not word.endswith(_LETTERED_OR_NUMBERED)
    )
    return tuple(dict.fromkeys(told))


_NEAR = _alone([near for near, _ in ENDS])
_FAR = _alone([far for _, far in ENDS if far not in {near for near, _ in ENDS}])


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
        end_slots: slots that hold an end by number.
        beside: words that name nothing, by slot.
        further_ends: near or far by words that stand for an end outside of the names of curves.
        called_as_units: word of the record by a name that a path ends with and that is a unit.
    """

    pairing: Pairing
    ends: Ends | None
    unknown: dict[str, str] = field(default_factory=dict)
    parameters: dict[str, list[str]] = field(default_factory=dict)
    pairs: dict[str, list[str]] = field(default_factory=dict)
    end_words: dict[str, list[str]] = field(default_factory=dict)
    between: list[str] = field(default_factory=list)
    units: dict[str, list[str]] = field(default_factory=dict)
    end_slots: set[str] = field(default_factory=set)
    beside: Mapping[str, frozenset[str]] = field(default_factory=dict)
    further_ends: dict[str, str] = field(default_factory=dict)
    called_as_units: dict[str, str] = field(default_factory=dict)

    def parse(self, text: str) -> Parsed:
        """Take a text apart."""
        if (end := self.further_ends.get(text.strip())) is not None:
            return Parsed("{end}", None, (), (text.strip(), end), None, None, True)
        if phrases.whole(text, NOT_MEASURED):
            return Parsed(text, None, (), None, None, None, True)  # N/A names no end A
        found = parse(text, self.pairing, self.ends, self.unknown)
        if (
            found.parameter
            and found.parameter[0] in self.unknown
            and not told_whole(found.template, self._beside)
        ):
            return parse(text, self.pairing, self.ends)
        by_path = self._by_its_last_step if found.parameter else self._by_unit
        return by_path(text, found)

    def _by_its_last_step(self, text: str, found: Parsed) -> Parsed:
        """What a path says whose last step is a parameter other than that of a step around it."""
        around, slash, last = found.template.rpartition("/")
        name = last.removeprefix("@")
        if not slash or PARAMETER not in around or "{" in name:
            return found
        own = parse(name, self.pairing, self.ends, self.unknown)
        if own.template != PARAMETER or own.parameter is None or found.parameter is None:
            return found
        path = f"{text[: len(text) - len(name)]}{PARAMETER}"
        only = not (found.pairs or found.end or found.unit)
        return found._replace(template=path, parameter=own.parameter) if only else found

    def _by_unit(self, text: str, found: Parsed) -> Parsed:
        """What a path says that names no parameter, and whose last step is called as a unit."""
        name = re.split("[@:/]", text)[-1]
        around = found.template.removesuffix(name)
        if "/" not in text or name not in self.called_as_units or around == found.template:
            return found
        word = self.called_as_units[name]
        return found._replace(template=f"{around}{PARAMETER}", parameter=(name, word))

    @property
    def _beside(self) -> tuple[str, ...]:
        return tuple(word for words in self.beside.values() for word in words)

    def parse_in(self, slot: str, text: str) -> Parsed:
        """Take a text apart where it stands: in some places a number is an end, not a pair."""
        if slot not in self.end_slots or self.ends is None or not text.strip():
            return self.parse(text)
        end = "near" if text.strip().casefold() == self.ends[0] else "far"
        return Parsed("{end}", None, (), (text.strip(), end), None, None, True)

    @property
    def foreign(self) -> bool:
        """Whether a parameter is called by a word of the trade that is no English one."""
        spelt = [spelling for some in self.parameters.values() for spelling in some]
        return any(phrases.parameter_in(of) and not phrases.find(of, ENGLISH) for of in spelt)

    def name(self, text: str) -> Named:
        """What a text says by itself."""
        return self.together([self.parse(text)])

    def take(self, parsed: Parsed, name: Named | None = None) -> None:
        """Keep the words of a text that was used; one for another parameter is none for this.

        Args:
            parsed: the text.
            name: what it names together with others; else what it says by itself.
        """
        name = name or self.together([parsed])
        if parsed.parameter and name.parameter:
            spelling, said = parsed.parameter
            if name.parameter == "dc_resistance_unbalance_between_pairs":
                _keep(self.parameters, name.parameter, spelling)
                _keep(self.parameters, "dc_resistance_unbalance_within_pair", spelling)
            elif said == name.parameter:
                _keep(self.parameters, said, spelling)
        for spelling, pair in parsed.pairs:
            _keep(self.pairs, pair, spelling)
        if parsed.end:
            _keep(self.end_words, parsed.end[1], parsed.end[0])
        if parsed.between is not None and parsed.between not in self.between:
            self.between.append(parsed.between)
        if parsed.unit and parsed.parameter:
            _keep(self.units, UNITS_IN_NAMES[parsed.unit], parsed.unit)

    def take_unit(self, spelling: str) -> None:
        """Keep a spelling of a unit that stands by itself; any other text is let be."""
        if spelling in UNIT_WORDS:
            _keep(self.units, UNIT_WORDS[spelling], spelling)

    def spell(self, parameter: str, spelling: str) -> None:
        """Keep a whole text as a spelling of a parameter."""
        _keep(self.parameters, parameter, spelling)

    def together(self, parts: Iterable[Parsed]) -> Named:
        """What several texts say together.

        A word for attenuation beside one for another parameter only says what its values are.
        """
        parameter, end = None, None
        pairs: list[str] = []
        for part in parts:
            if part.parameter and (parameter is None or part.parameter[1] != "insertion_loss"):
                parameter = part.parameter[1]
            end = part.end[1] if part.end else end
            pairs += [pair for _, pair in part.pairs]
        if parameter == "dc_resistance_unbalance_within_pair" and len(pairs) == 2:
            parameter = "dc_resistance_unbalance_between_pairs"
        return Named(parameter, tuple(pairs), end)


def settle(texts: Sequence[str], legend: Legend = NOTHING) -> Naming:
    """How pairs and ends are called in texts: the way that explains most of them.

    Args:
        texts: the names.
        legend: what the export explains elsewhere. Its words for pairs go ahead of numbers and
            colours, whose contacts are a matter of the scheme, and its ends ahead of others.
    """
    rests = [without(text, phrases.parameter_in(text)) for text in dict.fromkeys(texts)]
    rests = _without_shared_number(rests)
    ends = _ends(rests, legend)
    if ends and any(map(str.isdigit, "".join(ends))):
        meant = {"near": (ends[0],), "far": (ends[1],)}
        rests = [without(text, phrases.find(text, meant)) for text in rests]
    own = filter(None, (joined_otherwise(rests), legend.pairs))
    known = (PAIRINGS[0], *own, *PAIRINGS[1:])
    scores = {pairing: _score(rests, pairing) for pairing in known}
    best = max(known, key=lambda pairing: scores[pairing])
    if best is LETTERS:
        rests = [_voided(text, best.find(text)[:2]) for text in rests]
    ends = ends if best is not LETTERS else _ends(rests, legend)
    return Naming(best, ends, dict(legend.words))


def _without_shared_number(texts: Sequence[str]) -> list[str]:
    """Texts without a number that all have which hold several: of points, or of a release."""
    held = [set(_ANY_NUMBER.findall(text)) for text in texts]
    several = [numbers for numbers in held if len(numbers) > 1]
    shared = set.intersection(*several) if len(several) >= _SEVERAL else set()
    return [
        _NUMBER.sub(lambda found: "\0" * len(found[0]) if found[0] in shared else found[0], text)
        for text in texts
    ]


def _voided(text: str, spans: Sequence[Span]) -> str:
    for span in spans:
        text = without(text, span)
    return text


def _score(texts: Sequence[str], pairing: Pairing) -> int:
    seen = {span.meaning for text in texts for span in pairing.find(text)}
    if pairing is LETTERS and len(seen) < len(LETTERS.options):
        return 0
    score = 0
    for text in texts:
        found = pairing.find(text)
        rest = text
        for span in found[:2]:
            rest = without(rest, span)
        if found and not any(char.isdigit() for char in rest):
            score += 2 if len({span.meaning for span in found}) == len(found) else -1
    return score


def _ends(texts: Sequence[str], legend: Legend) -> Ends | None:
    told = legend.ends.spellings() if legend.ends else []
    lettered = [some for some in told if all(any(map(str.isalpha, word)) for word in some)]
    return _most_seen(texts, lettered) or _most_seen(texts, ENDS) or whole_words(texts)


def _most_seen(texts: Sequence[str], words: Sequence[Ends]) -> Ends | None:
    """Of pairs of words for the ends those that come most often, if both do."""
    best, most = None, 0
    plain = spellings.plain("\n".join(texts))
    for ends in words:
        if not all(spellings.spelling(word).stem in plain for word in ends):
            continue  # of two words that never stand there, most are told by that alone
        found = [
            span
            for text in texts
            if (span := phrases.find(text, {"near": (ends[0],), "far": (ends[1],)}))
            and not (len(ends[0]) == 1 and _in_a_code(text, span))
        ]
        count = Counter(span.meaning for span in found)
        score = sum(count.values()) if len(count) == 2 else 0
        if score > most:
            best, most = ends, score
    return best


def _in_a_code(text: str, span: Span) -> bool:
    """Whether a letter stands beside a digit, as in the names of rooms and buildings: B2."""
    return any(map(str.isdigit, text[max(0, span.start - 1) : span.end + 1]))


def _keep(table: dict[str, list[str]], word: str, spelling: str) -> None:
    known = table.setdefault(word, [])
    if spelling not in known:
        known.append(spelling)


def whole_words(texts: Sequence[str]) -> Ends | None:
    """The texts that are nothing but a word for near and one for far, the most seen of each."""
    near = Counter(_word(text) for text in texts if phrases.whole(text, _NEAR))
    far = Counter(_word(text) for text in texts if phrases.whole(text, _FAR))
    if not near or not far:
        return None
    return near.most_common(1)[0][0], far.most_common(1)[0][0]


def _word(text: str) -> str:
    return text.strip("\0 ()[]").casefold()
