"""Rows whose cells are called, each by a name that elements beside the rows say the title of."""

from collections import Counter
from collections.abc import Callable, Collection, Mapping, Sequence
from typing import TYPE_CHECKING

from sweepbook.dialect.raw import Fault
from sweepbook_plugins.xml import table as xml_table
from sweepbook_plugins.xml.found import listed
from sweepbook_plugins.xml.layout import Called, Held, TableForm, TitlesForm
from sweepbook_plugins.xml.paths import Condition, Names, Path, Step, parse
from sweepbook_plugins.xml.table import Columns, Rows
from sweepbook_plugins.xml.titles import fault, titles_of
from sweepbook_plugins.xml.tree import every, text_at

if TYPE_CHECKING:
    from lxml.etree import _Element

_NO_AXIS = "no column has the title {0!r}, as that of the frequencies is called, among {1}; see {2}"


def read(
    table: "_Element",
    path: Path,
    titles: TitlesForm,
    called: Called,
    ignored: Collection[Path],
    place: Callable[[], str],
) -> Rows:
    """The rows in an element; there may be none.

    A row may lack a cell. What it holds besides comes as a column under its own path, since it may
    be one that no title was written for.

    Args:
        table: the element.
        path: of its rows.
        titles: how their columns are titled.
        called: how cells are found by the names that their columns have there.
        ignored: paths from a row of what means nothing.
        place: where the element stands, for messages.

    Raises:
        Fault: a column has no title, or no name for its cells; two have the same, or a row holds a
            cell twice.
    """
    rows, made = every(table, path), titles_of(table, titles)
    if not rows or not made:
        return Rows((), {}, lambda position: 0)
    names = [(text_at(one, called.name) or "").strip() for one in every(table, titles.path)]
    if wrong := fault(made, titles) or _no_names(names, titles):
        raise Fault(place(), wrong)
    title_of = dict(zip(names, made, strict=True))
    at = {_path(called, name, titles, place): name for name in names}
    known = set(map(_key, [*at, *ignored, *([titles.axis] if titles.axis else [])]))
    for other in _all_in(rows, next(iter(at)), titles.names):
        if _key(other) not in known:
            at[other] = _shown(other, titles.names)
            title_of[at[other]] = at[other]
    held = Held(at, frozenset(ignored))
    found = xml_table.read(table, TableForm(path, titles.axis, ()), held, place)
    columns: Columns = {}
    for name, texts in found.columns.items():
        columns[title_of[name]] = [*columns.get(title_of[name], ()), *texts]
    frequency = found.frequency
    if titles.frequency:
        if titles.frequency not in columns:
            why = _NO_AXIS.format(titles.frequency, listed(made), f"{titles.where}.frequency")
            return Rows((), {}, found.line_of, why=why)
        frequency = columns.pop(titles.frequency)
    whole = len(path.steps) == 1 and not path.steps[0].conditions
    tag = path.steps[0].tag if whole and not any(map(_holds_more, rows)) else ""
    return found._replace(frequency=frequency, columns=columns, tag=tag, others=())


def _path(called: Called, name: str, titles: TitlesForm, place: Callable[[], str]) -> Path:
    """The path of a cell by its name.

    Raises:
        Fault: the name can be none of an element or attribute.
    """
    try:
        return parse(called.cells.replace("{}", name), titles.names)
    except ValueError as error:
        said = f"no cell can be called {name!r}: {error}; see {titles.where}.titles.called"
        raise Fault(place(), said) from error


def _no_names(names: Sequence[str], titles: TitlesForm) -> str:
    """What to say of names that do not tell cells apart; "" where they do."""
    where = f"{titles.where}.titles.called"
    if not all(names):
        return f"a column has no name for its cells where {where} says that it stands"
    double = next((of for of, times in Counter(names).items() if times > 1), None)
    if double is None:
        return ""
    return f"{double!r} names the cells of two columns, so nobody can tell them apart; see {where}"


def _all_in(rows: "Sequence[_Element]", cell: Path, names: Names) -> list[Path]:
    """What rows hold, as paths from a row: attributes, elements, and attributes of these.

    Args:
        rows: them.
        cell: the path of a cell, since attributes that choose it tell others of its name apart.
        names: the namespaces of the dialect.
    """
    choosing = {of.name: step.tag for step in cell.steps for of in step.conditions}
    attributes = dict.fromkeys(str(name) for row in rows for name in row.attrib)
    found = [Path(False, 0, (), name) for name in attributes]
    kinds = dict.fromkeys(_kind(child, choosing) for row in rows for child in row.iterchildren("*"))
    for tag, told in kinds:
        chosen = tuple(
            Condition("@", name, text.strip())
            for name, text in told
            if choosing.get(name) == tag and text.strip()
        )
        uri, _, local = tag.rpartition("}")
        called = "".join(f"[@{of.name}={of.value}]" for of in chosen)
        step = Step(uri.removeprefix("{"), local, chosen, f"{names.show(tag)}{called}")
        others = [name for name, _ in told if choosing.get(name) != tag]
        found += [Path(False, 0, (step,), name) for name in (None, *others)]
    return list(dict.fromkeys(found))


def _kind(
    child: "_Element", choosing: Mapping[str, str]
) -> tuple[str, tuple[tuple[str, str], ...]]:
    """The name of an element of a row and its attributes, with the texts of those that choose it.

    Args:
        child: the element.
        choosing: names of elements by the attributes that choose them.
    """
    tag = str(child.tag)
    told = ((str(name), text) for name, text in child.attrib.items())
    return tag, tuple((name, str(text) if choosing.get(name) == tag else "") for name, text in told)


def _key(path: Path) -> tuple[object, ...]:
    """What tells paths of a row apart, however the dialect writes them."""
    return (*((step.tag, step.conditions) for step in path.steps), path.attribute)


def _shown(path: Path, names: Names) -> str:
    step = "/".join(step.shown for step in path.steps)
    return step if path.attribute is None else names.inner(step, path.attribute)


def _holds_more(row: "_Element") -> bool:
    """Whether a row holds a text of its own, or elements that hold more than a text."""
    texts = [row.text, *(child.tail for child in row)]
    return any(text and text.strip() for text in texts) or any(map(len, row))
