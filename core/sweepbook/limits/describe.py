"""What a person wants to see of limit tables, as plain rows; how they are laid out is not ours."""

from dataclasses import dataclass

import numpy as np

from sweepbook.limits import wording
from sweepbook.limits.facts import facts
from sweepbook.limits.interpretations import Interpretations
from sweepbook.limits.library import Library
from sweepbook.limits.lines import unrounded_line
from sweepbook.limits.model import LimitTable, ParameterLimit
from sweepbook.limits.readings import Interpretation

# Frequencies at which documents print tables of values.
KEY_MHZ = (1, 4, 8, 10, 16, 20, 25, 31.25, 62.5, 100, 200, 250, 300, 400, 500, 600, 1000, 2000)


@dataclass(frozen=True, slots=True)
class TableRow:
    """One table in a list.

    Attributes:
        path, title: of the table.
        mhz: its range of frequency.
        grade: the worst among its required limits.
        required: how many limits are required.
        doubtful: parameters whose limits are too doubtful to judge by.
    """

    path: str
    title: str
    mhz: str
    grade: str
    required: int
    doubtful: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SegmentText:
    """One segment: its range, its formula, what the parts stand for, grade and sources."""

    frequencies: str
    formula: str
    parts: str
    known: str
    sources: str
    note: str


@dataclass(frozen=True, slots=True)
class ParameterText:
    """One parameter: what is asked of it, its bounds in words and its segments."""

    parameter: str
    title: str
    asked: str
    bounds: str
    notes: str
    segments: tuple[SegmentText, ...]


@dataclass(frozen=True, slots=True)
class KeyTable:
    """Limits at key frequencies, unrounded: a row a frequency, a column a parameter."""

    titles: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """Everything about one table, in words."""

    title: str
    facts: tuple[tuple[str, str], ...]
    parameters: tuple[ParameterText, ...]
    key_table: KeyTable
    not_usable: tuple[tuple[str, str, str], ...]
    sources: tuple[tuple[str, str], ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ReadingRow:
    """One disputed reading: whether it is on, and for which families."""

    id: str
    on: str
    families: str
    title: str
    known: str
    why: str


def list_rows(library: Library) -> tuple[TableRow, ...]:
    """One row a table, by path."""
    return tuple(_table_row(library.table(path)) for path in library.paths())


def _table_row(table: LimitTable) -> TableRow:
    required = [x for x in table.parameters.values() if x.obligation == "required"]
    return TableRow(
        path=table.path,
        title=table.title,
        mhz=f"{table.f_min_mhz:g} to {table.f_max_mhz:g}",
        grade=max(limit.grade for limit in required),
        required=len(required),
        doubtful=tuple(entry.parameter for entry in table.not_usable),
    )


def sheet(table: LimitTable) -> Sheet:
    """Describe a table."""
    return Sheet(
        title=table.title,
        facts=facts(table),
        parameters=tuple(_parameter(x) for x in table.parameters.values() if x.grade < "D"),
        key_table=key_table(table),
        not_usable=tuple((x.parameter, x.recalled, x.missing) for x in table.not_usable),
        sources=tuple(table.sources.items()),
        notes=table.notes,
    )


def _parameter(limit: ParameterLimit) -> ParameterText:
    return ParameterText(
        parameter=limit.parameter,
        title=limit.title,
        asked=_asked(limit),
        bounds=_bounds(limit),
        notes=limit.notes,
        segments=tuple(
            SegmentText(
                frequencies=wording.frequencies(segment),
                formula=wording.formula(segment.shape, limit.unit),
                parts=wording.parts_in_words(segment.shape),
                known=wording.known(segment, limit.unit),
                sources=", ".join((segment.source, *segment.support)),
                note=segment.note,
            )
            for segment in limit.segments
        ),
    )


def _asked(limit: ParameterLimit) -> str:
    when = f" for {limit.required_when} cabling" if limit.required_when else ""
    sense = "at most" if limit.sense == "max" else "at least"
    return f"{limit.obligation}{when}, {limit.obtained}, {sense}, in {limit.unit}"


def _bounds(limit: ParameterLimit) -> str:
    said = []
    if limit.cap is not None:
        said.append(f"a limit above {limit.cap:g} {limit.unit} becomes {limit.cap:g}")
    if limit.floor is not None:
        said.append(f"a limit below {limit.floor:g} {limit.unit} becomes {limit.floor:g}")
    if limit.rounding is not None:
        mode = "truncated" if limit.rounding.mode == "truncate" else "rounded"
        said.append(f"{mode} to {limit.rounding.decimals} decimals")
    if limit.allowance_percent:
        said.append(f"plus {limit.allowance_percent:g} % for the uncertainty of NVP")
    if limit.decides == "shortest-pair":
        said.append("the pair with the shortest delay decides")
    if limit.relaxed_when is not None:
        relaxed = limit.relaxed_when
        said.append(
            f"less {wording.formula(relaxed.amount, 'dB')} from {relaxed.from_mhz:g} to "
            f"{relaxed.to_mhz:g} MHz where insertion loss at {relaxed.at_mhz:g} MHz is below "
            f"{relaxed.below_db:g} dB, if a reading switches that on (grade {relaxed.grade})"
        )
    if limit.tightened is not None:
        by, source = limit.tightened.by, limit.tightened.source
        said.append(f"then {by:g} {limit.unit} tighter (source: {source})")
    if limit.clause:
        said.append(limit.clause)
    return "; ".join(said)


def key_table(table: LimitTable) -> KeyTable:
    """The limits over frequency at the frequencies for which documents print values.

    The formula governs; the values are unrounded limits written with two decimals.
    """
    over = [
        limit
        for limit in table.parameters.values()
        if limit.f_min_mhz is not None and limit.unit == "dB" and limit.grade < "D"
    ]
    low = min(x.f_min_mhz for x in over if x.f_min_mhz is not None)
    high = max(x.f_max_mhz for x in over if x.f_max_mhz is not None)
    mhz = np.array([f for f in KEY_MHZ if low <= f <= high], dtype=np.float64)
    columns = [unrounded_line(table, limit.parameter, mhz).value for limit in over]
    rows = tuple(
        (f"{f:g}", *("" if np.isnan(column[i]) else f"{column[i]:.2f}" for column in columns))
        for i, f in enumerate(mhz)
    )
    return KeyTable(("MHz", *(limit.parameter for limit in over)), rows)


def reading_rows(interpretations: Interpretations) -> tuple[ReadingRow, ...]:
    """One row a disputed reading, in the order of the catalogue."""
    return tuple(
        _reading_row(entry, interpretations.on(entry.id))
        for entry in map(interpretations.entry, interpretations.ids())
    )


def _reading_row(entry: Interpretation, on: bool) -> ReadingRow:
    return ReadingRow(
        id=entry.id,
        on="on" if on else "off",
        families=", ".join(entry.families),
        title=entry.title,
        known=f"grade {entry.grade}. {entry.source}",
        why=entry.why,
    )
