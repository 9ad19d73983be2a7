"""Which columns of a table of single figures name its rows, and how."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field

from sweepbook.draft import ends_beside, phrases
from sweepbook.draft.absent_words import says
from sweepbook.draft.contacts_joined import is_contacts
from sweepbook.draft.document import one_of
from sweepbook.draft.figure_words import is_margin
from sweepbook.draft.naming import settle
from sweepbook.draft.numbers import is_frequency, is_numeric
from sweepbook.draft.paired_columns import Cells, are_units, pair_columns
from sweepbook.draft.parsed import Parsed
from sweepbook.draft.reading import Understood
from sweepbook.draft.trade_words import AT

UNIT = "{unit}"


@dataclass
class NamingColumns:
    """Columns that name rows.

    Attributes:
        names: their templates by title, as a dialect has them.
        told: their positions.
        with_subject: whether one of them says what is measured.
    """

    names: dict[str, object] = field(default_factory=dict)
    told: list[int] = field(default_factory=list)
    with_subject: bool = False


def naming_columns(
    titles: Sequence[str], columns: Sequence[Cells], found: Understood
) -> NamingColumns:
    """Find them; words for what they name, and for that there is none, go into `found`.

    Args:
        titles: of the columns.
        columns: their cells.
        found: what names are made of.
    """
    made = NamingColumns()
    subjects = [subject(row, found) for row in zip(*columns, strict=True)]
    of_pairs = pair_columns(titles, found)
    unit = next((at for at, column in enumerate(columns) if are_units(column)), None)
    for at, column in enumerate(columns):
        if at in of_pairs or at == unit:
            continue
        none = ends_beside.words(zip(column, subjects, strict=True), found.naming)
        found.numbers.lack(none)
        lacking = [text for text in dict.fromkeys(column) if not says(text) or text in none]
        said = [text for text in dict.fromkeys(column) if text not in lacking]
        parsed = _parsed(said, found)
        if not _name_rows(titles[at], said, parsed, found):
            continue
        for part in parsed:
            found.naming.take(part)
        found.numbers.lack(sorted(filter(None, lacking)))
        templates = list(dict.fromkeys(part.template for part in parsed))
        made.names[titles[at]] = one_of(ends_beside.with_blank(templates) if lacking else templates)
        made.told.append(at)
        made.with_subject = made.with_subject or any(part.parameter for part in parsed)
    if unit is not None and made.with_subject:  # so that no other unit is read as the one declared
        units = Counter(filter(None, columns[unit]))
        made.names[titles[unit]] = UNIT if all(columns[unit]) else [UNIT, ""]
        made.told.append(unit)
        for text, _ in units.most_common():
            found.naming.take_unit(text)
    return made


def _name_rows(
    title: str, said: Sequence[str], parsed: Sequence[Parsed], found: Understood
) -> bool:
    """Whether the texts of a column each say something of a name, and are no figures."""
    known = all(part.parameter or part.pairs or part.end for part in parsed)
    if not parsed or not known or found.naming.parse(title).parameter:
        return False
    are_parameters = all(part.parameter for part in parsed)
    if not are_parameters and (is_margin(title) or is_frequency(title) or phrases.whole(title, AT)):
        return False
    return all("{" in part.template for part in parsed) and not all(map(_is_decimal, said))


def _parsed(texts: Sequence[str], found: Understood) -> list[Parsed]:
    """Texts taken apart; where they name ends by other words than curves do, by these words."""
    parts = list(map(found.naming.parse, texts))
    if any(part.parameter or part.pairs or part.end for part in parts):
        return parts
    own = settle(texts)
    ended = list(map(own.parse, texts)) if own.ends else []
    return ended if ended and all(part.end for part in ended) else parts


def subject(row: Sequence[str], found: Understood) -> str | None:
    """What a row is of."""
    named = filter(None, (found.naming.parse(cell).parameter for cell in row))
    return next((meaning for _, meaning in named), None)


def _is_decimal(text: str) -> bool:
    """Whether a text is a number with decimals, and not the two contacts of a pair."""
    return is_numeric(text) and any(mark in text for mark in ".,") and not is_contacts(text)
