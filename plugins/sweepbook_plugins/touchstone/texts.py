"""Texts of a test: out of comments, out of the information section, out of the file's name."""

import re
from collections.abc import Iterator

from sweepbook.dialect.raw import Cell, Fault, RawTest
from sweepbook.label_template import Misfit, Template, taken_apart
from sweepbook_plugins.touchstone.heading import Heading, keyword
from sweepbook_plugins.touchstone.layout import Layout
from sweepbook_plugins.touchstone.lines import Comments, Line

_ENDINGS = re.compile(r"(?i)(\.(s[0-9]+p|ts|txt))?(\.(gz|zst))?$")
PORTS_IN_NAME = re.compile(r"(?i)\.s([0-9]{1,3})p(\.(gz|zst))?$")


def take(test: RawTest, name: str, comments: Comments, heading: Heading, layout: Layout) -> None:
    """Give a test the texts of its file.

    Args:
        test: the test.
        name: of the file.
        comments: of the whole file.
        heading: with the information section.
        layout: says how keys and values are parted.

    Raises:
        Fault: a comment is not in the declared encoding, or the file's name does not fit.
    """
    if layout.file_name is not None:
        for key, text in _pieces(name, layout.file_name).items():
            test.properties[key] = Cell(text, "the file's name")
    left = []
    for line in comments.kept:
        text = decoded(line, layout)
        found = parted(text, layout.separator)
        if found and found[0] not in test.properties:
            test.properties[found[0]] = Cell(found[1], line.place)
        else:
            left.append(text)
    if comments.more:
        left.append(f"({comments.more} more comments are in the source only)")
    if left:
        test.extra["comments"] = "\n".join(left)
    other = []
    for line in heading.information:
        named = _named(line, layout)
        if named and named[0] not in test.properties:
            test.properties[named[0]] = Cell(named[1], line.place)
        else:
            other.append(decoded(line, layout))
    if other:
        test.extra["information"] = "\n".join(other)


def decoded(line: Line, layout: Layout) -> str:
    """The text of a comment.

    Raises:
        Fault: it is not in the declared encoding.
    """
    try:
        return line.text.encode("latin-1").decode(layout.encoding)
    except UnicodeDecodeError as error:
        raise Fault(
            line.place, f"the comment is not {layout.encoding}; see touchstone.encoding"
        ) from error


def parted(text: str, separator: str) -> tuple[str, str] | None:
    """Key and value of a comment; None where it has none, an address of the web included."""
    key, _, value = (part.strip() for part in text.partition(separator))
    return (key, value) if key and value and not value.startswith("//") else None


def information(heading: Heading, layout: Layout) -> Iterator[tuple[str, str]]:
    """Key and value of each line of the information section that has them."""
    for line in heading.information:
        if named := _named(line, layout):
            yield named


def stem(name: str) -> str:
    """A file's name without its ending."""
    return _ENDINGS.sub("", name)


def _named(line: Line, layout: Layout) -> tuple[str, str] | None:
    text = decoded(line, layout)
    name, _, value = text.removeprefix("[").partition("]")
    return (name.strip(), value.strip()) if keyword(line) and value.strip() else None


def _pieces(name: str, form: Template) -> dict[str, str]:
    plain = stem(name)
    pieces = taken_apart(form, plain)
    if isinstance(pieces, Misfit):
        raise Fault(
            "",
            f"the file's name {plain!r} does not fit touchstone.file_name: at character "
            f"{pieces.at + 1} is expected {pieces.expected}",
        )
    return pieces
