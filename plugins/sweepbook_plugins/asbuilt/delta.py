"""Writing what changed: a database of the links that did, and the list of them."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from sweepbook import files
from sweepbook.errors import SweepbookError
from sweepbook.text import utf8_safe
from sweepbook_plugins.asbuilt import TAKE_IN, excerpt, taking_in
from sweepbook_plugins.asbuilt.aside import laid_out
from sweepbook_plugins.asbuilt.changes import told
from sweepbook_plugins.asbuilt.examples import fitted
from sweepbook_plugins.asbuilt.opening import Opened, Place, opened
from sweepbook_plugins.asbuilt.schema import Schema
from sweepbook_plugins.asbuilt.since import Since, shown
from sweepbook_plugins.asbuilt.withdrawn import since_then

if TYPE_CHECKING:
    from sweepbook.delivery import Delivery


def write(delivery: "Delivery", place: Place, schema: Schema, since: Since) -> Schema:
    """Write the links of a delivery that changed.

    Returns:
        The schema, with questions that name what is in the delta.

    Raises:
        SweepbookError: the target holds something already, or the earlier export cannot be used.
    """
    with _empty(place, schema) as target, laid_out(delivery, schema, since) as whole:
        changes, job_id = whole.changes or [], whole.job_id
        links = [one.link_id for one in changes if one.link_id is not None]
        labels = {one.label for one in changes if one.label is not None}
        excerpt.copy(whole.connection, target.writing, schema, job_id, links, labels)
        rows = [one.row(job_id, number) for number, one in enumerate(changes)]
        target.writing.put("changed_link", rows)
        target.writing.put("about", [{"name": "since", "value": shown(since)}])
        asked = fitted(target.writing.connection, schema)
    what = f"changed since {shown(since)}: {', '.join(told(changes))}"
    said = what if changes else f"changed since {shown(since)}: nothing did"
    delivery.remarks.append(f"{utf8_safe(str(place))} holds the links that {said}.")
    delivery.remarks.extend(since_then(delivery, since))
    delivery.remarks.extend(_recipe(place, schema))
    return asked


@contextmanager
def _empty(place: Place, schema: Schema) -> Iterator[Opened]:
    with opened(place, schema) as target:
        if not target.fresh:
            raise SweepbookError(
                f"{utf8_safe(str(place))} holds an export already, and a delta is written to a new "
                "database.",
                "Name a new file, or an empty database.",
            )
        yield target


def _recipe(place: Place, schema: Schema) -> Iterator[str]:
    """Write the statements that take a delta in beside it, where it is a file; and say so."""
    if isinstance(place, Path):
        beside = place.with_name(place.name + TAKE_IN)
        files.write_bytes(beside, utf8_safe(taking_in.script(schema, place.name)).encode("utf-8"))
        yield (
            f"{utf8_safe(beside.name)} beside it has the statements that take it into another "
            "database; its first lines say how."
        )
