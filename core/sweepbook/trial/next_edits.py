"""The next changes of a dialect that are worth making, by what a record lacks and left over."""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any

from sweepbook.dialect.model import Dialect
from sweepbook.dialect.parameters import parameters, quantity_of
from sweepbook.dialect.wires import FAR, PINS
from sweepbook.draft import fields, wires_told
from sweepbook.draft.document import UNSETTLED, quoted
from sweepbook.errors import ReadProblem
from sweepbook.judging.working import Doubt, DoubtKind
from sweepbook.rules.times import UNKNOWN
from sweepbook.text import text_at
from sweepbook.trial import (
    figures_left,
    missing,
    named_left,
    pairs_left,
    stated_edits,
    stated_left,
    units_left,
    worst_apart,
    worst_left,
)
from sweepbook.trial.counts import NO_SIGN, Row
from sweepbook.trial.limits_left import UNJUDGED, Margins, limit
from sweepbook.trial.together import Edit
from sweepbook.trial.usable import Usable

if TYPE_CHECKING:
    from sweepbook.formats import Format
    from sweepbook.limits.library import Library

_LONGEST = 60
_UNSETTLED, _TOLD, _DOUBTED = 4, 3, 2
"""Weights: without the first nothing is read."""


def unsettled(dialect: str, name: str) -> Iterator[Edit]:
    """Lines of a dialect that still wait for a person.

    Args:
        dialect: its text.
        name: of its file.
    """
    for number, line in enumerate(dialect.splitlines(), 1):
        if UNSETTLED in line and not line.lstrip().startswith("#"):
            key = line.partition("=")[0].strip()
            what = f"put a word in place of {UNSETTLED!r} behind `{key} =`; see the lines above it"
            yield Edit(f"{name}, line {number}", what, weight=_UNSETTLED)


def told(problems: Iterable[ReadProblem]) -> Iterator[Edit]:
    """What the reader told."""
    for problem in problems:
        where = f"{problem.source}, {problem.place}" if problem.place else problem.source
        yield Edit(where, problem.message, told=True, weight=_TOLD)


def label(doubted: str, dialect: Dialect) -> Iterator[Edit]:
    """What is said of a label that tests share, if anything is."""
    if doubted:
        yield Edit(line_of(dialect, "fields.link.label"), doubted, weight=UNJUDGED)


def edits(
    dialect: Dialect,
    document: Mapping[str, Any],
    rows: Sequence[Row],
    problems: Iterable[ReadProblem],
    doubts: Sequence[Doubt],
    place_of: Mapping[str, str],
    reader: "Format | None" = None,
    library: "Library | None" = None,
    margins: Margins | None = None,
) -> Iterator[Edit]:
    """Changes in the order of their weight.

    Args:
        dialect: as read.
        document: of the record.
        rows: its curves and figures.
        problems: what the reader told.
        doubts: what physics says against its figures.
        place_of: line or element of the export by its key, as far as they are known.
        reader: the format that reads by it.
        library: the limit tables at hand.
        margins: tells what a table makes of the margins that the test states.
    """
    problems = list(problems)
    yield from told(problems)
    for doubt in (one for one in doubts if one.kind is not DoubtKind.DISORDER):  # the reader tells
        yield Edit(_unit_keys(document, doubt, dialect), doubt.text, weight=_DOUBTED)
    yield from limit(document, dialect, library, margins)
    yield from worst_apart.apart(document, dialect)
    yield from _zone(document, dialect)
    paired = list(_paired(document.get("extra", {}), dialect, place_of))
    yield from paired
    named = missing.named_in(of.message for of in problems)
    for row in rows:
        if not row.found and ((paired and not row.swept) or row.parameter in named):
            continue
        if row.expected and row.missing and row.found < row.expected and _is_worth(row, document):
            yield Edit(missing.where(row, dialect, document), missing.said(row))
    yield from _left_over(document, _usable(dialect, reader), place_of)


def _usable(dialect: Dialect, reader: "Format | None") -> Usable:
    if reader is None:
        return Usable(dialect)
    offer = partial(reader.offer, dialect) if reader.offer else None
    return Usable(dialect, reader.check_dialect, offer)


def _is_worth(row: Row, document: Mapping[str, Any]) -> bool:
    """Whether what a parameter lacks may be in the export.

    A link that failed before any sweep has no curves. What is measured by one maker is not by
    another one: of a parameter without any curve only a key that reads as it speaks for more.
    """
    results = document.get("results", {})
    if not row.swept:
        return bool(row.found) or "sweeps" in results or "scalars" in results
    return bool(row.found) or ("sweeps" in results and row.missing != NO_SIGN)


def line_of(dialect: Dialect, key: str) -> str:
    """File and line of a key in a dialect; the key itself where no line begins with it."""
    last = key.split(".", 1)[-1]
    pattern = re.compile(rf'^\s*"?(?:{re.escape(key)}|{re.escape(last)})"?\s*=')
    for number, line in enumerate(dialect.raw.decode("utf-8", "replace").splitlines(), 1):
        if pattern.match(line):
            return f"{dialect.where}, line {number}, {key}"
    return f"{dialect.where}, {key}"


