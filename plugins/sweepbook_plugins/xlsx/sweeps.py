"""Sheets of the sweeps of chosen tests: curves and limits as figures, and a chart of each group."""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from sweepbook.text import text_at
from sweepbook_plugins.xlsx.fields import title
from sweepbook_plugins.xlsx.links import NO_LABEL
from sweepbook_plugins.xlsx.noting import meant
from sweepbook_plugins.xlsx.styles import Styles
from sweepbook_plugins.xlsx.workbook import OPTION

if TYPE_CHECKING:
    from sweepbook.judging.assessment import Assessment
    from sweepbook.judging.hold import Held
    from sweepbook_plugins.xlsx.noting import Noted

Floats = NDArray[np.float64]
_LONGEST_NAME = 31
_DAY, _MINUTE = len("2026-03-02"), len("2026-03-02 07:30")
_NOT_IN_NAMES = str.maketrans(dict.fromkeys("[]:*?/\\'", "_"))


@dataclass(frozen=True, eq=False)
class Group:
    """The curves of one parameter at one end, with their limit.

    Attributes:
        parameter, end: "NEXT", "near"; an end of "" for what has none.
        unit: of values and limit.
        names: of the curves: pairs by pins, for crosstalk disturbing / disturbed.
        frequency_mhz: float64[n].
        value: float64[m, n]; NaN where a curve has no point.
        limit: float64[n]; NaN where there is none.
        worst: which curve has the smallest margin, and at which point; None where none was judged.
        obligation: "required", or why it decides nothing.
    """

    parameter: str
    end: str
    unit: str
    names: tuple[str, ...]
    frequency_mhz: Floats
    value: Floats
    limit: Floats
    worst: tuple[int, int] | None
    obligation: str

    @property
    def title(self) -> str:
        """What stands above the chart."""
        return f"{self.parameter}, {self.end} end" if self.end else self.parameter

    @property
    def margin(self) -> float | None:
        """The smallest margin; positive is better than the limit."""
        if self.worst is None:
            return None
        row, at = self.worst
        distance = float(self.value[row, at] - self.limit[at])
        return distance if self.sense == "min" else -distance

    sense: str = "min"


def groups(held: "Sequence[Held]") -> Iterator[Group]:
    """What was held against limits, by parameter and end, in the order of the judgement."""
    for one in held:
        keys = one.curves.keys
        for end in dict.fromkeys(key.end for key in keys):
            rows = [row for row, key in enumerate(keys) if key.end == end]
            yield _group(one, rows, end or "")


def _group(held: "Held", rows: list[int], end: str) -> Group:
    limit, worst = held.evaluation.limit, held.worst
    judged = [row for row in rows if worst.points[row]]
    least = min(
        judged, key=lambda row: held.evaluation.margin[row, worst.margin_at[row]], default=None
    )
    of = rows[0] if least is None else least
    line = limit.value if limit.value.ndim == 1 else limit.value[of]
    return Group(
        parameter=title(held.rule.parameter),
        end=end,
        unit=held.rule.unit,
        names=tuple("/".join(held.curves.keys[row].pairs) for row in rows),
        frequency_mhz=held.curves.frequency_mhz,
        value=held.curves.value[rows],
        limit=np.where(limit.usable, line, np.nan),
        worst=None if least is None else (rows.index(least), int(worst.margin_at[least])),
        obligation=held.obligation,
        sense=held.sense,
    )


@dataclass(frozen=True, eq=False)
class Test:
    """A chosen test.

    Attributes:
        label: of the link.
        day: of the test by its clock, "" where it is not known.
        about: what it came to, in a line.
        groups: its curves.
    """

    label: str
    day: str
    about: str
    groups: tuple[Group, ...]


def sweeps(assessment: "Assessment", held: "Callable[[], Sequence[Held]]") -> Test:
    """The sweeps of a test."""
    judged = f"{assessment.judgement.value}; the sweeps say {assessment.recomputed.value}"
    limit, record = assessment.limit_path or "no limit table", assessment.record
    begun = text_at(record.document, "test", "started", "rfc3339").replace("T", " ")
    tested = f"Tested {begun[:_MINUTE]}: " if begun else ""
    about = f"{tested}{judged}. Limit: {limit}. Record {record.record_id}."
    return Test(record.label or NO_LABEL, begun[:_DAY], about, tuple(groups(held())))


class Chosen:
    """The tests of which sheets were asked for; those alone are kept until the end."""

    def __init__(self, asked: Sequence[str]) -> None:
        self._asked = asked
        self._met: set[str] = set()
        self._labels: set[str] = set()
        self._tests: list[Test] = []

    def see(self, one: "Noted") -> None:
        """Keep the sweeps of a test, if it is one of those."""
        if self._asked:
            self._labels.add(one.label)
        if one.sweeps is not None:
            self._met.update(meant(self._asked, one.label, one.record_id))
            self._tests.append(one.sweeps)

    def write(self, workbook: Any, styles: Styles) -> None:  # noqa: ANN401
        """A sheet a test, in the order in which they came."""
        from sweepbook_plugins.xlsx.sweeps_sheet import write_sweeps

        taken = {sheet.get_name().casefold() for sheet in workbook.worksheets()}
        several = Counter(test.label for test in self._tests)
        for test in self._tests:
            day = test.day if several[test.label] > 1 else ""
            name = _name(f"{test.label} {day}".strip(), taken)
            taken.add(name.casefold())
            write_sweeps(workbook.add_worksheet(name), workbook, styles, test)

    def remarks(self) -> Iterator[str]:
        """What was asked for and is not there."""
        for text in self._asked:
            if text not in self._met:
                near = get_close_matches(text, self._labels, n=3, cutoff=0.5)
                hint = f" Near it: {', '.join(near)}." if near else ""
                yield f"No test is of the link {text}, so --{OPTION} adds no sheet of it.{hint}"
        for test in self._tests:
            if not test.groups:
                yield f"No curve of {test.label} was held against a limit; its sheet says so."


def _name(label: str, taken: Iterable[str]) -> str:
    """A name of a sheet that no other has, without what such names cannot hold."""
    plain = f"Sweeps {label}".translate(_NOT_IN_NAMES)
    plain = "".join(char if char.isprintable() else "_" for char in plain)
    name, number = plain[:_LONGEST_NAME].strip(), 1
    while name.casefold() in taken:
        number += 1
        ending = f" {number}"
        name = f"{plain[: _LONGEST_NAME - len(ending)].strip()}{ending}"
    return name
