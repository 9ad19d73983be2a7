"""The catalogue of disputed readings, as its file has it."""

from dataclasses import dataclass
from typing import Any

from sweepbook.limits.effects import (
    Effect,
    ExcludePoints,
    RelaxLimit,
    RoundLimit,
    RoundMeasured,
)
from sweepbook.limits.model import LimitTable


@dataclass(frozen=True, slots=True)
class Interpretation:
    """One reading of a disputed rule.

    Attributes:
        id: its name, which never moves.
        topic: the dispute; of one topic at most one reading is on.
        title: the reading in words.
        families: "tia", "iso" or both.
        default: whether it is on unless somebody says otherwise.
        effect: what it does.
        grade: how it is known.
        source: where from.
        why: what hangs on it.
    """

    id: str
    topic: str
    title: str
    families: tuple[str, ...]
    default: bool
    effect: Effect
    grade: str
    source: str
    why: str


def touches(entry: Interpretation, table: LimitTable) -> bool:
    """Whether a reading can matter for a table."""
    if table.family not in entry.families:
        return False
    match entry.effect:
        case ExcludePoints(parameters=parameters):
            return any(parameter in table.parameters for parameter in parameters)
        case RelaxLimit(relaxation=relaxation):
            relaxed = (limit.relaxed_when for limit in table.parameters.values())
            return any(data is not None and data.id == relaxation for data in relaxed)
        case _:
            return True


def reading(item: dict[str, Any]) -> Interpretation:
    """One entry of the file as a value."""
    fields = {**item, "families": tuple(item["families"]), "effect": _effect(item["effect"])}
    return Interpretation(**fields)


def _effect(item: dict[str, Any]) -> Effect:
    fields = {key: value for key, value in item.items() if key != "kind"}
    match item["kind"]:
        case "exclude_points":
            return ExcludePoints(**{**fields, "parameters": tuple(fields["parameters"])})
        case "relax_limit":
            return RelaxLimit(**fields)
        case "round_limit":
            return RoundLimit(**fields)
        case _:
            return RoundMeasured(**fields)
