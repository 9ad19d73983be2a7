"""The names of people by the ids under which records, corrections and acceptances know them."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Self

from sweepbook.errors import ReadProblem


@dataclass(frozen=True)
class People:
    """Who is who. Without it everything is there but the names.

    Attributes:
        names: by id.
        problems: lines of the file that cannot be used.
    """

    names: Mapping[str, str] = field(default_factory=dict)
    problems: tuple[ReadProblem, ...] = ()

    def shown(self, who: str) -> str:
        """An id with its name, "K. Orme (op-17)"; the id alone where no name is known."""
        name = self.names.get(who)
        return f"{name} ({who})" if name else who

    @classmethod
    def together(cls, several: Iterable[Self]) -> Self:
        """Those of several books; an id that stands for two people has no name."""
        names: dict[str, str] = {}
        torn: set[str] = set()
        problems: list[ReadProblem] = []
        for one in several:
            torn |= {who for who, name in one.names.items() if names.get(who, name) != name}
            names |= one.names
            problems += one.problems
        return cls({who: names[who] for who in names if who not in torn}, tuple(problems))


NOBODY = People()
