"""How an export writes its wire map."""

import re
from collections.abc import Sequence

from sweepbook.draft.document import ASSUMED, FOUND, Note, Table
from sweepbook.draft.field_times import Filled

_WIRES = re.compile(r"[1-8]([^\w\s])[1-8xX]([^\w]+)[1-8]\1[1-8xX](?:\2[1-8]\1[1-8xX])*")


def wire_table(filled: Sequence[Filled]) -> Table:
    """The table `wire_map`, where it is not as usual."""
    table = Table("[wire_map]")
    for one in filled:
        match = _WIRES.match(one.texts[0]) if one.path == "results.wire_map.pins" else None
        if match:
            note = Note(FOUND, "", one.texts)
            for key, mark, usual in (
                ("between_ends", match[1], "-"),
                ("between_wires", match[2], " "),
            ):
                if mark != usual:
                    table.add(key, mark, note)
            marks = "".join(one.texts)
            if seen := [mark for mark in "xX" if mark in marks]:
                said = "this stands where a contact would, so the wire goes nowhere"
                table.add("open", seen, Note(ASSUMED, said, one.texts))
    return table
