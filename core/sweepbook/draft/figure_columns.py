"""A table of single figures: a row a pair or a curve, and columns that say what they hold."""

from collections.abc import Mapping, Sequence
from itertools import combinations

from sweepbook.draft import link_rows, row_names
from sweepbook.draft.absent_words import says
from sweepbook.draft.document import Table, one_of
from sweepbook.draft.evidence import Evidence, keep_figure
from sweepbook.draft.figure_names import naming_columns, subject
from sweepbook.draft.figure_words import MARGIN_ROLE, is_at, role_of, together
from sweepbook.draft.headed_margins import margins_below
from sweepbook.draft.numbers import either
from sweepbook.draft.paired_columns import Cells, pair_columns, paired_tables
from sweepbook.draft.parsed import Parsed
from sweepbook.draft.reading import Understood, words_for_none

_LIMIT = "worst_margin.limit"
_ROUNDED = 0.15
"""So far at most is the difference of two rounded figures from the rounded difference."""


def figure_tables(
    titles: Sequence[str],
    rows: Sequence[Cells],
    evidence: Evidence,
    found: Understood,
    where: str,
    tests: Sequence[object] = (),
    heading: str = "",
) -> list[Table]:
    """The forms of a table all of whose rows hold figures; [] where nothing of it is known.

    Args:
        titles: of its columns.
        rows: its rows.
        evidence: takes the texts of verdicts.
        found: what names are made of.
        where: name of the dialect's table for the rows, e.g. "csv.sections.rows"; each form is the
            table "figures" in it.
        tests: what tells the test of each row from others; none where that is not known.
        heading: the line above the table, which may say what its columns do not.
    """
    columns = [[row[at] for row in rows] for at in range(len(titles))]
    naming = naming_columns(titles, columns, found)
    if not naming.told:
        return []
    rest = [at for at in range(len(titles)) if at not in naming.told]
    if of_link := link_rows.parted(titles, columns, naming, found):
        pairs = [row for at, row in enumerate(rows) if at not in of_link]
        tables = figure_tables(titles, pairs, evidence, found, where)
        some = [row for at, row in enumerate(rows) if at in of_link]
        return [*tables, *link_rows.tables(titles, some, evidence, found, where)]
    if naming.with_subject:
        named = zip(*columns, strict=True) if tests else ()
        subjects = list(zip(tests, (subject(row, found) for row in named), strict=True))
        headed = margins_below(heading, titles, columns, rest)
        tables = _by_titles(
            titles, columns, rest, evidence, found, naming.names, where, subjects, headed
        )
    else:
        tables = _by_templates(titles, columns, rest, evidence, found, naming.names, where)
    return [table for table in tables if table.lines]


def _by_templates(
    titles: Sequence[str],
    columns: Sequence[Cells],
    rest: Sequence[int],
    evidence: Evidence,
    found: Understood,
    names: dict[str, object],
    where: str,
) -> list[Table]:
    """Columns whose titles name the parameter: "Length ft"; where these differ, whole as words."""
    by_role: dict[str, list[tuple[int, Parsed]]] = {}
    for at in rest:
        part = found.naming.parse(titles[at])
        lacking = words_for_none(columns[at])
        said = [text for text in columns[at] if says(text) and text not in lacking]
        role = role_of(part.template, said)
        if part.parameter and role:
            by_role.setdefault(role, []).append((at, part))
            found.numbers.lack(lacking)
    tables = []
    for role, some in by_role.items():
        templates = list(dict.fromkeys(part.template for _, part in some))
        for at, part in some:
            found.naming.take(part)
            if part.parameter and len(templates) > 1:
                found.naming.spell(part.parameter[1], titles[at])
            if part.parameter and role == "value":
                said = [text for text in columns[at] if text not in found.numbers.missing]
                keep_figure(evidence, part.parameter[1], list(filter(says, said)))
        table = Table(f"[[{where}.figures]]")
        table.add("name", names)
        table.add(role, templates[0] if len(templates) == 1 else "{parameter}")
        tables.append(table)
    return tables


