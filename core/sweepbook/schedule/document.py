"""A reconciliation as a JSON document, by the schema reconciliation-0."""

from collections.abc import Iterator, Sequence
from dataclasses import asdict
from typing import Any

from sweepbook import __version__, schemas
from sweepbook.errors import ReadProblem
from sweepbook.schedule.attempt import Attempt
from sweepbook.schedule.model import Fault
from sweepbook.schedule.reconcile import Item, Reconciliation

SCHEMA = "urn:sweepbook:reconciliation-0"


def of(
    result: Reconciliation,
    problems: Sequence[ReadProblem] = (),
    not_known: Sequence[Fault] = (),
    withdrawn: str = "",
) -> dict[str, Any]:
    """The document.

    Args:
        result: what it tells.
        problems: in reading the tests.
        not_known: what the schedule asks for that leads to no limit table.
        withdrawn: what of the book is not counted, when and why; "" for nothing.
    """
    schedule, scheme = result.schedule, result.scheme
    return {
        "schema": SCHEMA,
        "tool": {"name": "sweepbook", "version": __version__},
        "schedule": {
            "name": schedule.name,
            "sha256": schedule.sha256,
            "links": len(schedule.links),
            "columns_named": dict(schedule.named),
            "columns_not_used": list(schedule.unused),
            "titles_again": schedule.again,
            "faults": [_fault(fault) for fault in schedule.faults],
            "asks_for_limits": schedule.asks_for_limits,
            "limits_not_known": [_fault(fault) for fault in not_known],
        },
        "label_scheme": {"name": scheme.name, "sha256": scheme.sha256} if scheme else None,
        "summary": {state.value: count for state, count in result.counts().items()},
        "open": len(result.open),
        "links": [_item(item) for item in result.items],
        "problems": [
            {"source": problem.source, "place": problem.place, "message": problem.message}
            for problem in problems
        ],
        **({"withdrawn": withdrawn} if withdrawn else {}),
    }


def problems(document: Any) -> Iterator[str]:  # noqa: ANN401 - any JSON value
    """Hold a document against the schema; one sentence a fault, with the place of it."""
    return schemas.problems(document, "reconciliation-0.schema.json")


def _fault(fault: Fault) -> dict[str, Any]:
    return {"line": fault.line, "message": fault.message}


def _item(item: Item) -> dict[str, Any]:
    return {
        "label": item.label,
        "state": item.state.value,
        "open": item.open,
        "reason": item.reason,
        "remarks": [one.message for one in item.remarks],
        **_accepted(item),
        "line": item.scheduled.line if item.scheduled else None,
        "place": dict(item.place),
        "limit_asked": item.asked or None,
        "tests": [_test(test) for test in item.tests],
        "near_misses": [{"label": label, "differs_in": how} for label, how in item.near_misses],
    }


def _accepted(item: Item) -> dict[str, Any]:
    """What of it somebody lets stand: where it stands, and each such remark."""
    told = [(item.rule, item.reason, item.accepted)] if item.accepted else []
    told += [(one.rule, one.message, one.accepted) for one in item.remarks if one.accepted]
    entries = [{"rule": rule, "message": said, **asdict(one)} for rule, said, one in told if one]
    return {"accepted": entries} if entries else {}


def _test(test: Attempt) -> dict[str, Any]:
    return {
        "record_id": test.record_id,
        "purpose": test.purpose or None,
        "limit": test.limit_path or None,
        "stated": test.stated or None,
        "recomputed": test.recomputed,
        "judgement": test.judgement,
        **({"export_of": test.export_of} if test.export_of else {}),
    }
