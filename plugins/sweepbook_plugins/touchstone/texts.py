"""Texts of a test: out of comments, out of the information section, out of the file's name."""

import re
from collections.abc import Iterator

from sweepbook.dialect.raw import Cell, Fault, RawTest
from sweepbook.schedule.label_template import Misfit, Template, taken_apart
from sweepbook_plugins.touchstone.heading import Heading, keyword
from sweepbook_plugins.touchstone.layout import Layout
from sweepbook_plugins.touchstone.lines import Comments, Line

_ENDINGS = re.compile(r"(?i)(\.(s[0-9]+p|ts|txt))?(\.(gz|zst|zip))?$")
PORTS_IN_NAME = re.compile(r"(?i)\.s([0-9]{1,3})p(\.(gz|zst|zip))?$")


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
        key, mark, value = (part.strip() for part in text.partition(layout.separator))
        if mark and key and value and key not in test.properties:
            test.properties[key] = Cell(value, line.place)
        else:
            left.append(text)
    if comments.more:
        left.append(f"({comments.more} more comments are in the source only)")
    if left:
        test.extra["comments"] = "\n".join(left)
    other = list(_information(test, heading, layout))
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


def _information(test: RawTest, heading: Heading, layout: Layout) -> Iterator[str]:
    """Give the test what stands behind keywords; yield the other lines."""
    for line in heading.information:
        found = keyword(Line(line.number, decoded(line, layout)))
        name = line.text[1:].partition("]")[0].strip()
        if found and found[1] and name not in test.properties:
            test.properties[name] = Cell(found[1], line.place)
        else:
            yield decoded(line, layout)


def _pieces(name: str, form: Template) -> dict[str, str]:
    stem = _ENDINGS.sub("", name)
    pieces = taken_apart(form, stem)
    if isinstance(pieces, Misfit):
        raise Fault(
            "",
            f"the file's name {stem!r} does not fit touchstone.file_name: at character "
            f"{pieces.at + 1} is expected {pieces.expected}",
        )
    return pieces
