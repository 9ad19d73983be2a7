"""What to say of a file that the one dialect named does not fit, where nothing was read of it."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from sweepbook.errors import ReadProblem, SweepbookError
from sweepbook.formats import ReadSetting
from sweepbook.identify import claimed

if TYPE_CHECKING:
    from sweepbook.dialect.model import Dialect
    from sweepbook.record.model import Record
    from sweepbook.registry import Registry
    from sweepbook.source import Source

_TRY = (
    "`sweepbook dialect draft` works a dialect out from such files, `sweepbook dialect try` shows "
    "what one makes of a file"
)


def told_once(
    items: "Iterator[Record | ReadProblem]",
    source: "Source",
    registry: "Registry",
    setting: ReadSetting,
    others: "Callable[[], Mapping[str, Dialect]]",
) -> "Iterator[Record | ReadProblem]":
    """Pass on what was read; of a file of another layout one problem in place of all.

    Args:
        items: what the reader gave.
        source: of what.
        registry: formats, asked whether they know the file.
        setting: with the dialect that was named.
        others: gives the dialects at hand besides, by what to write after --dialect.
    """
    held: list[ReadProblem] = []
    for item in items:
        if type(item) is not ReadProblem:
            yield from (*held, item)
            yield from items
            return
        held.append(item)
    said = _said(source, registry, setting, others, held) if held else ""
    yield from [ReadProblem(source.name, "", said)] if said else held


def _said(
    source: "Source",
    registry: "Registry",
    setting: ReadSetting,
    others: "Callable[[], Mapping[str, Dialect]]",
    problems: Sequence[ReadProblem],
) -> str:
    """In words; "" where the dialect fits, or nothing speaks against it."""
    dialect = setting.dialect
    if dialect is None or dialect.join is not None:
        return ""
    try:
        if _claiming(source, registry, setting, {dialect.name: dialect}):
            return ""
        besides = {name: one for name, one in others().items() if one.sha256 != dialect.sha256}
        by_name = {one.name: one for one in besides.values()}
        found = _claiming(source, registry, setting, by_name)
    except SweepbookError:
        return ""
    fitting = [name for name, one in besides.items() if one.name in found]
    signature = _signature(dialect)
    if not fitting and not signature:
        return ""
    lacks = f"this file does not begin as those of the dialect {dialect.name} do"
    if signature:
        lacks = f"the signature of the dialect {dialect.name}, {signature}, is not in this file"
    said = f"{lacks}, so that is probably a dialect of another make or layout."
    if fitting:
        return f"{said} At hand is one that fits; name it, too: --dialect {' or '.join(fitting)}."
    more = f", and {len(problems) - 1} more problems" if len(problems) > 1 else ""
    first = problems[0]
    place = f"{first.place}: " if first.place else ""
    return (
        f"{said} Name that of its make with --dialect; {_TRY}. Read by {dialect.name} all the "
        f"same: {place}{first.message.rstrip('.')}{more}."
    )


def _claiming(
    source: "Source",
    registry: "Registry",
    setting: ReadSetting,
    dialects: "Mapping[str, Dialect]",
) -> set[str]:
    """Names of the dialects that claim the source."""
    asked = replace(setting, dialect=None, dialects=dialects)
    found = claimed(source, registry, asked)
    return {one.claim.dialect.name for one in found if one.claim.dialect is not None}


def _signature(dialect: "Dialect") -> str:
    """The texts by which the files of a dialect are told, "" where it has none."""
    texts = dialect.layout.get("signature", ())
    return " and ".join(map(repr, [texts] if isinstance(texts, str) else texts))
