"""Lines that would be the titles of a table but for a cell or two."""

import re
from collections.abc import Iterable, Sequence
from difflib import get_close_matches

from sweepbook.dialect.units import UNITS, spellings_of
from sweepbook_plugins.csv.axes import frequency_of
from sweepbook_plugins.csv.forms import (
    FREQUENCY,
    CurvesForm,
    Layout,
    RowsForm,
    Section,
    Titles,
)
from sweepbook_plugins.csv.grid import begins_number
from sweepbook_plugins.csv.names import LISTED, Names

_MOST_OTHERS = 2
"""So many titles of a line may be others than those of a table."""
_ALIKE = 0.6
_LEAST_TITLES = 3
"""Titles that a line must have to be taken for a line of titles that lacks one."""
_SPELLINGS = sorted({of for some in UNITS for of in spellings_of(some)}, key=len, reverse=True)
_FREQUENCIES = frozenset(spellings_of("frequency"))
_UNIT = re.compile(rf"(?<![^\W_])(?:{'|'.join(map(re.escape, _SPELLINGS))})(?![^\W_])")


def in_words(titles: Titles) -> str:
    """Titles of which one must be there."""
    return " or ".join(map(repr, titles))


def alike(titles: Titles, cells: Sequence[str]) -> str:
    """What a line has that is most like one of some titles, in words; "" for nothing."""
    for title in titles:
        if close := get_close_matches(title, [cell for cell in cells if cell != title], 1, _ALIKE):
            return f" has {close[0]!r}"
    return ""


def in_another_unit(cells: Sequence[str], layout: Layout) -> str:
    """What to say of a line whose titles, or units below them, are declared in another unit.

    Args:
        cells: of the line, stripped.
        layout: what the dialect says of the lines.

    Returns:
        "" for any other line.
    """
    for section in layout.sections:
        if said := _in_other_units(section, cells[0]):
            return said
        for title in sorted(section.form.titles) if section.form else ():
            bare = _UNIT.sub("", title)
            for cell in cells if bare != title else ():
                if cell != title and _UNIT.sub("", cell) == bare:
                    return (
                        f"{cell!r} is the declared title {title!r} in another unit, so that the "
                        "lines below are no rows of that table; if the export is right, it takes "
                        f"a dialect of its own with this unit in {section.where} and in units"
                    )
    return ""


def other_frequencies(cells: Sequence[str], section: Section, names: Names) -> str:
    """What to say of a line that has all titles of curves in rows, but none that is a frequency.

    Args:
        cells: of the line, stripped, and of those where its titles begin.
        section: whose table may stand there.
        names: the look-ups of the dialect.

    Returns:
        "" for any other line.
    """
    curve = section.form.curve if isinstance(section.form, RowsForm) else None
    forms = [of for of in curve.values if FREQUENCY in of] if curve else []
    if curve is None or not forms or not section.titles <= {*cells}:
        return ""
    notation = names.meaning.numbers.notation
    if any(frequency_of(cell, curve, notation) is not None for cell in cells):
        return ""
    instead = next((cell for cell in cells if begins_number(cell)), "")
    key = f"{section.where}.rows.curve.values"
    return (
        f"has the titles of {section.where}.rows, but none of the form {in_words(tuple(forms))}"
        f"{instead and f', where it has {instead!r}'}, so that its frequencies may be in another "
        f"unit; if the export is right, it takes a dialect of its own with this unit in {key} and "
        "in units"
    )


def _in_other_units(section: Section, first: str) -> str:
    """What to say of a row of units whose first is one of frequency, and another is declared."""
    form = section.form
    declared = form.other_rows & _FREQUENCIES if isinstance(form, CurvesForm) else frozenset()
    if first not in _FREQUENCIES or not declared:
        return ""
    return (
        f"{first!r} stands where {section.where}.curves.other_rows has {min(declared)!r}, so that "
        "the frequencies below are in another unit; if the export is right, it takes a dialect of "
        "its own with this unit there and in units"
    )


def almost_titles(cells: Sequence[str], layout: Layout, names: Names) -> str:
    """What to say of a line that has most titles of a table and is none; "" for any other."""
    for section in layout.sections:
        if section.form is None or section.columns:
            continue
        wanted = sorted([*((title,) for title in section.form.titles), *section.form.choices])
        lacks = [titles for titles in wanted if not names.held(titles, cells)]
        if lacks and len(wanted) - len(lacks) >= max(_LEAST_TITLES, len(lacks)):
            near = alike(lacks[0], cells)
            said = ", ".join(map(in_words, lacks[:LISTED]))
            form = "curves" if isinstance(section.form, CurvesForm) else "rows"
            return (
                f"{cells[0]!r} and {len(cells) - 1} more cells would be the titles of a table, but "
                f"lack {said}{near and f', and the line{near}'}; so the lines below are no rows; "
                f"see {section.where}.{form}, or mend the export if it is wrong"
            )
    return ""


def other_titles(
    cells: Sequence[str], number: int, sections: Iterable[Section], names: Names
) -> str:
    """What to say of a line that has all titles of a table, but one or two otherwise.

    Args:
        cells: of the line, stripped.
        number: its number.
        sections: whose tables may stand there.
        names: the look-ups of the dialect.

    Returns:
        "" for any other line.
    """
    for section in sections:
        others = _others(cells, section, names)
        if not others:
            continue
        said = " and ".join(f"{cell!r} where {title!r} is declared" for cell, title in others)
        unit = ""
        if any(_UNIT.sub("", cell) == _UNIT.sub("", title) for cell, title in others):
            unit = "; its numbers are then in another unit, see units"
        form = "curves" if isinstance(section.form, CurvesForm) else "rows"
        return (
            f"line {number} has {said}; if the export is right, see {section.where}.{form}{unit}; "
            "if not, it has to be exported again or mended"
        )
    return ""


def _others(cells: Sequence[str], section: Section, names: Names) -> list[tuple[str, str]]:
    """Cells that stand for titles of a table, each with the title; [] for any other line."""
    form = section.form
    if form is None or section.columns:
        return []
    wanted = [*((title,) for title in sorted(form.titles)), *form.choices]
    lacking = [titles for titles in wanted if not names.held(titles, cells)]
    known = len(wanted) - len(lacking)
    if isinstance(form, CurvesForm):
        known += len(names.held(form.name, cells))
    if not 0 < len(lacking) <= min(_MOST_OTHERS, known):
        return []
    free = [cell for cell in cells if not any(names.held(titles, [cell]) for titles in wanted)]
    found = [
        (near[0], title)
        for titles in lacking
        for title in titles
        if (near := get_close_matches(title, free, 1, _ALIKE))
    ]
    told = dict(found[::-1])
    return list(told.items()) if len(told) == len(lacking) else []