def _by_titles(
    titles: Sequence[str],
    columns: Sequence[Cells],
    rest: Sequence[int],
    evidence: Evidence,
    found: Understood,
    names: dict[str, object],
    where: str,
    subjects: Sequence[row_names.Subject],
    headed: int | None,
) -> list[Table]:
    """Columns whose titles are margin, frequency, verdict, value, and rows that name curves."""
    if paired := paired_tables(titles, columns, rest, evidence, found, names, where):
        return paired
    table = Table(f"[[{where}.figures]]")
    of_pairs = pair_columns(titles, found)  # one of these is no figure of all of them
    roles = _roles(titles, columns, [at for at in rest if at not in of_pairs], headed)
    if ends := _by_end(titles, columns, rest, found):
        return [_of_ends(table, names, ends, columns, evidence)]
    names = row_names.as_one_name(names, titles, columns, found)
    names, second = row_names.of_worst_cases(names)
    parted = row_names.parted(names, [] if second else roles, subjects, _rows(roles, columns))
    names, second = parted.names, second or parted.judged
    apart = Table(f"[[{where}.figures]]")
    for role, at in roles.items():
        is_apart = role == "verdict" if parted.judged else role.startswith("worst_value")
        into, told = (apart, second) if second and is_apart else (table, names)
        if not into.lines:
            into.add("name", told)
        into.add(role, titles[at])
        if role.endswith("frequency"):
            evidence.figure_axes.append(titles[at])
        if role == "verdict":
            evidence.verdicts += columns[at]
        if role == _LIMIT:
            _keep_limits(columns, at, evidence, found)
    for role, title in parted.beside.items():
        table.add(role, title)
    return [of for of in (table, apart) if of.lines]


def _keep_limits(columns: Sequence[Cells], at: int, evidence: Evidence, found: Understood) -> None:
    """Keep stated limits by what their rows are of, since the sign of curves may not be theirs."""
    for row in zip(*columns, strict=True):
        if (parameter := subject(row, found)) and says(row[at]):
            evidence.limits.setdefault(parameter, []).append(row[at])


def _rows(roles: Mapping[str, int], columns: Sequence[Cells]) -> list[set[str]]:
    """Which roles the cells of each row fill."""
    count = len(columns[0]) if columns else 0
    return [{of for of, at in roles.items() if says(columns[at][row])} for row in range(count)]


def _by_end(
    titles: Sequence[str], columns: Sequence[Cells], rest: Sequence[int], found: Understood
) -> dict[str, list[tuple[int, str]]]:
    """Columns by role with their templates, where each end has columns of its own; else nothing."""
    parts = {at: found.naming.parse(titles[at]) for at in rest}
    ended = [at for at, part in parts.items() if part.end and not part.parameter]
    if len(ended) < len(rest) or len({parts[at].template for at in ended}) == len(ended):
        return {}
    roles: dict[str, list[tuple[int, str]]] = {}
    for end in dict.fromkeys(part.end for part in parts.values()):
        some = [at for at in ended if parts[at].end == end]
        for role, at in _roles(titles, columns, some).items():
            roles.setdefault(role, []).append((at, parts[at].template))
    for at in ended:
        found.naming.take(parts[at])
    return roles


def _of_ends(
    table: Table,
    names: dict[str, object],
    roles: dict[str, list[tuple[int, str]]],
    columns: Sequence[Cells],
    evidence: Evidence,
) -> Table:
    """The form of a table in which each end has columns of its own."""
    table.add("name", names)
    for role, some in roles.items():
        table.add(role, one_of(list(dict.fromkeys(template for _, template in some))))
        if role == "verdict":
            evidence.verdicts += [text for at, _ in some for text in columns[at] if text]
    return table


def _roles(
    titles: Sequence[str], columns: Sequence[Cells], rest: Sequence[int], headed: int | None = None
) -> dict[str, int]:
    """The columns by what they hold; one on rows without a margin is of figures without a sweep."""
    margin = _difference(columns, [at for at in rest if not is_at(titles[at])])
    margin = headed if margin is None else margin
    shown = {} if margin is None else {MARGIN_ROLE: margin}
    return together({at: (titles[at], columns[at]) for at in rest}, shown)


def _difference(columns: Sequence[Cells], among: Sequence[int]) -> int | None:
    """The column that is the difference of two others in every row, so that it holds margins."""
    numbers = {at: [either(text) for text in columns[at]] for at in among}
    numbers = {at: some for at, some in numbers.items() if None not in some}
    for at, some in numbers.items():
        others = [of for other, of in numbers.items() if other != at]
        for one, two in combinations(others, 2):
            rows = zip(some, one, two, strict=True)
            if len(some) > 1 and all(
                abs(abs(m or 0.0) - abs((a or 0.0) - (b or 0.0))) < _ROUNDED for m, a, b in rows
            ):
                return at
    return None
