"""Rows of the two ends of a test: where, with what hardware, by which units."""

from collections.abc import Hashable, Mapping
from typing import TYPE_CHECKING, Any

from sweepbook_plugins.asbuilt.entities import ADAPTOR, INSTRUMENT
from sweepbook_plugins.asbuilt.values import Value, flag, part, text

if TYPE_CHECKING:
    from sweepbook_plugins.asbuilt.entities import Entities, Row

MOST_KNOWN = 10_000
"""Sets of hardware that are kept at hand; a job has some dozens."""
_CONNECTOR = {
    "maker": "connector_maker",
    "part": "connector_part",
    "category": "connector_category",
}
_OF_UNIT = ("firmware", "accuracy_level", "calibrated_on", "calibration_due")


class EndsOfTests:
    """Makes rows of ends; what many ends have in common is made once."""

    def __init__(self, entities: "Entities") -> None:
        """Begin with nothing at hand."""
        self._entities = entities
        self._known: dict[Hashable, Row] = {}

    def of(self, test_id: int, document: Mapping[str, Any]) -> "list[Row]":
        """The rows of the ends of a test."""
        rows: list[Row] = []
        for end in ("near", "far"):
            where, tester = part(document, "link", end), part(document, "test", end)
            place_id, termination_id = self._entities.stated_end(where)
            rows.append(
                {
                    "test_id": test_id,
                    "at_end": end,
                    "place_id": place_id,
                    "termination_id": termination_id,
                    **self._hardware(part(where, "connector"), tester),
                }
            )
        return rows

    def _hardware(self, connector: Mapping[str, Any], tester: Mapping[str, Any]) -> "Row":
        """What a test says of connector, unit and adaptor of an end."""
        unit, adaptor = part(tester, "instrument"), part(tester, "adaptor")
        stated = (
            *map(connector.get, _CONNECTOR),
            connector.get("screened") is True,  # 1 is equal to it, and no such word
            connector.get("screened") is False,
            *map(unit.get, (*INSTRUMENT, *_OF_UNIT)),
            *map(adaptor.get, ADAPTOR),
        )
        try:
            known = self._known.get(stated)
        except TypeError:  # a list where a text belongs
            return self._made(connector, unit, adaptor)
        if known is None:
            if len(self._known) >= MOST_KNOWN:
                self._known.clear()
            known = self._known[stated] = self._made(connector, unit, adaptor)
        return known

    def _made(
        self, connector: Mapping[str, Any], unit: Mapping[str, Any], adaptor: Mapping[str, Any]
    ) -> "Row":
        row: dict[str, Value] = {
            "connector_screened": flag(connector, "screened"),
            "instrument_id": self._entities.instrument(unit),
            "adaptor_id": self._entities.adaptor(adaptor),
        }
        for name, column in _CONNECTOR.items():
            row[column] = text(connector, name)
        for name in _OF_UNIT:
            row[name] = text(unit, name)
        return row
