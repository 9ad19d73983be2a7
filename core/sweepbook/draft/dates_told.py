"""Dates and times of an export, and the zones that it names."""

import re
from collections.abc import Iterator, Mapping, Sequence

from sweepbook.dialect import zone_names
from sweepbook.dialect.dates import offset_of
from sweepbook.dialect.fields import FIELDS
from sweepbook.draft import clock_notes, dates, zones
from sweepbook.draft.document import ASSUMED, FOUND, UNTOLD, Note, Table, bare, listed
from sweepbook.draft.field_times import Filled
from sweepbook.draft.reading import Understood
from sweepbook.draft.zones import ZoneForms

_DATED = ("day", "time")
"""Kinds of fields that hold a date; a firmware such as 3.4.18 only looks like one."""
_NOTED = "these words stand behind every time; one with others is told, and kept as stated"
_SHOWN = 3
"""So many zones of an offset are named."""


def dates_table(
    filled: Sequence[Filled],
    found: Understood,
    properties: Mapping[str, Sequence[str]],
    units: Table,
    clocks: Sequence[str] = (),
) -> Table:
    """The table `dates`; what the dates of fields leave open, others of `properties` may show.

    The table `units` may, too: who measures in feet has dates of a custom of their own. The lines
    `clocks` say in which zone all times are.
    """
    table = Table("[dates]")
    texts: dict[str, list[str]] = {}
    for one in filled:
        if FIELDS.get(one.path) in _DATED and all(map(dates.is_day, one.texts)) and one.texts:
            kind = "time" if all(map(dates.is_time, one.texts)) else "day"
            texts.setdefault(kind, []).extend(one.texts)
    all_forms: list[str] = []
    notes: list[Note] = []
    zoned = True
    halves: tuple[str, ...] = ()
    feet = any((line.key, line.value) == ("length", "ft") for line in units.lines)
    others = [text for of in properties.values() for text in of if dates.is_day(text)]
    for kind, some in texts.items():
        if form := dates.forms(some, foreign=found.naming.foreign, feet=feet, others=others):
            all_forms += [text for text in form.forms if text not in all_forms]
            how = FOUND if form.sure else (ASSUMED if len(form.forms) == 1 else UNTOLD)
            notes += [Note(how, form.why, some), *_noted(form.note)]
            zoned = zoned and (form.zoned or kind == "day")
            halves = halves or form.halves
    year = dates.year_of([text for some in texts.values() for text in some])
    stated = [text for one in filled if one.path == "test.started" for text in one.zones]
    behind = zones.forms(stated, year) if stated else None
    if behind is not None:
        all_forms = _zoned(all_forms, behind.behind)
        notes += _behind_notes(behind, stated)
        zoned = True
    if not all_forms:
        return table
    table.add("forms", all_forms, *notes)
    _half_lines(table, halves)
    names = dates.zone_names([text for some in texts.values() for text in some])
    for text, offset in (behind.offsets if behind is not None else {}).items():
        if text.isalpha():
            names.append(text)
        else:
            table.add(f"offsets.{bare(text)}", offset)
    _name_lines(table, names, year, clocks)
    if not zoned:
        keys = [key for one in filled if one.path == "test.started" for key in one.keys]
        beside = [of for key in keys for of in _ASIDE.findall(key)]
        _zone_line(table, stated or beside, year, clocks, _asides(texts))
    return table


def _noted(aside: str) -> Iterator[Note]:
    if aside:
        yield Note(ASSUMED, _NOTED, [aside])


def _asides(texts: Mapping[str, Sequence[str]]) -> list[str]:
    """Words in brackets behind times, each once."""
    found = (clock_notes.parted(text)[1].strip(" ()") for some in texts.values() for text in some)
    return list(dict.fromkeys(filter(None, found)))


def _zoned(forms: Sequence[str], behind: Sequence[str]) -> list[str]:
    """Forms of times with each of the texts that may stand behind them; days as they are."""
    timed = [form for form in forms if "hh" in form]
    kept = [form for form in forms if form not in timed]
    return [*(f"{form} {zone}" for form in timed for zone in behind), *kept]


