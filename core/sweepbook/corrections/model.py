"""A correction, and the fields that may be corrected."""

from dataclasses import dataclass

from sweepbook.dialect.fields import FIELDS
from sweepbook.errors import SweepbookError

PURPOSES = ("initial", "retest", "acceptance", "periodic", "fault-finding")
_KINDS = ("text", "limit", "purpose", "configuration")
CORRECTABLE = tuple(path for path, kind in FIELDS.items() if kind in _KINDS)
"""What was typed in or chosen before a test. Not: what was measured, when, and what the tester
made of it, which no later knowledge changes."""


class NotCorrectable(SweepbookError):
    """A field may not be corrected, or not to that."""


@dataclass(frozen=True, slots=True)
class Correction:
    """One field of one record.

    Attributes:
        record: id of the record.
        field: path of the field, one of `CORRECTABLE`.
        old: what the record says; "" where it says nothing.
        new: what is right; "" to take the field out.
        who: the person who knows.
        when: when it was entered, as RFC 3339 text or a day.
        why: how that is known.
        line: where it stands in corrections.csv, counted from 1.
    """

    record: str
    field: str
    old: str
    new: str
    who: str
    when: str
    why: str
    line: int = 0


@dataclass(frozen=True, slots=True)
class Unfit:
    """A correction that was not applied.

    Attributes:
        correction: it.
        found: what the field holds instead of what the correction says it does.
    """

    correction: Correction
    found: str


def field_of(name: str) -> str:
    """The path of a field that a person names by it, or by the end of it: "label".

    Raises:
        NotCorrectable: no field, or several, go by the name.
    """
    found = [path for path in CORRECTABLE if path == name or path.endswith(f".{name}")]
    if name in found or len(found) == 1:
        return name if name in found else found[0]
    if found:
        raise NotCorrectable(f"{name!r} may mean {', '.join(found)}.", "Write the whole name.")
    if name.split(".")[0] in ("results", "stated") or name.startswith("test.started"):
        raise NotCorrectable(
            f"{name!r} is evidence: what was measured, when, or what the tester made of it.",
            "It cannot be corrected. If it is wrong, test the link again.",
        )
    raise NotCorrectable(
        f"No field that can be corrected goes by {name!r}.",
        "`sweepbook correct --help` lists them.",
    )


def check_value(field: str, value: str) -> None:
    """Refuse what a field cannot hold.

    Raises:
        NotCorrectable: it cannot hold this.
    """
    if field in ("link.label", "test.limit") and not value.strip():
        raise NotCorrectable(f"{field} cannot be empty.", "Say what is right.")
    if field == "test.purpose" and value not in (*PURPOSES, ""):
        raise NotCorrectable(f"{value!r} is no purpose.", f"Purposes are {', '.join(PURPOSES)}.")
    if any("\ud800" <= char <= "\udfff" for char in value):
        raise NotCorrectable(f"The text for {field} holds bytes that are no text.", "Type it anew.")
    if any(char in value for char in "\r\n\0"):
        raise NotCorrectable(f"The text for {field} is not one line.", "Write it in one line.")
