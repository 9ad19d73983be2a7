"""What a link was to be tested to, beside what it was tested to."""

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from sweepbook.errors import SweepbookError
from sweepbook.limits.names import letters
from sweepbook.schedule.model import Fault

if TYPE_CHECKING:
    from sweepbook.limits.library import Library
    from sweepbook.limits.model import LimitTable
    from sweepbook.schedule.model import Schedule, ScheduledLink


class Answer(StrEnum):
    """How the limit of a test answers to the one that was asked for."""

    AS_ASKED = "as asked"
    HIGHER = "higher than asked"
    LESSER = "lesser than asked"
    OTHER_CONFIGURATION = "other configuration than asked"
    OTHER = "other than asked"
    NOT_KNOWN = "not known"


@dataclass(frozen=True, slots=True)
class Asked:
    """What the schedule asks of a link.

    Attributes:
        path: of the limit table; "" where none is asked for, or it is not known.
        configuration: word of the record; "" likewise.
        doubt: why the spelling leads to no one table, or "".
    """

    path: str = ""
    configuration: str = ""
    doubt: str = ""


class Asking:
    """What rows of a schedule ask for; each spelling is looked up once."""

    def __init__(self, library: "Library") -> None:
        self._library = library
        self._words = _configurations(library)
        self._known: dict[tuple[str, str], Asked] = {}

    def of(self, link: "ScheduledLink") -> Asked:
        """The limit and the configuration that a row spells."""
        spelled = (link.limit, link.configuration)
        if spelled not in self._known:
            self._known[spelled] = self._looked_up(*spelled)
        return self._known[spelled]

    def _looked_up(self, limit: str, said: str) -> Asked:
        configuration = self._words.get(letters(said), "")
        if said and not configuration:
            known = ", ".join(sorted(set(self._words.values())))
            return Asked(doubt=f"{said!r} is no known configuration: {known}")
        if not limit:
            return Asked(configuration=configuration)
        try:
            found = self._library.resolve(limit, configuration=configuration or None)
        except SweepbookError as error:
            return Asked(configuration=configuration, doubt=error.message.rstrip("."))
        table = self._library.table(found.path)
        if configuration and table.configuration != configuration:
            return Asked(doubt=f"{limit!r} is a limit for {table.configuration}, not for the "
                         f"{configuration} beside it")  # fmt: skip
        return Asked(found.path, table.configuration)


def _configurations(library: "Library") -> dict[str, str]:
    """The configuration by each of its spellings in the limit tables, letters and digits alone.

    A spelling that tables of two configurations have means neither.
    """
    meant: dict[str, set[str]] = {}
    tables = library.tables.values()
    for table in tables:
        for spelling in table.names.configuration:
            meant.setdefault(letters(spelling), set()).add(table.configuration)
    found = {spelling: min(some) for spelling, some in meant.items() if len(some) == 1}
    return found | {letters(table.configuration): table.configuration for table in tables}


def not_known(schedule: "Schedule", library: "Library") -> tuple[Fault, ...]:
    """What a schedule asks for that leads to no one limit table, each spelling with its lines."""
    asking = Asking(library)
    spelled: dict[tuple[str, str], list[int]] = {}
    for link in schedule.links:
        if doubt := asking.of(link).doubt:
            spelled.setdefault((doubt, link.limit), []).append(link.line)
    lines: dict[str, list[int]] = {}
    for (doubt, limit), at in spelled.items():
        near = library.near(limit) if limit else ()
        hint = f" Perhaps {' or '.join(near)} is meant." if near else ""
        lines.setdefault(f"{doubt}.{hint}", []).extend(at)
    return tuple(
        Fault(
            at[0],
            f"{said} A link tested to it stays unproven{_also(at[1:])}; "
            "`sweepbook limits list` shows what is known.",
        )
        for said, at in ((said, sorted(at)) for said, at in lines.items())
    )


def _also(lines: list[int]) -> str:
    if not lines:
        return ""
    return f", and so does that of {len(lines)} more line{'s' if len(lines) > 1 else ''}"


def answer(wanted: Asked, path: str, library: "Library") -> Answer:
    """How the table that a test was judged under answers to what was asked.

    Of one family and configuration, the table that reaches to the lower frequency is the lesser
    one. Where one is a contract's, what it asks for is compared, limit by limit.
    """
    if not path or wanted.doubt:
        return Answer.NOT_KNOWN if path else Answer.OTHER
    table = library.table(path)
    if wanted.configuration and table.configuration != wanted.configuration:
        return Answer.OTHER_CONFIGURATION
    if not wanted.path or path == wanted.path:
        return Answer.AS_ASKED
    return _compared(table, library.table(wanted.path))


def _compared(table: "LimitTable", wanted: "LimitTable") -> Answer:
    from sweepbook.limits.compare import asks_no_less

    if table.based_on or wanted.based_on:
        if asks_no_less(table, wanted):
            return Answer.HIGHER
        return Answer.LESSER if asks_no_less(wanted, table) else Answer.OTHER
    if table.family != wanted.family or table.f_max_mhz == wanted.f_max_mhz:
        return Answer.OTHER
    return Answer.HIGHER if table.f_max_mhz > wanted.f_max_mhz else Answer.LESSER
