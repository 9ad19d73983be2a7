"""Fields that are a part of a longer text: "NVP 70 %", "A-17 (hall 3)"."""

import re
from collections.abc import Mapping, Sequence

from sweepbook.dialect.words import as_list

TAKEN, ANY = "{}", "{any}"
_BLANKS = re.compile(r"\s+")
_LETTERS = re.compile(r"\s+|\S")


class SeveralWays(Exception):
    """A text fits a form in more than one way, so what fills the field cannot be told."""


class Form:
    """A form of a text with {} for what fills the field, and {any} for what says nothing of it.

    Raises:
        ValueError: {} does not stand in it once, or no words stand beside it or between the two.
    """

    def __init__(self, text: str) -> None:
        if text.count(TAKEN) != 1 or not text.replace(TAKEN, "").replace(ANY, "").strip():
            raise ValueError(f"{text!r} is to hold {{}} once, for what fills the field, and words")
        if re.search(r"\}\{(any)?\}", text):
            raise ValueError(f"{text!r} is to hold words or a blank between {{}} and {{any}}")
        self.text = text
        self.whole = ANY not in text
        """Whether the field and the form say all that the text does."""
        before, after = _BLANKS.sub(" ", text.strip()).split(TAKEN)
        self._before = before.split(ANY)
        self._after = [words[::-1] for words in reversed(after.split(ANY))]

    def take(self, text: str) -> str | None:
        """What stands for {} in a text; None where it is of another form.

        Raises:
            SeveralWays: more than one part of the text may.
        """
        text = text.strip()
        letters = [*_LETTERS.finditer(text)]
        plain = "".join(" " if of[0].isspace() else of[0] for of in letters)
        begins = _behind(self._before, plain)
        ends = [len(plain) - at for at in _behind(self._after, plain[::-1])]
        if not begins or not ends or not plain[begins[0] : ends[0]].strip():
            return None
        narrower = [(begin, ends[0]) for begin in begins[1:2]]
        narrower += [(begins[0], end) for end in ends[1:2]]
        if any(plain[begin:end].strip() for begin, end in narrower):
            raise SeveralWays
        stop = letters[ends[0]].start() if ends[0] < len(letters) else len(text)
        return text[letters[begins[0]].start() : stop].strip()


def _behind(words: Sequence[str], text: str) -> list[int]:
    """The first two places behind words that stand in a text one after another, or the only one.

    Args:
        words: the first of them begin the text, and anything may stand between two.
        text: the text.
    """
    at = len(words[0])
    if not text.startswith(words[0]):
        return []
    if len(words) == 1:
        return [at]
    for some in words[1:-1]:
        found = text.find(some, at)
        if found < 0:
            return []
        at = found + len(some)
    last = words[-1]
    first = text.find(last, at)
    second = text.find(last, first + 1) if first >= 0 else -1
    return [found + len(last) for found in (first, second) if found >= 0]


Forms = Mapping[str, Sequence[Form]]
"""By the path of the field."""


def forms(table: Mapping[str, str | Sequence[str]], fields: Mapping[str, object]) -> Forms:
    """The forms of a dialect.

    Args:
        table: one form, or several, by the path of the field.
        fields: what the dialect fills, by path.

    Raises:
        ValueError: a form is none, or the dialect does not fill its field.
    """
    for path in table:
        if path not in fields:
            raise ValueError(f"within.{path}: there is no fields.{path} for it to be taken from")
    try:
        return {path: tuple(map(Form, as_list(some))) for path, some in table.items()}
    except ValueError as error:
        raise ValueError(f"within: {error}") from error
