"""Whether a dialect can be used with a line that is proposed for it."""

import hashlib
from collections.abc import Callable, Mapping
from copy import deepcopy
from dataclasses import dataclass, replace
from typing import Any

from sweepbook import toml
from sweepbook.dialect.compile import compile_meaning
from sweepbook.dialect.load import BadDialect
from sweepbook.dialect.model import Dialect, Meaning
from sweepbook.dialect.words import as_list

_BESIDE = "../"
"""What stands beside an element names it for people, and chooses none as a key."""


@dataclass(frozen=True)
class Usable:
    """Tries lines on a dialect, without a file.

    Attributes:
        dialect: as read.
        check: has the reader look at its half of a dialect, and raises BadDialect.
        offer: as of a format, for this dialect.
    """

    dialect: Dialect
    check: Callable[[Dialect], None] | None = None
    offer: Callable[[str, str, bool], tuple[str, str]] | None = None

    def field(self, path: str, key: str) -> bool:
        """Whether a key may fill a field."""
        return _BESIDE not in key and self._with({f"fields.{path}": key}) is not None

    def figure(self, role: str, template: str, word: str, spelling: str, key: str) -> bool:
        """Whether a key is found by a template and a word for its parameter."""
        if _BESIDE in key:
            return False
        lines = {f"figures.{role}": template, f"words.parameters.{word}": spelling}
        meaning = self._with(lines)
        return meaning is not None and key in meaning.figure_keys

    def _with(self, lines: Mapping[str, str]) -> Meaning | None:
        """What it means with a text beside those of each key; None if it cannot be used."""
        document = deepcopy(toml.parsed(self.dialect.raw))
        for key, text in lines.items():
            _put(document, key.split("."), text)
        meaning, found = compile_meaning(document)
        if found:
            return None
        name = hashlib.sha256(self.dialect.raw + repr(lines).encode()).hexdigest()
        try:
            if self.check is not None:
                self.check(replace(self.dialect, meaning=meaning, sha256=name))
        except BadDialect:
            return None
        return meaning


def _put(table: dict[str, Any], path: list[str], text: str) -> None:
    """Put a text beside those that a key has."""
    *outer, last = path
    for name in outer:
        table = table.setdefault(name, {})
    known = as_list(table.get(last, []))
    table[last] = [*known, *([] if text in known else [text])]
