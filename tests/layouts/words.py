"""Words of ten languages, as somebody who writes an export might choose them."""

import random
import tomllib
from functools import cache
from pathlib import Path
from typing import Any

TONGUES = ("en", "de", "fr", "nl", "it", "es", "pt", "sv", "da", "pl")
_FOLDER = Path(__file__).parent / "words"


@cache
def _table(tongue: str) -> dict[str, Any]:
    with (_FOLDER / f"{tongue}.toml").open("rb") as stream:
        return tomllib.load(stream)


class Words:
    """One choice of words: each thing has the same word wherever it comes.

    Attributes:
        ends: words for near and far.
        verdicts: words for pass and fail.
        missing: a word for no value.
        limit: name of a limit.
    """

    def __init__(self, tongue: str, chance: random.Random) -> None:
        table = _table(tongue)
        self._chosen: dict[str, dict[str, str]] = {
            kind: {word: chance.choice(some) for word, some in table[kind].items()}
            for kind in ("parameters", "fields", "words")
        }
        self.colours: dict[str, str] = table["colours"]
        self.ends: tuple[str, str] = tuple(chance.choice(table["ends"]))
        self.verdicts: tuple[str, str] = tuple(chance.choice(table["verdicts"]))
        self.missing: str = chance.choice(table["missing"])
        self.limit: str = chance.choice(table["limits"])

    def parameter(self, word: str) -> str:
        """What a parameter is called."""
        return self._chosen["parameters"][word]

    def field(self, word: str) -> str:
        """What a fact of a test is called."""
        return self._chosen["fields"][word]

    def word(self, word: str) -> str:
        """What a part of the file, a column or an attribute is called."""
        return self._chosen["words"][word]

    def end(self, end: str | None) -> str | None:
        """What an end is called."""
        return None if end is None else self.ends[end == "far"]

    def verdict(self, passed: bool) -> str:
        """What a verdict is called."""
        return self.verdicts[not passed]
