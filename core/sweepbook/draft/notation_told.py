"""Units, signs and numbers of an export."""

from collections.abc import Sequence

from sweepbook.dialect.units import unit_of
from sweepbook.draft import curve_facts, numbers
from sweepbook.draft.document import ASSUMED, FOUND, UNSETTLED, Note, Table, one_of
from sweepbook.draft.evidence import Evidence
from sweepbook.draft.field_times import Filled
from sweepbook.draft.frequency_unit import frequency_unit
from sweepbook.draft.reading import Understood
from sweepbook.draft.single_units import nvp_line, spellings_line, unit_lines

_OTHER = "named beside the frequencies of stated figures, which count otherwise than curves"


def units_table(evidence: Evidence, found: Understood, filled: Sequence[Filled]) -> Table:
    """The table `units`."""
    table = Table("[units]")
    ends = [of.frequency[-1] for of in found.curves if len(of.frequency) > 1]  # one ends no sweep
    highest = max(ends, default=None)
    unit, note = frequency_unit(evidence, highest)
    if note:
        table.add("frequency", unit, note)
    if found.loss.note:
        table.add("loss", found.loss.name, found.loss.note)
    if other := _of_figures(evidence, found, unit if note else ""):
        table.add("figures", {"frequency": other}, Note(FOUND, _OTHER, [other]))
    if unit == UNSETTLED and highest:
        unit = numbers.units_possible(highest)[0]
    mhz = unit_of("frequency", unit).times
    figures = _numbers_of(evidence, found)
    unit_lines(table, evidence.legend.units, found.naming.units, figures, found.curves, mhz)
    spellings_line(table, found.naming.units)
    nvp_line(table, filled, found.numbers.value)
    return table


def _of_figures(evidence: Evidence, found: Understood, unit: str) -> str:
    """The unit of the frequencies of figures, where it is named and not that of curves; else ""."""
    keys = (
        key
        for role, templates in found.figures.items()
        if role.endswith("frequency")
        for some in templates.values()
        for key in some
    )
    named = {numbers.unit_named(text) for text in (*evidence.figure_axes, *keys)}
    told = next(iter(named)) if len(named) == 1 else None
    return told if told and unit and told != unit else ""


def _numbers_of(evidence: Evidence, found: Understood) -> dict[str, list[float]]:
    """Single figures as numbers, by parameter."""
    return {
        parameter: [value for text in texts if (value := found.numbers.value(text)) is not None]
        for parameter, texts in evidence.figures.items()
    }


def signs_table(evidence: Evidence, found: Understood) -> Table:
    """The table `signs`."""
    table = Table("[signs]")
    turned = curve_facts.negative(found.curves)
    if turned:
        samples = [text for texts in turned.values() for text in texts[:1]]
        note = "at the lowest frequencies, where every loss and every ratio is far above 0 dB"
        table.add("negative", list(turned), Note(FOUND, note, samples))
        limits = [text for of in turned for text in evidence.limits.get(of, ())]
        values = [value for text in limits if (value := found.numbers.value(text)) is not None]
        if values and min(values) > 0.0:
            said = "limits are stated without the minus sign that these curves have"
            table.add("limits", "positive", Note(FOUND, said, limits))
    return table


def numbers_table(found: Understood) -> Table:
    """The table `numbers`."""
    table, notes = Table("[numbers]"), found.numbers
    if notes.notation.decimal != "." or not notes.sure:
        how = Note(FOUND, "from the digits", notes.samples)
        if not notes.sure:
            how = Note(ASSUMED, "no number with a decimal mark was seen")
        table.add("decimal", notes.notation.decimal, how)
    if notes.notation.thousands:
        table.add("thousands", notes.notation.thousands, Note(FOUND, "between groups of three"))
    if notes.missing:
        note = Note(ASSUMED, "these texts stand for no value, pair or end", notes.missing)
        table.add("missing", notes.missing, note)
    for key, forms in (("at_least", notes.at_least), ("at_most", notes.at_most)):
        if forms:
            table.add(key, one_of(forms), Note(FOUND, "clipped values", notes.clipped))
    return table
