"""The whole text of a draft."""

import re
from collections.abc import Sequence

from sweepbook.draft.document import ASSUMED, FOUND, UNSETTLED, UNTOLD, Note, Table, render

HEAD = (
    "A draft, made from examples. Look at every line before you trust it, the marked ones first:",
    f"{FOUND}: the examples show it. {ASSUMED}: usual, and not shown. {UNTOLD}: only a person can.",
    f"Where {UNSETTLED!r} stands nothing is read until you have put something in its place.",
    "Then: sweepbook dialect try THIS-FILE EXPORT. The keys: sweepbook formats --guide.",
)


def compose(reader: str, examples: Sequence[str], tables: Sequence[Table]) -> str:
    """Put head, name and tables together.

    Args:
        reader: the format it is for.
        examples: names of the files it was made from.
        tables: of both halves.
    """
    top = Table("")
    top.add("schema", "urn:sweepbook:dialect-0")
    note = Note(ASSUMED, "from the name of the file; call it after maker and model", examples)
    top.add("name", _name(examples[0]), note)
    top.add("title", f"Draft from {examples[0]}")
    top.add("format", reader)
    return render(HEAD, [top, *tables])


def _name(example: str) -> str:
    stem = example.partition(".")[0].casefold()
    return re.sub(r"[^a-z0-9]+", "-", stem).strip("-") or "draft"
