"""Documents of which too little is known for a limit table."""

import json
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from sweepbook.limits.model import Names
from sweepbook.limits.names import match, spellings_of


@dataclass(frozen=True, slots=True)
class Recalled:
    """What is recalled of one limit, and what is missing to use it."""

    parameter: str
    configuration: str
    recalled: str
    missing: str


@dataclass(frozen=True, slots=True)
class Untold:
    """A class or category whose limits are too doubtful for a table.

    Attributes:
        title: document and class in words.
        paths: kept free for its tables.
        names: spellings, as of a table.
        parameters: what is recalled of it.
        missing: what else is needed.
    """

    title: str
    paths: tuple[str, ...]
    names: Names
    parameters: tuple[Recalled, ...]
    missing: str


@cache
def untold() -> tuple[Untold, ...]:
    """Every such class or category that is known by name."""
    raw = files("sweepbook_schemas").joinpath("not-usable.json").read_bytes()
    return tuple(
        Untold(
            title=item["title"],
            paths=tuple(item["paths"]),
            names=Names(**{group: tuple(words) for group, words in item["names"].items()}),
            parameters=tuple(Recalled(**entry) for entry in item["parameters"]),
            missing=item["missing"],
        )
        for item in json.loads(raw)["tables"]
    )


def meant(spelling: str) -> Untold | None:
    """The class or category that a spelling means, if it is one without a usable table."""
    for entry in untold():
        if spelling in entry.paths or match(spelling, spellings_of(entry.names)):
            return entry
    return None
