"""Who is who: a record by what it says, a link by its job and label."""

import hashlib
import unicodedata
from collections.abc import Mapping
from typing import Any

from sweepbook.record import canonical

OUTSIDE = ("schema", "record_id", "origin", "attachments", "resolved", "provenance")
"""Members that the identity does not rest on."""


def record_id(document: Mapping[str, Any]) -> str:
    """`sb0-` and the SHA-256 of the canonical text of what was measured and stated.

    Args:
        document: of a record; `OUTSIDE` is left out, whether there or not.

    Raises:
        NoCanonicalText: the document holds something that is not of JSON.
    """
    inside = {name: value for name, value in document.items() if name not in OUTSIDE}
    return _digest(canonical.text(inside))


def quickly(inside: dict[str, Any]) -> str | None:
    """The same of a document without what is `OUTSIDE`; None where its text must be worked out.

    Args:
        inside: of a document; `orjson.Fragment` stands for an array's canonical text.
    """
    text = canonical.quick_text(inside)
    return None if text is None else _digest(text)


def _digest(text: bytes) -> str:
    return f"sb0-{hashlib.sha256(text).hexdigest()}"


def link_id(job: str, label: str) -> str:
    """`sbl-` and a SHA-256 that is the same for every spelling of a link's label within a job."""
    inside = [job, normalised(label)]
    return f"sbl-{hashlib.sha256(canonical.text(inside)).hexdigest()}"


def normalised(label: str) -> str:
    """A label for comparison: compatible forms, case and runs of blanks made one."""
    return " ".join(unicodedata.normalize("NFKC", label).casefold().split())
