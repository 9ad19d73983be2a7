"""The words in a text that would be a declared one but for them."""

import difflib
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import combinations
from typing import NamedTuple

from sweepbook.dialect.names import Grammar, check, choices

_PLACEHOLDER = re.compile(r"\{([a-z_]+)\}")
_TABLES = {
    "parameter": "words.parameters",
    "pairs": "words.pairs",
    "first_pair": "words.pairs",
    "second_pair": "words.pairs",
    "end": "words.ends",
}
_MOST_OPTIONS = 2_000
_MOST_UNKNOWN = 2
"""Words of one text that may lack; of more it is another text rather."""
_LONGEST = 200
_LONGEST_WORD = 60
_ALIKE = 0.7


class Undeclared(NamedTuple):
    """A word of a text.

    Attributes:
        word: as it stands there.
        table: of the dialect in which it lacks, e.g. "words.ends".
        near: the declared word that is most like it; "" where none is like it.
    """

    word: str
    table: str
    near: str

    @property
    def told(self) -> str:
        """The word and where it lacks, for messages."""
        beside = f", where {self.near!r} is" if self.near else ""
        return f"{self.word!r} is not in {self.table}{beside}"


class _Form(NamedTuple):
    """Texts of a template with any words in some places.

    Attributes:
        pattern: what finds them.
        unknown: the placeholders of these places, with the words that are declared for each.
        says: whether anything else in it tells that a text is one of these.
    """

    pattern: re.Pattern[str]
    unknown: Mapping[str, Sequence[str]]
    says: bool


class Lacking:
    """Tells which words lack for texts to be those that templates stand for.

    Args:
        templates: of headings, titles or cells.
        grammar: the words they are expanded over.
    """

    def __init__(self, templates: Iterable[str], grammar: Grammar) -> None:
        self._grammar = grammar
        self._forms = [form for of in templates for form in _forms(of, grammar)]

    def of(self, text: str) -> Sequence[Undeclared]:
        """The words of a text that none of the templates stands for; none where none comes near.

        Of several templates the one counts that lacks the fewest words, and of these the shortest;
        a declared word in other letters lacks least of all.
        """
        if len(text) > _LONGEST:
            return ()
        found = (self._words(form, text) for form in self._forms)
        return min(filter(None, found), key=_cost, default=())

    def _words(self, form: _Form, text: str) -> Sequence[Undeclared]:
        if (match := form.pattern.fullmatch(text)) is None:
            return ()
        words = [
            _word(match[of].strip(), of, spelt, self._grammar) for of, spelt in form.unknown.items()
        ]
        told = all(map(_is_word, words)) and (form.says or all(of.near for of in words))
        return words if told else ()


def _cost(words: Sequence[Undeclared]) -> tuple[int, int, int]:
    """How much lacks: words in other letters than declared ones are the least."""
    strange = sum(of.word.casefold() != of.near.casefold() for of in words)
    return strange, len(words), sum(len(of.word) for of in words)


def _forms(template: str, grammar: Grammar) -> Iterator[_Form]:
    """The texts of a template with any words in place of one placeholder, or of two."""
    pieces = _PLACEHOLDER.split(template)
    named = pieces[1::2]
    if check(template) or not named:
        return
    spelt = {of: sorted({word for word, _ in choices(of, grammar)}, key=len)[::-1] for of in named}
    plain = any(map(str.isalnum, "".join(pieces[::2])))
    tried = [of for of in named if of in _TABLES]
    for count in range(1, _MOST_UNKNOWN + 1):
        for some in combinations(tried, count):
            unknown = {of: spelt[of] for of in some}
            yield _Form(_pattern(pieces, spelt, some), unknown, plain or count < len(named))


def _pattern(
    pieces: Sequence[str], spelt: Mapping[str, Sequence[str]], unknown: Sequence[str]
) -> re.Pattern[str]:
    made = []
    for at, piece in enumerate(pieces):
        if at % 2 == 0:
            made.append(re.escape(piece))
        elif piece in unknown or len(spelt[piece]) > _MOST_OPTIONS:
            made.append(f"(?P<{piece}>.+?)")
        else:
            made.append(f"(?:{'|'.join(map(re.escape, spelt[piece]))})")
    return re.compile("".join(made))


def _word(word: str, placeholder: str, spelt: Sequence[str], grammar: Grammar) -> Undeclared:
    """What lacks where a word stands for a placeholder: the word, or what parts two pairs."""
    if placeholder == "pairs" and (between := _between(word, grammar)):
        return Undeclared(between, "crosstalk.between", grammar.between_pairs[0])
    folded = {of.casefold(): of for of in spelt if of}
    near = difflib.get_close_matches(word.casefold(), list(folded), 1, _ALIKE)
    return Undeclared(word, _TABLES[placeholder], folded[near[0]] if near else "")


def _between(word: str, grammar: Grammar) -> str:
    """What stands between two declared pairs; "" where a word is none."""
    pairs = sorted(filter(None, grammar.words.pairs), key=len, reverse=True)
    for first in filter(word.startswith, pairs):
        for second in filter(word.endswith, pairs):
            if between := word[len(first) : len(word) - len(second)]:
                return between
    return ""


def _is_word(of: Undeclared) -> bool:
    said = any(map(str.isalnum, of.word)) or of.table == "crosstalk.between"
    return said and len(of.word) <= _LONGEST_WORD
