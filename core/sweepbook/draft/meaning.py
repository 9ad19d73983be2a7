"""The core half of a draft: fields, figures, words, crosstalk, units, signs, numbers, dates."""

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from sweepbook.draft import cells_told, fields, notation_told, phrases, wires_told
from sweepbook.draft.absent_words import NOT_MEASURED
from sweepbook.draft.assumed_fields import assumed
from sweepbook.draft.assumed_instruments import of_testers
from sweepbook.draft.crosstalk_told import crosstalk_table
from sweepbook.draft.dates_told import dates_table
from sweepbook.draft.document import (
    ASSUMED,
    FOUND,
    PARAMETER,
    UNSETTLED,
    UNTOLD,
    Note,
    Table,
    one_of,
)
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.field_times import Filled
from sweepbook.draft.limit_names import limit_table
from sweepbook.draft.reading import Understood, take_figure
from sweepbook.draft.wire_texts import Wires
from sweepbook.draft.wires_judged import judged
from sweepbook.draft.words_told import word_tables

if TYPE_CHECKING:
    from sweepbook.limits.library import Library


def tables(evidence: Evidence, found: Understood, library: "Library") -> list[Table]:
    """Every table of the core half that there is anything to say in."""
    free = {
        key: texts for key, texts in evidence.properties.items() if key not in found.figure_keys
    }
    wires = wires_told.find(free, found.naming.ends, evidence.delimiter)
    name, verdicts = judged(free, wires, evidence, found.naming.ends)
    _take_verdicts(name, verdicts, free, evidence, found)
    rest = {
        key: some
        for key, some in free.items()
        if key not in found.figure_keys and not _holds_wires(key, wires)
    }
    filled = fields.guess(rest, found.naming.ends, evidence.tests, evidence.joins, evidence.own)
    filled = [*filled, *of_testers(rest, filled)]
    filled = fields.in_order([*filled, *assumed(rest, filled)])
    found.numbers.lack(_absent(filled))
    words = word_tables(evidence, found, filled)
    units = notation_told.units_table(evidence, found, filled)
    told = {line.value for table in words if table.name == "[wiring]" for line in table.lines}
    nowhere = [key for key in rest if key not in told and not _is_figure(key, found)]
    return [
        *cells_told.tables(evidence.several),
        _fields(nowhere, filled, wires),
        _within([*filled, *(wires.filled if wires else ())]),
        _figures(found),
        *words,
        crosstalk_table(found),
        units,
        notation_told.signs_table(evidence, found),
        notation_told.numbers_table(found),
        dates_table(filled, found, evidence.properties, units, evidence.legend.clocks),
        wires_told.wire_table(wires),
        limit_table(filled, library),
    ]


def _absent(filled: Sequence[Filled]) -> Iterator[str]:
    """Texts of fields about the link and who tested it how that say that nothing is known."""
    for one in filled:
        if one.path.startswith(("link.", "test.")):
            yield from (text for text in one.texts if phrases.whole(text, NOT_MEASURED))


def _take_verdicts(
    name: str,
    keys: Sequence[str],
    free: Mapping[str, Sequence[str]],
    evidence: Evidence,
    found: Understood,
) -> None:
    """Keep the verdict of the wire map, by a form that is there if one takes it.

    Args:
        name: what the wire map is called in its keys, or "".
        keys: of its verdict.
        free: texts by key.
        evidence: takes the texts that a form takes already.
        found: takes the name, and what else becomes of the keys.
    """
    if name:
        found.naming.unknown[name] = "wire_map"
    for key in keys:
        steps = (PARAMETER if step.rpartition(":")[2] == name else step for step in key.split("/"))
        if "/".join(steps) in evidence.taken:
            found.naming.spell("wire_map", name)
            found.figure_keys.add(key)
            evidence.verdicts += free[key]
        elif take_figure(key, free[key], found) is None and key.endswith(name):
            template = f"{key.removesuffix(name)}{PARAMETER}"
            if not any(_names_a_parameter(of, template, found) for of in free):
                found.naming.spell("wire_map", name)
                found.figures.setdefault("verdict", {}).setdefault(template, []).append(key)
                found.figure_keys.add(key)


def _names_a_parameter(key: str, template: str, found: Understood) -> bool:
    """Whether a key is a word for a parameter with what a template has around it."""
    before = template.removesuffix(PARAMETER)
    words = [word for some in found.naming.parameters.values() for word in some]
    return key.startswith(before) and key.removeprefix(before) in words


def _is_figure(key: str, found: Understood) -> bool:
    """Whether a template of a figure reads a key, though others were worked out from."""
    part = found.naming.parse(key)
    return bool(part.parameter) and any(part.template in of for of in found.figures.values())


def _fields(free: Sequence[str], filled: Sequence[Filled], wires: Wires | None) -> Table:
    """The table `fields`, and which of the keys that nothing else takes have none."""
    table = Table("[fields]")
    if not any(one.path == "link.label" for one in filled):
        note = Note(UNTOLD, "no key is known to hold the label; name the one that does", list(free))
        table.add("link.label", UNSETTLED, note)
    for one in filled:
        how = Note(FOUND, "", one.texts)
        if one.why:
            how = Note(UNTOLD if one.asleep else ASSUMED, one.why, one.texts)
        elif one.by_text:
            how = Note(ASSUMED, "by its texts, not by its key", one.texts)
        elif one.path == "link.label":
            how = Note(ASSUMED, "the key reads as that of the label", one.texts)
        table.add(one.path, one_of(one.keys), how, asleep=one.asleep)
    for one in wires.filled if wires else ():
        said = wires.said if wires else ""
        asleep = wires is not None and wires.asleep
        how = Note(UNTOLD if asleep else ASSUMED if said else FOUND, said, one.texts)
        table.add(one.path, one_of(one.keys), how, asleep=asleep)
    used = {key for one in filled if not one.asleep for key in one.keys}
    table.left = [key for key in free if key not in used]
    return table


def _holds_wires(key: str, wires: Wires | None) -> bool:
    return wires is not None and not wires.asleep and key in wires.used


def _within(filled: Sequence[Filled]) -> Table:
    """The forms of texts of which only a part fills a field."""
    table = Table("[within]")
    for one in filled:
        if one.within:
            table.add(one.path, one.within, Note(FOUND, "its text says what it is besides"))
    return table


def _figures(found: Understood) -> Table:
    table = Table("[figures]")
    for role, templates in found.figures.items():
        keys = [key for some in templates.values() for key in some]
        table.add(role, one_of(list(templates)), Note(FOUND, "", keys))
    return table
