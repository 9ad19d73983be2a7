"""Project files: read, held against their schema, and made into values."""

import hashlib
from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any

from sweepbook import toml
from sweepbook.errors import SweepbookError
from sweepbook.findings import Accepted
from sweepbook.inputs import bytes_of, what_to_do
from sweepbook.limits import schema_check
from sweepbook.project import figures, spellings
from sweepbook.project.job import job_of
from sweepbook.project.model import Acceptance, Project
from sweepbook.text import utf8_safe

SCHEMA = "project-0.schema.json"
MOST_BYTES = 4 << 20
_CHANGE = "Change these keys; `sweepbook accept --help` shows how a project file is written."


class BadProject(SweepbookError):
    """A project file cannot be used."""

    def __init__(self, path: Path, why: str, todo: str = _CHANGE) -> None:
        shown = utf8_safe(str(path))
        super().__init__(f"The project file {shown} cannot be used: {why.rstrip('.')}.", todo)


def load(path: Path) -> Project:
    """Read a project file.

    Raises:
        BadProject: it cannot be read, is no TOML, or does not follow its schema.
    """
    try:
        raw = bytes_of(path, MOST_BYTES)
    except OSError as error:
        why = f"it cannot be read: {error.strerror or error}"
        raise BadProject(path, why, what_to_do(error, "Check the path.")) from error
    return parsed(raw, path)


def parsed(raw: bytes, path: Path) -> Project:
    """A project file out of its bytes; `path` names it in what is told.

    Raises:
        BadProject: it is too large, is no TOML, or does not follow its schema.
    """
    if len(raw) > MOST_BYTES:
        raise BadProject(path, f"it is over {MOST_BYTES >> 20} MB", "Name the right file.")
    try:
        document = toml.parsed(raw)
    except toml.NoToml as error:
        raise BadProject(path, str(error), "Mend the file.") from error
    found = [
        *schema_check.faults(_plain(document), SCHEMA),
        *figures.faults(document.get("practice", {})),
        *_no_days(document.get("accept", [])),
    ]
    found = found or list(spellings.faults(document))
    if found:
        raise BadProject(path, "; ".join(found))
    return Project.of(
        name=path.name,
        sha256=hashlib.sha256(raw).hexdigest(),
        practice=dict(document.get("practice", {})),
        left_out=tuple(document.get("rules", {}).get("leave_out", ())),
        acceptances=tuple(map(_acceptance, document.get("accept", []))),
        job=job_of(document.get("job", {})),
        spellings=spellings.spellings_of(document),
    )


def _no_days(entries: Sequence[Mapping[str, Any]]) -> Iterator[str]:
    for number, entry in enumerate(entries):
        try:
            date.fromisoformat(str(entry.get("when")))
        except ValueError:
            yield f"$.accept[{number}].when is no day of the calendar"


def _acceptance(entry: Mapping[str, Any]) -> Acceptance:
    return Acceptance(
        rule=entry["rule"],
        label=entry.get("label"),
        record=entry.get("record"),
        everywhere=entry.get("everywhere", False),
        path=entry.get("path"),
        labels=tuple(entry.get("labels", ())),
        accepted=Accepted(entry["who"], str(entry["when"]), entry["why"]),
    )


def _plain(value: Any) -> Any:  # noqa: ANN401 - any value of TOML
    """JSON values: a day, which TOML may write without quotes, as text."""
    match value:
        case dict():
            return {key: _plain(one) for key, one in value.items()}
        case list():
            return [_plain(one) for one in value]
        case bool() | int() | float() | str():
            return value
    return str(value)
