"""Fields that are a part of a longer text: "NVP 70 %", "A-17 (hall 3)"."""

import re
from collections.abc import Mapping, Sequence

from sweepbook.dialect.words import as_list

TAKEN, ANY = "{}", "{any}"
_BLANKS = re.compile(r"\s+")


class Form:
    """A form of a text with {} for what fills the field, and {any} for what says nothing of it.

    Raises:
        ValueError: {} does not stand in it once, or nothing else does.
    """

    def __init__(self, text: str) -> None:
        if text.count(TAKEN) != 1 or not text.replace(TAKEN, "").replace(ANY, "").strip():
            raise ValueError(f"{text!r} is to hold {{}} once, for what fills the field, and words")
        self.text = text
        self.whole = ANY not in text
        """Whether the field and the form say all that the text does."""
        parts = re.split(r"(\{\}|\{any\})", text.strip())
        known = {TAKEN: "(.+)", ANY: ".*"}
        self._pattern = re.compile("".join(known.get(of) or _words(of) for of in parts), re.DOTALL)

    def take(self, text: str) -> str | None:
        """What stands for {} in a text; None where it is of another form."""
        match = self._pattern.fullmatch(text.strip())
        return match[1].strip() if match and match[1].strip() else None


def _words(text: str) -> str:
    """The expression for words, with blanks of any kind between them."""
    return r"\s+".join(map(re.escape, _BLANKS.split(text)))


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
