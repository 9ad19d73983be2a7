"""Tables of single figures with a row a parameter and a column a pair."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from sweepbook.dialect.parameters import parameters
from sweepbook.draft import phrases
from sweepbook.draft.absent_words import NOT_MEASURED
from sweepbook.draft.document import ASSUMED, FOUND, PARAMETER, Note, Table, one_of
from sweepbook.draft.evidence import Evidence, keep_figure
from sweepbook.draft.fields import verdict_of
from sweepbook.draft.numbers import is_numeric
from sweepbook.draft.reading import Understood
from sweepbook.draft.trade_words import LIMIT, VERDICT_KEYS
from sweepbook_plugins.csv.draft.text import Cells

_LEAST_PAIRS = 2


class _Kind(NamedTuple):
    """Rows that have figures alike: of each pair, or one of the whole link.

    Attributes:
        texts: what they begin with.
        columns: titles of the columns with their figures.
        whole: whether they are of the whole link.
    """

    texts: list[str]
    columns: list[str]
    whole: bool


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
    numeric = all(_is_figure(text) for at in pairs for text in columns[at])
    if len(pairs) < _LEAST_PAIRS or not numeric or None in beside.values() or subject is None:
        return []
    for at in pairs:
        found.naming.take(parts[at], found.naming.together([parts[at]]))
    kinds = _kinds(titles, columns, pairs, subject, evidence, found)
    verdict = [at for at, role in beside.items() if role == "verdict"]
    evidence.verdicts += [text for at in verdict for text in columns[at] if text]
    templates = list(dict.fromkeys(parts[at].template for at in pairs))
    tables = []
    if len(kinds) > 1:
        text = "rows with one figure of the whole link stand among those with one for each pair"
        tables.append(Table(f"[{where}]"))
        tables[0].add("kind", subject, Note(FOUND, text))
    for kind in kinds:
        form = Table(f"[[{where}.figures]]")
        if len(kinds) > 1:
            form.add("kind", one_of(kind.texts))
        form.add("name", dict(names))
        note = Note(ASSUMED, "one figure, so of the whole link and not of that pair", kind.texts)
        form.add("value", one_of(kind.columns if kind.whole else templates), *[note] * kind.whole)
        if verdict:
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
    for row, text in enumerate(columns[list(titles).index(subject)]):
        filled = {at: None for at in pairs if columns[at][row]}
        named = found.naming.parse(text).parameter
        keep_figure(evidence, named and named[1], [columns[at][row] for at in filled])
        if filled:
            rows.setdefault(text, {}).update(filled)
    kinds = {whole: _Kind([], [], whole) for whole in (False, True)}
    for text, filled in rows.items():
        named = found.naming.parse(text).parameter
        whole = named is not None and 0 in parameters()[named[1]].pairs and len(filled) == 1
        kinds[whole].texts.append(text)
        held = kinds[whole].columns
        held += [titles[at] for at in filled if titles[at] not in held]
    return [kind for kind in kinds.values() if kind.texts]


def _is_figure(text: str) -> bool:
    lacking = phrases.whole(text, NOT_MEASURED) or not any(map(str.isalnum, text))
    return lacking or is_numeric(text)


def _role(title: str, column: Sequence[str]) -> str | None:
    """What a column beside those of the pairs holds: verdicts or a limit; None for others."""
    filled = [text for text in column if text]
    if phrases.find(title, {"": LIMIT}) and all(map(_is_figure, filled)):
        return "limit"
    told = phrases.find(title, {"": VERDICT_KEYS}) or any(map(verdict_of, filled))
    return "verdict" if told and not all(map(is_numeric, filled)) else None
