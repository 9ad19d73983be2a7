"""The next changes of a dialect that are worth making, by what a record lacks and left over."""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from sweepbook.dialect.model import Dialect
from sweepbook.dialect.parameters import parameters, quantity_of
from sweepbook.dialect.wires import FAR, PINS
from sweepbook.draft import fields, wires_told
from sweepbook.draft.document import UNSETTLED, bare, quoted
from sweepbook.draft.naming import settle
from sweepbook.draft.reading import role_of
from sweepbook.errors import ReadProblem
from sweepbook.judging import phrases
from sweepbook.judging.working import Doubt
from sweepbook.text import text_at
from sweepbook.trial import stated_left, units_left
from sweepbook.trial.counts import Row

_LONGEST = 60
_ROLES = {"verdict": "verdict", "margin": "worst_margin.margin"}


class Edit(NamedTuple):
    """One change.

    Attributes:
        where: the line of the dialect, or the key that is to be added.
        what: what to do, and by what in the export it is known.
    """

    where: str
    what: str


def unsettled(dialect: str, name: str) -> Iterator[Edit]:
    """Lines of a dialect that still wait for a person.

    Args:
        dialect: its text.
        name: of its file.
    """
    for number, line in enumerate(dialect.splitlines(), 1):
        if UNSETTLED in line and not line.lstrip().startswith("#"):
            key = line.partition("=")[0].strip()
            what = f"put a word in place of {UNSETTLED!r} at {key}; the lines above it say which"
            yield Edit(f"{name}, line {number}", what)


def told(problems: Iterable[ReadProblem]) -> Iterator[Edit]:
    """What the reader told."""
    for problem in problems:
        where = f"{problem.source}, {problem.place}" if problem.place else problem.source
        yield Edit(where, problem.message)


def together(edits: Iterable[Edit]) -> Iterator[Edit]:
    """Changes of which each is told once, with the first of its places."""
    places: dict[str, list[str]] = {}
    for edit in edits:
        places.setdefault(edit.what, []).append(edit.where)
    for what, every in places.items():
        more = len(set(every)) - 1
        some = f" and {more} more place{'' if more == 1 else 's'}" if more else ""
        yield Edit(f"{every[0]}{some}", what)


def edits(
    dialect: Dialect,
    document: Mapping[str, Any],
    rows: Sequence[Row],
    problems: Iterable[ReadProblem],
    doubts: Sequence[Doubt],
    place_of: Mapping[str, str],
) -> Iterator[Edit]:
    """Changes in the order of their weight.

    Args:
        dialect: as read.
        document: of the record.
        rows: its curves and figures.
        problems: what the reader told.
        doubts: what physics says against its figures.
        place_of: line or element of the export by its key, as far as they are known.
    """
    yield from told(problems)
    for doubt in doubts:
        yield Edit(_unit_keys(document, doubt, dialect), doubt.text)
    yield from _limit(document, dialect)
    for row in rows:
        if row.expected and row.missing and row.found < row.expected:
            what = "curves" if row.swept else "figures"
            text = f"{phrases.name(row.parameter)}: {row.found} of {row.expected} {what} found"
            text += f", missing: {row.missing}" if row.found else ", if the export has them at all"
            yield Edit(_missing_key(row, dialect), text)
    yield from _left_over(document, dialect, place_of)


def line_of(dialect: Dialect, key: str) -> str:
    """File and line of a key in a dialect; the key itself where no line begins with it."""
    last = key.split(".", 1)[-1]
    pattern = re.compile(rf'^\s*"?(?:{re.escape(key)}|{re.escape(last)})"?\s*=')
    for number, line in enumerate(dialect.raw.decode("utf-8", "replace").splitlines(), 1):
        if pattern.match(line):
            return f"{dialect.where}, line {number}, {key}"
    return f"{dialect.where}, {key}"


def _unit_keys(document: Mapping[str, Any], doubt: Doubt, dialect: Dialect) -> str:
    """The units or signs that a doubt hangs on, each with its line."""
    named = [parameter for parameter, _ in doubt.discredits]
    if match := re.search(r"(sweeps|scalars)\[(\d+)\]", doubt.path):
        named.insert(0, document["results"][match[1]][int(match[2])]["parameter"])
    texts = {"length": " m ", "delay": " ns ", "resistance": " ohm "}
    quantities = [quantity_of(name) for name in named if name in parameters()]
    quantities += [quantity for quantity, unit in texts.items() if unit in doubt.text]
    keys = [
        "signs.negative" if quantity == "loss" else f"units.{quantity}"
        for quantity in dict.fromkeys(quantities)
    ]
    return " or ".join(line_of(dialect, key) for key in keys) or f"{dialect.where}, units"


def _limit(document: Mapping[str, Any], dialect: Dialect) -> Iterator[Edit]:
    stated = text_at(document, "test", "limit", "as_stated")
    resolved = document.get("resolved", {}).get("limit", {})
    if not stated:
        text = "no limit was found, so that nothing can be judged without --against"
        yield Edit(f"{dialect.where}, fields.test.limit", text)
    elif "path" not in resolved:
        add = f'add "PATH" = {quoted(stated)}, the path out of `sweepbook limits list`'
        why = str(resolved.get("how", "")).rstrip(".")
        yield Edit(f"{dialect.where}, limits", f"{why}; {add}")


