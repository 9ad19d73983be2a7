"""The tables of one test of a file: curves in columns, in rows, or single figures."""

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, field

from sweepbook.draft import phrases
from sweepbook.draft.document import UNTOLD, Note
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.legend import Legend
from sweepbook.draft.numbers import is_frequency
from sweepbook_plugins.csv.draft import keyed
from sweepbook_plugins.csv.draft.curve_rows import CurveRowsTable
from sweepbook_plugins.csv.draft.curves import CurvesTable, are_curves
from sweepbook_plugins.csv.draft.figures import states_worst
from sweepbook_plugins.csv.draft.rows import RowsTable
from sweepbook_plugins.csv.draft.shape import Seen, Shape
from sweepbook_plugins.csv.draft.text import Cells, Text
from sweepbook_plugins.csv.draft.untitled import KIND, counted

HEADING, OUTER = "the heading", "the heading around it"
_SHOWN = 6


@dataclass
class Kinds:
    """Tables with what they hold.

    Attributes:
        curves: with a column a curve.
        by_keys: the same, named by key lines above them.
        rows: with a row a point.
        wide: with a row a curve.
        figures: with single figures.
    """

    curves: list[tuple[Seen, CurvesTable]] = field(default_factory=list)
    by_keys: list[tuple[Seen, CurvesTable]] = field(default_factory=list)
    rows: list[tuple[Seen, RowsTable]] = field(default_factory=list)
    wide: list[tuple[Seen, CurveRowsTable]] = field(default_factory=list)
    figures: list[Seen] = field(default_factory=list)

    def into(self, evidence: Evidence) -> None:
        """Hand over curves and keys of all tables but those of figures."""
        tables: list[tuple[Seen, CurvesTable | RowsTable | CurveRowsTable]]
        tables = [*self.curves, *self.by_keys, *self.rows, *self.wide]
        for _, table in sorted(tables, key=lambda one: one[0].start):
            table.into(evidence)


def sort(text: Text, shape: Shape) -> Kinds:
    """Sort the tables of the test of a file that has most of them, the first of these."""
    kinds, outer = Kinds(), ""
    for seen in _fullest(shape):
        outer = seen.outer or outer
        around = {OUTER: outer} if outer else {}
        heading = counted(seen.heading, seen.stop - seen.start)
        around |= {HEADING: heading} if heading and not seen.named else {}
        around |= {keyed.slot(key): told for key, told in seen.named}
        _take(seen, text.rows[seen.start : seen.stop], around, kinds, shape.legend)
    return kinds


def _fullest(shape: Shape) -> list[Seen]:
    tests: dict[int, list[Seen]] = {}
    for seen in shape.tables:
        tests.setdefault(max(1, bisect_right(shape.starts, seen.start)), []).append(seen)
    return max(tests.values(), key=len, default=[])


def _take(
    seen: Seen, body: Sequence[Cells], around: dict[str, str], kinds: Kinds, legend: Legend
) -> None:
    if seen.wide:
        whole = CurveRowsTable(seen.titles, body, seen.wide, around, alone=False, legend=legend)
        kinds.wide.append((seen, whole))
    elif seen.named:
        kinds.by_keys.append((seen, CurvesTable(seen.titles, body, around, units=seen.units)))
    elif not seen.given and (are_curves(seen.titles, body, legend) or _is_one_curve(seen)):
        kinds.curves.append((seen, CurvesTable(seen.titles, body, around, units=seen.units)))
    elif any(map(is_frequency, seen.titles)) and len(body) > len(seen.titles):
        table = RowsTable(seen.titles, body, around, alone=False, legend=legend)
        if seen.titles[0] == KIND:
            table.tell_kinds_by(KIND)
        if states_worst(seen.titles, body) or not table.may_hold_curves():
            kinds.figures.append(seen)
        elif seen.heading or table.can_name():
            kinds.rows.append((seen, table))
        else:
            kinds.curves.append((seen, CurvesTable(seen.titles, body, around, units=seen.units)))
    else:
        kinds.figures.append(seen)


def _is_one_curve(seen: Seen) -> bool:
    """Whether a table with a row of units has the values of one curve, which its heading names."""
    two = len(seen.titles) == 2 and bool(seen.units)
    return two and is_frequency(seen.titles[0]) and phrases.parameter_in(seen.heading) is not None


def lacking(text: Text, evidence: Evidence, unknown: Sequence[Seen]) -> list[Note]:
    """What is told where no curve was found, and of tables of which nothing is known.

    Args:
        text: the file.
        evidence: with the curves that were found.
        unknown: tables that the draft says nothing of.
    """
    notes = []
    if not evidence.curves:
        said = "where the curves are: NO CURVE WAS FOUND. None of the tables has frequencies and "
        said = f"{said}values that are named by titles, cells or headings"
        head = "NO CURVE is read by it as it stands, see the lines above [csv]."
        notes.append(Note(UNTOLD, said, head=head))
    at = [seen.start if seen.mark else max(0, seen.start - 1) for seen in unknown]
    shown = [text.lines[one].strip() for one in at]
    if shown:
        said = "what these tables hold, which go to extra; their lines of titles or first lines"
        notes.append(Note(UNTOLD, said, list(dict.fromkeys(shown))[:_SHOWN]))
    return notes
