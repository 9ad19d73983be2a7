"""Rows of the wire map among those of single figures: texts about the test, and no figures."""

from collections.abc import Sequence
from typing import NamedTuple

from sweepbook.draft.absent_words import says
from sweepbook.draft.document import FOUND, PARAMETER, Line, Note, Table, one_of
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.reading import Understood
from sweepbook.draft.verdicts import are_verdicts
from sweepbook_plugins.csv.draft.text import Cells

_WIRE_MAP = "wire_map"
_KEY_AND_VALUE = 2
_WHY = "rows of the wire map hold no figure, so that these are told from the others by their words"


class WireRows(NamedTuple):
    """Such rows of a table.

    Attributes:
        rows: their positions.
        subject: position of the column that says what a row is of.
        words: what stands there on them.
        key: position of the column that tells one from the next; the subject where none does.
        value: position of the column with the contacts.
    """

    rows: frozenset[int]
    subject: int
    words: Sequence[str]
    key: int
    value: int


def wire_rows(rows: Sequence[Cells], found: Understood) -> WireRows | None:
    """The rows of the wire map, where these hold contacts and nothing else; None for none.

    A row that only judges the wire map is one of figures.

    Args:
        rows: of one table, all of one width.
        found: what names are made of.
    """
    subjects = {at: of for at, row in enumerate(rows) if (of := _subject(row, found)) is not None}
    if len(set(subjects.values())) != 1:
        return None
    subject = next(iter(subjects.values()))
    columns = {
        at: texts
        for at in range(len(rows[0]))
        if at != subject and (texts := [rows[of][at] for of in subjects if says(rows[of][at])])
    }
    judged = [at for at, texts in columns.items() if are_verdicts(texts)]
    held = [at for at in columns if at not in judged]
    wires = frozenset(at for at in subjects if any(says(rows[at][of]) for of in held))
    both = any(says(rows[at][of]) for at in wires for of in judged)
    if not wires or both or len(held) > _KEY_AND_VALUE:
        return None
    words = list(dict.fromkeys(rows[at][subject] for at in sorted(wires)))
    return WireRows(wires, subject, words, held[0] if len(held) > 1 else subject, held[-1])


def _subject(row: Cells, found: Understood) -> int | None:
    """Position of the cell that says that a row is of the wire map."""
    for at, cell in enumerate(row):
        part = found.naming.parse(cell)
        if part.parameter and part.template == PARAMETER:
            return at if part.parameter[1] == _WIRE_MAP else None
    return None


def told_apart(
    forms: Sequence[Table],
    wires: WireRows,
    titles: Sequence[str],
    rows: Sequence[Cells],
    evidence: Evidence,
    where: str,
) -> list[Table]:
    """The forms of a table with such rows told apart from figures, and from unknown ones.

    Args:
        forms: those of the figures.
        wires: the rows of the wire map.
        titles: of the columns.
        rows: all rows of the table.
        evidence: takes the texts of the wire map under the keys that a reader gives them.
        where: name of the dialect's table for the rows.
    """
    if not forms or any(line.key == "kind" for of in forms for line in of.lines):
        return list(forms)  # they tell kinds for another reason
    left = [row for at, row in enumerate(rows) if at not in wires.rows]
    words = [word for word in dict.fromkeys(row[wires.subject] for row in left) if word]
    judged = [word for word in words if word in wires.words]
    figures = [word for word in words if word not in judged]
    made = [_of_kinds(form, words if _only_judges(form) else figures) for form in forms]
    if judged and not any(map(_only_judges, forms)):
        made += _verdict_of(judged, titles[wires.subject], forms)
    for at in sorted(wires.rows):
        cells = [rows[at][of] for of in dict.fromkeys((wires.key, wires.subject))]
        evidence.put(" ".join(cells), rows[at][wires.value])
    top = Table(f"[{where}]")
    top.add("kind", titles[wires.subject], Note(FOUND, _WHY, wires.words))
    own = Table(f"[{where}.property]")
    own.add("kind", one_of(wires.words))
    own.add("key", titles[wires.key])
    own.add("value", titles[wires.value])
    return [top, *made, own]


def _of_kinds(form: Table, words: Sequence[str]) -> Table:
    return Table(form.name, [Line("kind", one_of(words)), *form.lines], form.notes)


def _only_judges(form: Table) -> bool:
    return {line.key for line in form.lines} == {"name", "verdict"}


def _verdict_of(words: Sequence[str], subject: str, forms: Sequence[Table]) -> list[Table]:
    """A form for the verdict on the wire map, where another form has that of the rest."""
    verdicts = [line for of in forms for line in of.lines if line.key == "verdict"]
    form = Table(forms[0].name)
    form.add("kind", one_of(words))
    form.add("name", {subject: PARAMETER})
    form.lines += verdicts[:1]
    return [form] if verdicts else []