def _missing_key(row: Row, dialect: Dialect) -> str:
    known = {word for words in dialect.meaning.words.parameters.values() for word in words}
    if not known:  # the format names its curves itself
        return f"{dialect.where}, [{dialect.format}]"
    if row.parameter not in known:
        return f"{dialect.where}, words.parameters.{row.parameter}"
    if "end" in row.missing:
        return f"{dialect.where}, words.ends"
    return f"{dialect.where}, the templates of names, words.pairs and crosstalk.between"


def _left_over(
    document: Mapping[str, Any], dialect: Dialect, place_of: Mapping[str, str]
) -> Iterator[Edit]:
    """Keys in `extra` that read as a field, a single figure, or something stated."""
    extra: Mapping[str, str] = document.get("extra", {})
    single = {key: [text] for key, text in extra.items() if "\n" not in text}
    ends = _ends(dialect)
    guessed = fields.guess(single, ends)
    for one in guessed:
        if one.path not in dialect.meaning.fields:
            key = one.keys[0]
            text = f"add {one.path} = {quoted(key)}; there stands {_short(extra[key])}"
            yield Edit(f"{dialect.where}, [fields]{_at(key, place_of)}", text)
    yield from _wires(extra, dialect, ends)
    for key, text in units_left.units(extra, dialect):
        yield Edit(f"{dialect.where}, [{dialect.format}]{_at(key, place_of)}", text)
    told = {one.keys[0] for one in guessed if one.path not in dialect.meaning.fields}
    figures = dict(_figures(single, dialect, place_of))
    yield from figures.values()
    for left in stated_left.stated(extra, dialect.meaning.words.verdicts):
        if left.key not in figures and left.key not in told:
            text = (
                f"stated {left.kind}s were left over, so that nothing is held against them: "
                f"{_short(left.key)[1:-1]} has {left.shown}; take them by {_ROLES[left.kind]} in a "
                "form of figures, or say that they mean nothing"
            )
            yield Edit(f"{dialect.where}, [{dialect.format}]{_at(left.key, place_of)}", text)


def _wires(
    extra: Mapping[str, str], dialect: Dialect, ends: tuple[str, str] | None
) -> Iterator[Edit]:
    """The wire map among the keys, where the dialect names none."""
    if any(path in dialect.meaning.fields for path in (PINS, FAR)):
        return
    delimiter = str(dialect.layout.get("delimiter", ""))
    found = wires_told.find({key: [text] for key, text in extra.items()}, ends, delimiter)
    if found is None or found.asleep:
        return
    lines = [f"{of.path} = {_listed(of.keys)}" for of in found.filled]
    form = [f"{of.key} = {_listed(of.value)}" for of in wires_told.wire_table(found).lines]
    more = f", and {', '.join(form)} in [wire_map]" if form else ""
    text = f"add {', '.join(lines)}{more}; there stands {_short(found.filled[-1].texts[0])}"
    yield Edit(f"{dialect.where}, [fields]", text)


def _listed(texts: object) -> str:
    """A text, or a list of them, as TOML; of one a text."""
    if isinstance(texts, str):
        return quoted(texts)
    some = [quoted(str(text)) for text in texts] if isinstance(texts, list | tuple) else []
    return some[0] if len(some) == 1 else f"[{', '.join(some)}]"


def _figures(
    single: Mapping[str, Sequence[str]], dialect: Dialect, place_of: Mapping[str, str]
) -> Iterator[tuple[str, Edit]]:
    """Keys that read as a single figure, each with what the dialect lacks to take it.

    Of what a record has for each pair there is no figure without one; that is told elsewhere.
    """
    naming = settle(list(single))
    seen: set[str] = set()
    for key, texts in single.items():
        part = naming.parse(key)
        role = role_of(part.template, texts) if part.parameter and part.clean else None
        if not role or not part.parameter or part.template in seen:
            continue
        spelling, word = part.parameter
        if role == "value" and not _may_be_figure(word, len(part.pairs)):
            continue
        seen.add(part.template)
        if lacks := " and ".join(_lacking(role, part.template, spelling, word, dialect)):
            text = f"{key!r} reads as {phrases.name(word)}: {lacks}"
            yield key, Edit(f"{dialect.where}, [figures]{_at(key, place_of)}", text)


def _may_be_figure(word: str, pairs: int) -> bool:
    """Whether a parameter has single values at all, of so many pairs: a loss is a curve."""
    return quantity_of(word) not in ("", "loss") and pairs in parameters()[word].pairs


def _lacking(role: str, template: str, spelling: str, word: str, dialect: Dialect) -> Iterator[str]:
    """What a dialect lacks of a template and the word in it."""
    there = dialect.meaning.figures.get(role, ())
    if template not in there:
        yield f"add {role} = {quoted(template)}{_beside(there)}"
    parameters = dialect.meaning.words.parameters
    if word not in parameters.get(spelling, ()):
        others = [text for text, words in parameters.items() if word in words]
        yield f"add {bare(word)} = {quoted(spelling)}{_beside(others)} in [words.parameters]"


def _beside(there: Sequence[str]) -> str:
    return f" beside {', '.join(map(quoted, there))}" if there else ""


def _ends(dialect: Dialect) -> tuple[str, str] | None:
    words = {end: spelling for spelling, end in dialect.meaning.words.ends.items() if spelling}
    return (words["near"].casefold(), words["far"].casefold()) if len(words) == 2 else None


def _at(key: str, place_of: Mapping[str, str]) -> str:
    return f" for {place_of[key]}" if key in place_of else ""


def _short(text: str) -> str:
    return repr(text if len(text) <= _LONGEST else f"{text[: _LONGEST - 3]}...")
