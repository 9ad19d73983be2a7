"""Tables of single figures with a row a parameter and a column a pair."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from sweepbook.dialect.parameters import parameters
from sweepbook.draft.absent_words import says
from sweepbook.draft.document import ASSUMED, FOUND, PARAMETER, Note, Table, one_of
from sweepbook.draft.evidence import Evidence, keep_figure
from sweepbook.draft.figure_words import OF_MARGIN, role_of
from sweepbook.draft.numbers import is_numeric
from sweepbook.draft.parsed import UNIT_WORDS
from sweepbook.draft.reading import Understood
from sweepbook.draft.verdicts import verdict_of

Cells = list[str]
_LEAST_PAIRS = 2
TOLD_BY_TITLES = 3
"""So many pairs in titles are those of figures; two may be the columns of a first and a second."""


class _Kind(NamedTuple):
    """Rows that have figures alike: of each pair, or one of the whole link.

    Attributes:
        role: what their figures are.
        texts: what they begin with.
        columns: titles of the columns with their figures.
        whole: whether they are of the whole link.
    """

    role: str
    texts: list[str]
    columns: list[str]
    whole: bool


def pair_columns(titles: Sequence[str], found: Understood) -> set[int]:
    """The columns with figures of a pair each, which their titles name."""
    parts = {at: found.naming.parse(title) for at, title in enumerate(titles)}
    paired = {at for at, of in parts.items() if len(of.pairs) == 1 and not of.parameter}
    told = {pair for at in paired for _, pair in parts[at].pairs}
    return paired if len(told) >= TOLD_BY_TITLES else set()


def paired_tables(
    titles: Sequence[str],
    columns: Sequence[Cells],
    rest: Sequence[int],
    evidence: Evidence,
    found: Understood,
    names: Mapping[str, object],
    where: str,
) -> list[Table]:
    """The forms of such a table; [] where it is another.

    A figure of the whole link stands in one of the columns all the same. Such rows have a form of
    their own, which names that column as it is, so that no pair is told of them.

    Args:
        titles: of the columns.
        columns: their cells.
        rest: positions of the columns that name no row.
        evidence: takes figures and verdicts.
        found: what names are made of.
        names: the columns that name a row, with their templates.
        where: name of the table, e.g. "csv.sections.rows".
    """
    parts = {at: found.naming.parse(titles[at]) for at in rest}
    pairs = [at for at in rest if len(parts[at].pairs) == 1 and not parts[at].parameter]
    beside = {at: _role(titles[at], columns[at]) for at in rest if at not in pairs}
    subject = next((title for title, of in names.items() if PARAMETER in str(of)), None)
    lacking = _gap([text for at in pairs for text in columns[at]])
    if len(pairs) < _LEAST_PAIRS or lacking is None or None in beside.values() or subject is None:
        return []
    found.numbers.lack(lacking)
    names = {**names, **_units(titles, columns, beside, found)}
    for at in pairs:
        found.naming.take(parts[at])
    kinds = _kinds(titles, columns, pairs, subject, evidence, found)
    verdict = [at for at, role in beside.items() if role == "verdict"]
    evidence.verdicts += [text for at in verdict for text in columns[at] if text]
    templates = list(dict.fromkeys(parts[at].template for at in pairs))
    tables = []
    if len(kinds) > 1:
        text = "figures of the whole link, or of other kinds, stand among those of each pair"
        tables.append(Table(f"[{where}]"))
        tables[0].add("kind", subject, Note(FOUND, text))
    for kind in kinds:
        form = Table(f"[[{where}.figures]]")
        if len(kinds) > 1:
            form.add("kind", one_of(kind.texts))
        form.add("name", dict(names))
        note = Note(ASSUMED, "one figure, so of the whole link and not of that pair", kind.texts)
        held = one_of(kind.columns if kind.whole else templates)
        form.add(kind.role, held, *[note] * kind.whole)
        tables.append(form)
        if verdict:  # it is of all pairs, and only a form of its own may do without them
            form = Table(form.name, [line for line in form.lines if line.key in ("kind", "name")])
            form.add("verdict", titles[verdict[0]])
            tables.append(form)
    return tables


def _kinds(
    titles: Sequence[str],
    columns: Sequence[Cells],
    pairs: Sequence[int],
    subject: str,
    evidence: Evidence,
    found: Understood,
) -> list[_Kind]:
    """The kinds of rows, those of pairs first."""
    rows: dict[str, dict[int, None]] = {}
    roles: dict[str, str | None] = {}
    for row, text in enumerate(columns[list(titles).index(subject)]):
        filled = {at: None for at in pairs if columns[at][row]}
        part = found.naming.parse(text)
        roles[text] = role_of(part.template, ["0"])
        if roles[text] == "value":
            figures = [columns[at][row] for at in filled]
            keep_figure(evidence, part.parameter and part.parameter[1], figures)
        if filled:
            rows.setdefault(text, {}).update(filled)
    kinds: dict[tuple[str, bool], _Kind] = {}
    for text, filled in rows.items():
        named, role = found.naming.parse(text).parameter, roles[text]
        if role is None or role.endswith("frequency"):
            continue
        whole = named is not None and 0 in parameters()[named[1]].pairs and len(filled) == 1
        kind = kinds.setdefault((role, whole), _Kind(role, [], [], whole))
        kind.texts.append(text)
        held = kind.columns
        held += [titles[at] for at in filled if titles[at] not in held]
    return sorted(kinds.values(), key=lambda kind: (kind.whole, kind.role != "value"))


def _units(
    titles: Sequence[str],
    columns: Sequence[Cells],
    beside: Mapping[int, str | None],
    found: Understood,
) -> dict[str, object]:
    """The column of the units of rows, if there is one, with its template."""
    for at, role in beside.items():
        if role == "unit":
            for text in columns[at]:
                found.naming.take_unit(text)
            return {titles[at]: "{unit}" if all(columns[at]) else ["{unit}", ""]}
    return {}


def _is_figure(text: str) -> bool:
    return not says(text) or is_numeric(text)


def _gap(texts: Sequence[str]) -> list[str] | None:
    """The one word, of no language that is known, that stands for no figure; None for several."""
    others = [text for text in texts if not _is_figure(text)]
    words = list(dict.fromkeys(others))
    rare = len(others) * 2 < len(texts) and not any(map(verdict_of, words))
    return words if len(words) < 2 and rare else None


def are_units(column: Sequence[str]) -> bool:
    """Whether a column holds the unit of each row that has one."""
    filled = [text for text in column if text]
    return bool(filled) and all(text in UNIT_WORDS for text in filled)


def _role(title: str, column: Sequence[str]) -> str | None:
    """What a column beside those of the pairs holds: verdicts, a limit, units; None for others."""
    if are_units(column):
        return "unit"
    role = role_of(title, column, OF_MARGIN)
    return role if role in ("verdict", f"{OF_MARGIN}.limit") else None
