"""Numbers of the words that figures or results of many tests have in common."""

from collections.abc import Hashable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sweepbook_plugins.asbuilt.entities import Entities

MOST_KNOWN = 20_000
"""Kinds whose numbers are kept at hand; a job has some hundreds, and made-up words are many."""


class Kinds:
    """The rows of a table of kinds, by what a reader of figures or results has at hand of them.

    Attributes:
        known: numbers of rows, by whatever tells such a row from others.
    """

    def __init__(self, entities: "Entities", table: str, columns: tuple[str, ...]) -> None:
        self.known: dict[Hashable, int] = {}
        self._entities = entities
        self._table = table
        self._columns = columns

    def number(self, stated: Hashable, words: tuple[str | int | None, ...]) -> int:
        """The number of a row that is not known yet; it waits to be written.

        Args:
            stated: what to know it by from now on.
            words: the cells of its columns.
        """
        if len(self.known) >= MOST_KNOWN:
            self.known.clear()
        number = self._entities.kind(self._table, dict(zip(self._columns, words, strict=True)))
        self.known[stated] = number
        return number
