"""Where the names of limits in an export lead."""

import re
from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

from sweepbook.draft.document import ASSUMED, FOUND, UNTOLD, Note, Table, one_of, quoted
from sweepbook.draft.field_times import Filled
from sweepbook.draft.limit_words import in_english, names_no_document
from sweepbook.errors import SweepbookError

if TYPE_CHECKING:
    from sweepbook.limits.library import Library

_MOST = 4
_TIME = "test.started"
_YEAR = re.compile(r"(?<![0-9])(?:19|20)[0-9]{2}(?![0-9])")
_LEAST_SHARED = 2


def limit_table(filled: Sequence[Filled], library: "Library") -> Table:
    """The table `limits`: what a name leads to, or what it may mean, for a person to choose.

    A name in the words of another language, or of a house, is proposed for the limit that it leads
    to in English, where that is one alone and nothing else stands in the name.
    """
    from sweepbook.limits.library import AmbiguousLimit

    table = Table("[limits]")
    names = [text for one in filled if one.path == "test.limit" for text in one.texts]
    years = _years([text for one in filled if one.path == _TIME for text in one.texts])
    proposed: dict[str, list[str]] = {}
    for name in names:
        try:
            found = library.resolve(name)
        except AmbiguousLimit as error:
            _choices(table, name, error.candidates)
        except SweepbookError:
            if path := _translated(table, name, years, library):
                proposed.setdefault(path, []).append(name)
        else:
            note = Note(FOUND, f"this name leads there by itself, {found.how}", [name])
            table.add(quoted(found.path), name, note, asleep=True)
    for path, some in proposed.items():
        read = " or ".join(dict.fromkeys(repr(in_english(name)) for name in some))
        note = Note(ASSUMED, f"in the words of limit tables this name is {read}", some)
        table.add(quoted(path), one_of(some), note)
    return table


def _translated(table: Table, name: str, years: Sequence[int], library: "Library") -> str | None:
    """The limit that a name leads to in English; else lines for those that it may mean."""
    from sweepbook.limits.library import AmbiguousLimit

    said = in_english(name)
    try:
        found = [library.resolve(said, date(year, 12, 31)) for year in years or [date.max.year]]
    except AmbiguousLimit as error:
        _choices(table, name, error.candidates)
        return None
    except SweepbookError:
        _unknown(table, name, said, library)
        return None
    paths = list(dict.fromkeys(of.path for of in found))
    dated = bool(years) or all(of.by == "name" for of in found)
    if len(paths) == 1 and dated and not names_no_document(name, said):
        return paths[0]
    _choices(table, name, paths)
    return None


def _years(texts: Sequence[str]) -> list[int]:
    """The first and the last year that times name, those of one edition of a document or two."""
    found = sorted(int(year) for text in texts for year in _YEAR.findall(text))
    return sorted({found[0], found[-1]}) if found else []


def _choices(table: Table, name: str, paths: Sequence[str]) -> None:
    """Lines for the tables that a name may mean."""
    note = Note(UNTOLD, "which limit this name means; take the mark off one line", [name])
    for path in paths[:_MOST]:
        table.add(quoted(path), name, note, asleep=True)
        note = Note(UNTOLD, "or this one")


def _unknown(table: Table, name: str, said: str, library: "Library") -> None:
    """Lines for a name that leads nowhere: the tables that share most of its words.

    One that says the same as another one and more, which the name does not, is not meant.
    """
    parts = _parts(said)
    shared = {path: len(parts & _parts(path)) for path in library.paths()}
    best = max(shared.values(), default=0)
    near = [path for path, count in shared.items() if count == best and best >= _LEAST_SHARED]
    note = Note(
        UNTOLD,
        "which limit this name means; take the mark off one line, or write another path out of "
        "`sweepbook limits list`",
        [name],
    )
    near = [path for path in near if not any(_parts(of) < _parts(path) for of in near)]
    for path in near[:_MOST] or ["PATH"]:
        table.add(quoted(path), name, note, asleep=True)
        note = Note(UNTOLD, "or this one")


def _parts(text: str) -> set[str]:
    """Words and numbers of a name in lower case, "cat6a" also as 6a."""
    parts = re.findall(r"[a-z]+|[0-9]+[a-z]?", text.casefold())
    return {part for part in parts if part not in ("cat", "category", "class", "iec", "link")}
