"""Tables of single figures with two columns of pairs: of one name, or of two worst cases."""

from collections.abc import Sequence

from sweepbook.dialect.parameters import parameters
from sweepbook.draft.document import one_of
from sweepbook.draft.reading import Understood

Names = dict[str, object]
"""Templates by the title of a column."""

_PAIRS, _FIRST, _SECOND = "{pairs}", "{first_pair}", "{second_pair}"


def of_worst_cases(names: Names) -> tuple[Names, Names]:
    """The columns that name a worst margin, and those of a worst value with pairs of its own.

    Such a table has two columns of pairs, of which the second stands beside the value.
    """
    paired = _paired(names)
    if len(paired) != 2:
        return names, {}
    first, second = paired
    return (
        {title: of for title, of in names.items() if title != second},
        {title: of for title, of in names.items() if title != first},
    )


def as_one_name(
    names: Names, titles: Sequence[str], columns: Sequence[Sequence[str]], found: Understood
) -> Names:
    """The columns with those of first and second pair called so, where both name one curve.

    They do where each row has as many pairs in both together as its parameter needs, and two in
    some row. Otherwise the columns as they are.

    Args:
        names: templates by title, of the columns that name a row.
        titles: of all columns.
        columns: their cells.
        found: what names are made of.
    """
    paired = _paired(names)
    if len(paired) != 2:
        return names
    at = [list(titles).index(title) for title in paired]
    counts = set()
    for row in zip(*columns, strict=True):
        told = [len(found.naming.parse(row[one]).pairs) for one in at]
        words = filter(None, (found.naming.parse(cell).parameter for cell in row))
        word = next((meaning for _, meaning in words), None)
        if word is None or max(told) > 1 or sum(told) not in parameters()[word].pairs:
            return names
        counts.add(sum(told))
    if max(counts, default=0) < 2:
        return names
    first, second = (templates_of(names[title]) for title in paired)
    both = [of.replace(_PAIRS, _FIRST) for of in first]
    second = list(dict.fromkeys(of.replace(_PAIRS, _SECOND) for of in second))
    alone = first if min(counts) < 2 else []
    return names | {
        paired[0]: one_of(list(dict.fromkeys([*alone, *both]))),
        paired[1]: one_of(second),
    }


def _paired(names: Names) -> list[str]:
    return [title for title, of in names.items() if _PAIRS in str(of)]


def templates_of(of: object) -> list[str]:
    """The templates of a column, be it one or several."""
    return list(map(str, of)) if isinstance(of, list | tuple) else [str(of)]
