"""Spellings that a job brings together: several ways to write one label, place, cable or limit.

A fleet of testers spells a building in as many ways as people typed it. The project file says which
are one; records keep what they say, and whoever reads them sees one name beside it.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from sweepbook.project import labels
from sweepbook.project.labels import LabelForms
from sweepbook.record.model import OneName, Record, Spelled

LEVELS = ("site", "building", "floor", "space", "cabinet", "unit", "panel", "port")
CABLE = ("maker", "part", "category", "construction", "reel")
_ENDS = ("near", "far")
_LIMIT = "test.limit"
_LABEL = "link.label"
_PIECE = re.compile(r"\{([^{}]*)\}")
Names = Mapping[str, str]
"""One name by each of its spellings, these as `plain` makes them."""


def plain(text: str) -> str:
    """A spelling for comparison: case does not count, nor do runs of blanks."""
    return " ".join(text.casefold().split())


@dataclass(frozen=True)
class Spellings:
    """One name for several spellings.

    Attributes:
        places: by level of place; in a name may stand wider levels of it, "TR-{floor}A".
        cables: by what is said of a cable: maker, part, category, construction or reel.
        limits: of all records; a name is what the spelling means, for a table to be found by.
        labels: the forms in which labels are written; None where none are declared.
    """

    places: Mapping[str, Names] = field(default_factory=dict)
    cables: Mapping[str, Names] = field(default_factory=dict)
    limits: Names = field(default_factory=dict)
    labels: LabelForms | None = None

    def label(self, label: str) -> str:
        """A label in the one form of the job."""
        return self.labels.one(label) if self.labels else label

    def place(self, place: Mapping[str, str]) -> dict[str, str]:
        """A place by its one names."""
        told = self._levels(place)
        return {level: told.get(level, text) for level, text in place.items()}

    def _levels(self, place: Mapping[str, Any]) -> dict[str, str]:
        """The levels of a place by their one names, in which wider levels may stand.

        A name with a level that the place lacks is not given: nobody knows which room is meant.
        """
        told: dict[str, str] = {}
        for level in LEVELS:
            if isinstance(said := place.get(level), str):
                name = _of(self.places, level, said)
                pieces = _pieces(name)
                for piece in pieces:
                    name = name.replace(f"{{{piece}}}", told.get(piece, ""))
                told[level] = name if all(map(told.get, pieces)) else said
        return told

    def cable(self, part: str, text: str) -> str:
        """What is said of a cable, by its one name."""
        return _of(self.cables, part, text)

    def of(self, record: Record) -> Record:
        """The record by its one names, beside the record as it is; itself where none differs.

        The spelling of a limit stays, since a limit table is found by what it means. A record that
        went through here comes out as it is.
        """
        if record.spelled is not None or self == NONE_TOGETHER:
            return record
        names: list[OneName] = []
        link = record.document.get("link")
        if isinstance(link, Mapping):
            link = self._link(link, names)
        names += self._limit(record.document)
        if not names:
            return record
        document = {**record.document, "link": link}
        return replace(record, document=document, spelled=Spelled(record, tuple(names)))

    def _link(self, link: Mapping[str, Any], names: list[OneName]) -> dict[str, Any]:
        changed = dict(link)
        label = link.get("label")
        if isinstance(label, str) and (name := self.label(label)) != label:
            changed["label"] = name
            names.append(OneName(_LABEL, label, name))
        for end in _ENDS:
            place = link.get(end, {}).get("place") if isinstance(link.get(end), Mapping) else None
            if isinstance(place, Mapping):
                new = _renamed(place, self._levels(place), f"link.{end}.place", names)
                changed[end] = {**link[end], "place": new}
        cable = link.get("cable")
        if isinstance(cable, Mapping):
            told = {
                part: _of(self.cables, part, said)
                for part, said in cable.items()
                if isinstance(said, str)
            }
            changed["cable"] = _renamed(cable, told, "link.cable", names)
        return changed

    def _limit(self, document: Mapping[str, Any]) -> Iterator[OneName]:
        test = document.get("test")
        limit = test.get("limit") if isinstance(test, Mapping) else None
        said = limit.get("as_stated") if isinstance(limit, Mapping) else None
        if isinstance(said, str) and (name := self.limits.get(plain(said), said)) != said:
            yield OneName(_LIMIT, said, name)


NONE_TOGETHER = Spellings()


def spellings_of(document: Mapping[str, Any]) -> Spellings:
    """The tables of a project file that follows its schema."""
    places, cables = (
        {part: _table(table) for part, table in document.get(kind, {}).items()}
        for kind in ("places", "cables")
    )
    forms = labels.forms_of(document.get("labels", {}))
    return Spellings(places, cables, _table(document.get("limits", {})), forms)


def faults(document: Mapping[str, Any]) -> Iterator[str]:
    """What is wrong with tables that follow the schema: a name that is brought to another name."""
    tables = {
        **{f"places.{level}": table for level, table in document.get("places", {}).items()},
        **{f"cables.{part}": table for part, table in document.get("cables", {}).items()},
        "limits": document.get("limits", {}),
    }
    for place, table in tables.items():
        meant: dict[str, str] = {}
        for spelling, name in table.items():
            if meant.setdefault(plain(spelling), name) != name:
                yield f'{place} brings "{spelling}" to two names, once in another case'
        for name in dict.fromkeys(table.values()):
            if meant.get(plain(name), name) != name:
                yield f'{place} brings spellings to "{name}", and that to "{meant[plain(name)]}"'
    yield from _strange_levels(document)
    yield from labels.faults(document.get("labels", {}))


def _table(table: Mapping[str, str]) -> Names:
    """A name is a spelling of itself, in whatever case."""
    return {plain(name): name for name in table.values()} | {
        plain(spelling): name for spelling, name in table.items()
    }


def _of(tables: Mapping[str, Names], part: str, text: str) -> str:
    return tables.get(part, {}).get(plain(text), text)


def _renamed(
    part: Mapping[str, Any], told: Mapping[str, str], path: str, names: list[OneName]
) -> dict[str, Any]:
    """A part of a record by its one names, each that differs is added to the list."""
    changed = dict(part)
    for member, said in part.items():
        if (name := told.get(member, said)) != said:
            changed[member] = name
            names.append(OneName(f"{path}.{member}", said, name))
    return changed


def _pieces(name: str) -> list[str]:
    """The levels that stand in braces in the name of a place."""
    return _PIECE.findall(name)


def _strange_levels(document: Mapping[str, Any]) -> Iterator[str]:
    """Names of places in which something stands in braces that is no wider level."""
    for level, table in document.get("places", {}).items():
        wider = LEVELS[: LEVELS.index(level)]
        for spelling, name in table.items():
            for piece in _pieces(name):
                if piece not in wider:
                    listed = ", ".join(f"{{{one}}}" for one in wider) or "none"
                    yield (
                        f'places.{level} brings "{spelling}" to "{name}", and {{{piece}}} is no '
                        f"wider level of a place; these may stand there: {listed}"
                    )
