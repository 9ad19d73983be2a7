"""Whether the head of a file is Touchstone, and which dialects fit. Nothing is validated.

A file is told by its first line that holds more than a comment: [Version], or an option line of
known words with numbers below it. A name that ends in .s16p tells nothing.
"""

import io
from collections.abc import Iterator

from sweepbook.dialect.model import Dialect
from sweepbook.dialect.raw import Fault
from sweepbook.formats import Claim, ReadSetting, Strength
from sweepbook.numerals import first_fault
from sweepbook.source import HEAD_BYTES, Source
from sweepbook_plugins.touchstone.heading import Heading, heading, keyword
from sweepbook_plugins.touchstone.layout import layout_of
from sweepbook_plugins.touchstone.lines import Line, Lines
from sweepbook_plugins.touchstone.options import NotOptions, parse
from sweepbook_plugins.touchstone.points import points
from sweepbook_plugins.touchstone.texts import decoded

FORMAT = "touchstone"
SIGNATURE_COMMENTS = 20


def claims(source: Source, setting: ReadSetting) -> Iterator[Claim]:
    """Yield a claim for each dialect that fits; one without a dialect where none does.

    Raises:
        BadDialect: one of the dialects cannot be used.
        UnreadableSource: the file cannot be opened.
    """
    told, comments = _told(source.head)
    if not told:
        return
    fits = False
    for name in sorted(setting.dialects):
        dialect = setting.dialects[name]
        if dialect.format == FORMAT and (claim := _claim(source.head, dialect, told, comments)):
            fits = True
            yield claim
    if not fits:
        yield Claim(Strength.STRUCTURE, told)


def touchstone(head: bytes) -> bool:
    """Whether the first bytes are those of such a file."""
    return bool(_told(head)[0])


def _told(head: bytes) -> tuple[str, list[Line]]:
    """By what the first bytes are known to be Touchstone, "" where they are not; the comments."""
    lines = Lines(io.BytesIO(_whole_lines(head)))
    try:
        first = next(lines, None)
        second = next(lines, None)
    except Fault:
        return "", []
    if first is None:
        return "", []
    comments = lines.comments.kept[:SIGNATURE_COMMENTS]
    name, argument = keyword(first) or ("", "")
    if name == "version" and argument[:1].isdigit():
        return f"it begins with {first.text[:40]!r}", comments
    if not first.text.startswith("#"):
        return "", []
    try:
        parse(first.text)
    except NotOptions:
        return "", []
    words = second.text.split() if second else []
    if len(words) % 2 == 0 or first_fault(words) < len(words):
        return "", []
    return f"its option line is {first.text[:40]!r}", comments


def _whole_lines(head: bytes) -> bytes:
    """The head without the line that it cuts."""
    return head[: head.rfind(b"\n") + 1] if len(head) >= HEAD_BYTES else head


def _claim(head: bytes, dialect: Dialect, told: str, comments: list[Line]) -> Claim | None:
    layout = layout_of(dialect)
    if layout.signature:
        try:
            first = [decoded(line, layout) for line in comments]
        except Fault:
            return None
        if all(any(text.startswith(mark) for text in first) for mark in layout.signature):
            shown = ", ".join(map(repr, layout.signature))
            return Claim(Strength.SIGNATURE, f"{told}, a comment begins with {shown}", dialect)
        return None
    ports = _ports(head)
    if ports is None or sorted(layout.numbers) != list(range(1, ports + 1)):
        return None
    return Claim(Strength.STRUCTURE, f"{told}, {ports} ports", dialect)


def _ports(head: bytes) -> int | None:
    """Number of ports of a head, where it shows them."""
    lines = Lines(io.BytesIO(_whole_lines(head)))
    try:
        made: Heading = heading(lines)
        return points(lines, made, None).ports
    except Fault:
        return None
