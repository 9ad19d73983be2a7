"""Where the names of limits in an export lead."""

import re
from collections.abc import Sequence
from typing import TYPE_CHECKING

from sweepbook.draft.document import FOUND, UNTOLD, Note, Table, quoted
from sweepbook.draft.field_times import Filled
from sweepbook.errors import SweepbookError

if TYPE_CHECKING:
    from sweepbook.limits.library import Library

_MOST = 4
_LEAST_SHARED = 2


def limit_table(filled: Sequence[Filled], library: "Library") -> Table:
    """The table `limits`: what a name leads to, or what it may mean, for a person to choose."""
    from sweepbook.limits.library import AmbiguousLimit

    table = Table("[limits]")
    names = [text for one in filled if one.path == "test.limit" for text in one.texts]
    for name in names:
        try:
            found = library.resolve(name)
        except AmbiguousLimit as error:
            note = Note(UNTOLD, "which limit this name means; take the mark off one line", [name])
            for path in error.candidates[:_MOST]:
                table.add(quoted(path), name, note, asleep=True)
                note = Note(UNTOLD, "or this one")
        except SweepbookError:
            _unknown(table, name, library)
        else:
            note = Note(FOUND, f"this name leads there by itself, {found.how}", [name])
            table.add(quoted(found.path), name, note, asleep=True)
    return table


def _unknown(table: Table, name: str, library: "Library") -> None:
    """Lines for a name that leads nowhere: the tables that share most of its words."""
    said = _parts(name)
    shared = {path: len(said & _parts(path)) for path in library.paths()}
    best = max(shared.values(), default=0)
    near = [path for path, count in shared.items() if count == best and best >= _LEAST_SHARED]
    note = Note(
        UNTOLD,
        "which limit this name means; take the mark off one line, or write another path out of "
        "`sweepbook limits list`",
        [name],
    )
    for path in near[:_MOST] or ["PATH"]:
        table.add(quoted(path), name, note, asleep=True)
        note = Note(UNTOLD, "or this one")


def _parts(text: str) -> set[str]:
    """Words and numbers of a name in lower case, "cat6a" also as 6a."""
    parts = re.findall(r"[a-z]+|[0-9]+[a-z]?", text.casefold())
    return {part for part in parts if part not in ("cat", "category", "class", "iec", "link")}