def _unit_keys(document: Mapping[str, Any], doubt: Doubt, dialect: Dialect) -> str:
    """The units or signs that a doubt hangs on, or the order of pairs, each with its line."""
    if doubt.kind is DoubtKind.ORDER:
        return line_of(dialect, "crosstalk.first")
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


def _zone(document: Mapping[str, Any], dialect: Dialect) -> Iterator[Edit]:
    """Times of no zone, where the dialect names none either."""
    started = text_at(document, "test", "started", "rfc3339") or ""
    if started.endswith(UNKNOWN):
        as_stated = text_at(document, "test", "started", "as_stated")
        yield Edit(
            f"{dialect.where}, dates.zone",
            f"{as_stated!r} names no zone, so that the offset of times is not known; add zone = "
            'with the name of the one that the tester\'s clock had, such as "Europe/Lisbon"',
            alike="zone",
        )


def _paired(
    extra: Mapping[str, str], dialect: Dialect, place_of: Mapping[str, str]
) -> Iterator[Edit]:
    """Columns of pairs that no form of figures takes, though a form may take the verdict beside."""
    told, titles = pairs_left.template(extra, dialect.meaning.words.pairs)
    if told:
        named = ", ".join(map(_short, titles))
        text = (
            f"figures of a pair each were left over, in {named}; take them by value = "
            f"{quoted(told)} in a form of figures of its own, beside that with the verdict"
        )
        yield Edit(f"{dialect.where}, [{dialect.format}]{_at(titles[0], place_of)}", text)


def _left_over(
    document: Mapping[str, Any], usable: Usable, place_of: Mapping[str, str]
) -> Iterator[Edit]:
    """Keys in `extra` that read as a field, a single figure, or something stated."""
    dialect = usable.dialect
    extra: Mapping[str, str] = document.get("extra", {})
    rows = stated_left.rows_of(dialect.meaning.words.verdicts)
    single = {
        key: [text] for key, text in extra.items() if "\n" not in text and not rows.fullmatch(text)
    }
    ends = _ends(dialect)
    called = named_left.called({key: text for key, (text,) in single.items()})
    texts = {name: single[key] for name, key in called.items()}
    guessed = {
        called[one.keys[0]]: one.path
        for one in fields.guess(texts, ends)
        if one.path not in dialect.meaning.fields and usable.field(one.path, called[one.keys[0]])
    }
    for key, path in guessed.items():
        text = f"add {path} = {quoted(key)}; there stands {_short(extra[key])}"
        yield Edit(f"{dialect.where}, [fields]{_at(key, place_of)}", text)
    yield from _wires(extra, dialect, ends)
    for key, text in units_left.units(extra, dialect):
        yield Edit(f"{dialect.where}, [{dialect.format}]{_at(key, place_of)}", text)
    items = document.get("stated", {}).get("items", ())
    margins = {item["parameter"] for item in items if "worst_margin" in item}
    figures = dict(figures_left.figures(single, usable, margins))
    for key, text in figures.items():
        yield Edit(f"{dialect.where}, [figures]{_at(key, place_of)}", text)
    for key, text in worst_left.of_margins(extra, usable, margins):
        where = f"{dialect.where}, [figures]{_at(key, place_of)}"
        yield Edit(where, text, alike=f"which {key}")
    for key, text in worst_left.beside(extra, usable):
        where = f"{dialect.where}, [{dialect.format}]{_at(key, place_of)}"
        yield Edit(where, text, alike=f"which {key}")
    for key, text in stated_edits.edits(document, usable, {*figures, *guessed}):
        where = f"{dialect.where}, [{dialect.format}]{_at(key, place_of)}"
        yield Edit(where, text, alike=f"stated {key}")


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
    within = [f"{of.path} = {quoted(of.within)}" for of in found.filled if of.within]
    more = f", and {', '.join(form)} in [wire_map]" if form else ""
    more += f", and {', '.join(within)} in [within]" if within else ""
    text = f"add {', '.join(lines)}{more}; there stands {_short(found.filled[-1].texts[0])}"
    yield Edit(f"{dialect.where}, [fields]", text)


def _listed(texts: object) -> str:
    """A text, or a list of them, as TOML; of one a text."""
    if isinstance(texts, str):
        return quoted(texts)
    some = [quoted(str(text)) for text in texts] if isinstance(texts, list | tuple) else []
    return some[0] if len(some) == 1 else f"[{', '.join(some)}]"


def _ends(dialect: Dialect) -> tuple[str, str] | None:
    words = {end: spelling for spelling, end in dialect.meaning.words.ends.items() if spelling}
    return (words["near"].casefold(), words["far"].casefold()) if len(words) == 2 else None


def _at(key: str, place_of: Mapping[str, str]) -> str:
    return f" for {place_of[key]}" if key in place_of else ""


def _short(text: str) -> str:
    return repr(text if len(text) <= _LONGEST else f"{text[: _LONGEST - 3]}...")
