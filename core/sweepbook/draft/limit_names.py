"""Where the names of limits in an export lead."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from sweepbook.draft.document import FOUND, UNTOLD, Note, Table, quoted
from sweepbook.draft.fields import Filled
from sweepbook.errors import SweepbookError

if TYPE_CHECKING:
    from sweepbook.limits.library import Library

_MOST = 4


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
            note = Note(
                UNTOLD,
                "which limit this name means; `sweepbook limits list` has the paths, put one in "
                "place of PATH and take the mark off",
                [name],
            )
            table.add(quoted("PATH"), name, note, asleep=True)
        else:
            note = Note(FOUND, f"this name leads there by itself, {found.how}", [name])
            table.add(quoted(found.path), name, note, asleep=True)
    return table