def _behind_notes(behind: ZoneForms, stated: Sequence[str]) -> Iterator[Note]:
    yield Note(FOUND, "the zone of a time stands in a text of its own", stated)
    if behind.unseen:
        said = "what a clock that says so says in the other half of the year"
        yield Note(ASSUMED, said, behind.unseen)


_ASIDE = re.compile(r"\(([^()]+)\)")
"""What stands in a key behind its name: "Tested (UTC)"."""


def _half_lines(table: Table, words: Sequence[str]) -> None:
    """Words beside an hour up to twelve that are not known wait for a person."""
    if not words:
        return
    said = "which of these words stand for the half of the day before noon, and which for the other"
    said += "; until these lines say so, such times are kept as stated only"
    table.add("before_noon", words, Note(UNTOLD, said, words), asleep=True)
    table.add("after_noon", words, asleep=True)


def _told_of(name: str, clocks: Sequence[str]) -> str:
    """The line that says the offset of a short name: "SGT = UTC+08:00"; "" where none does."""
    word = re.compile(rf"(?<!\w){re.escape(name)}(?!\w)")
    return next((text for text in clocks if word.search(text) and zones.offset_in(text)), "")


def _name_lines(table: Table, names: Sequence[str], year: int, clocks: Sequence[str]) -> None:
    """The offsets of short names; one that may mean several waits for a person.

    A clock that says one of them says another one in the other half of the year, which tests of
    the same make may have.
    """
    for name in dict.fromkeys([*names, *_other_halves(names, year)]):
        if offset_of(name):
            continue  # it says its offset itself
        if told := _told_of(name, clocks):
            said = "the file says so"
            table.add(f"offsets.{bare(name)}", zones.offset_in(told), Note(FOUND, said, [told]))
            continue
        meant = zone_names.meanings(name, year)
        if len(meant) == 1:
            ((offset, places),) = meant.items()
            said = f"every zone whose clock says {name} is at {offset}: {listed(places, _SHOWN)}"
            table.add(f"offsets.{bare(name)}", offset, Note(FOUND, said))
            continue
        said = f"what {name} stands for; until this line says so, times are kept as stated only"
        if meant:
            said += f". It is {'; '.join(_each(name, year))}"
        offset = next(iter(meant), "+00:00")
        table.add(f"offsets.{bare(name)}", offset, Note(UNTOLD, said), asleep=True)


def _other_halves(names: Sequence[str], year: int) -> Iterator[str]:
    """What the clocks of short names of one meaning say in the other half of a year, if as sure."""
    for name in names:
        meant = zone_names.meanings(name, year)
        other = zone_names.other_half(name, next(iter(meant)), year) if len(meant) == 1 else ""
        if other and len(zone_names.meanings(other, year)) == 1:
            yield other


def _zone_line(
    table: Table,
    stated: Sequence[str],
    year: int,
    clocks: Sequence[str],
    aside: Sequence[str],
) -> None:
    """The zone of times that name none themselves."""
    if not stated and (zone := zones.of_clocks(clocks, year)):
        table.add("zone", zone, Note(FOUND, "a line of the file says so", clocks))
        return
    if only := zones.only_zone(stated, year):
        table.add("zone", only, Note(FOUND, "the file says so", stated))
        return
    note = (
        "the zone of the times, as Europe/Lisbon or +01:00: put in that of the tester's clock and "
        "take the mark off; without it they are kept with their offset unknown"
    )
    if said := [*clocks, *aside]:
        note += f". The file says {' and '.join(map(repr, said))}"
    stated = [text for text in stated if any(_each(text.strip(), year))]
    possible = [each for text in dict.fromkeys(stated) for each in _each(text.strip(), year)]
    if possible:
        note += f". The file says {' and '.join(dict.fromkeys(stated))}: {'; '.join(possible)}"
    table.add("zone", "Region/City", Note(UNTOLD, note), asleep=True)


def _each(name: str, year: int) -> Iterator[str]:
    """The offsets of a short name with zones of each, in words."""
    for offset, places in zone_names.meanings(name, year).items():
        yield f"{offset} in {listed(places, _SHOWN)}"
