"""The first bytes of an XML file: its root element, and what is refused before any parsing."""

import codecs
import re
from typing import TYPE_CHECKING, Any, NamedTuple

from sweepbook.dialect.raw import Fault
from sweepbook.source import HEAD_BYTES

if TYPE_CHECKING:
    from lxml.etree import XMLPullParser, XMLSyntaxError

MOST_ATTRIBUTES = 1_000
OPTIONS: dict[str, Any] = {
    "resolve_entities": False,
    "no_network": True,
    "huge_tree": False,
    "load_dtd": False,
    "dtd_validation": False,
    "attribute_defaults": False,
    "remove_comments": True,
    "remove_pis": True,
}
"""What lxml is told, always: nothing is fetched, nothing expanded, and its own bounds hold."""

_MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
    (b"<\0", "utf-16-le"),
    (b"\0<", "utf-16-be"),
)
_ENCODINGS = re.compile(
    r"utf-?8|utf-?16(le|be)?|us-ascii|ascii|iso-?8859-?[0-9]{1,2}|latin-?1|windows-125[0-8]|"
    r"cp125[0-8]|cp437|ibm437|cp850|ibm850|cp852|ibm852|cp866|ibm866|macintosh|koi8-[ru]|"
    r"gb18030|gbk|gb2312|big5|shift_?jis|euc-?jp|euc-?kr",
    re.IGNORECASE,
)
_DECLARED = re.compile(r"""<\?xml\s[^>]*?\bencoding\s*=\s*["']([^"'>]*)["']""")
_PROLOG = re.compile(r"\s+|<\?.*?\?>|<!--.*?-->", re.DOTALL)
_ROOT = re.compile(r"<[^\s<>!?/]")


class Root(NamedTuple):
    """The root element.

    Attributes:
        tag: its name as lxml writes it.
        attributes: by name.
        line: where it begins.
    """

    tag: str
    attributes: dict[str, str]
    line: int


def looks_like_xml(head: bytes) -> bool:
    """Whether the first bytes can be those of XML; cheap, and sure only where it says no."""
    for mark, _ in _MARKS[:3]:
        if head.startswith(mark):
            return b"<" in head[:200]
    return head.lstrip()[:1] == b"<" or head[:2] in (b"<\0", b"\0<")


def names_itself(head: bytes) -> bool:
    """Whether the first bytes say that this is XML, well formed or not."""
    return _text(head).lstrip("\ufeff \t\r\n").startswith(("<?xml", "<!DOCTYPE"))


def root_of(head: bytes) -> Root:
    """The root element that the head of a file begins.

    Args:
        head: the first 65,536 bytes, or all of a shorter file.

    Raises:
        Fault: this is no XML, has a DOCTYPE or an encoding that is not taken.
    """
    from lxml import etree

    check(head)
    parser = etree.XMLPullParser(("start",), **OPTIONS)
    pieces: list[bytes | None] = [head[at : at + 512] for at in range(0, len(head), 512)]
    for piece in [*pieces, *([None] if len(head) < HEAD_BYTES else [])]:
        broken = fed(parser, piece)
        for _, element in parser.read_events():
            if element.getroottree().docinfo.internalDTD is not None:
                raise Fault("", DOCTYPE)
            if len(element.attrib) > MOST_ATTRIBUTES:
                raise Fault("", f"the root has more than {MOST_ATTRIBUTES:,} attributes")
            attributes = {str(name): str(text) for name, text in element.items()}
            return Root(str(element.tag), attributes, element.sourceline or 1)
        if broken:
            raise broken
    raise Fault("", FAR_ROOT)


def fed(parser: "XMLPullParser", piece: bytes | None) -> Fault | None:
    """Give bytes to the parser, None for the end; what was wrong with them, if anything was."""
    from lxml import etree

    try:
        if piece is None:
            parser.close()
        else:
            parser.feed(piece)
    except etree.XMLSyntaxError as error:
        return _broken(error, parser)
    return None


DOCTYPE = (
    "the file has a DOCTYPE, which can make a reader fetch or expand anything, and is not read; "
    "no measurement needs one: export it again, or take the DOCTYPE out of a copy"
)
NO_ROOT = "there is no element in this file; it may be cut off or empty"
FAR_ROOT = (
    "no element begins in the first 65,536 bytes of this file; take what stands before its first "
    "element out of a copy"
)


def check(head: bytes) -> None:
    """Refuse what is never parsed.

    Raises:
        Fault: no XML, a DOCTYPE, or an encoding that is not taken.
    """
    if not head.strip():
        raise Fault("", "the file is empty")
    text = _text(head)
    declared = _DECLARED.match(text.lstrip("\ufeff"))
    if declared and not _ENCODINGS.fullmatch(declared[1]):
        message = f"the encoding {declared[1]!r:.60} is not taken; save the file as UTF-8"
        raise Fault("line 1", message)
    if declared and "16" in declared[1] and head[:1] == b"<" and head[1:2] != b"\0":
        message = f"the file says it is in {declared[1]}, but it is not; save it as UTF-8"
        raise Fault("line 1", message)
    position = 1 if text.startswith("\ufeff") else 0
    while match := _PROLOG.match(text, position):
        position = match.end()
    rest = text[position : position + 9]
    if rest.startswith("<!DOCTYPE"):
        line = text.count("\n", 0, position) + 1
        raise Fault(f"line {line}", DOCTYPE)
    if not _ROOT.match(rest):
        if not rest or (len(head) >= HEAD_BYTES and rest.startswith("<")):
            raise Fault("", NO_ROOT if len(head) < HEAD_BYTES else FAR_ROOT)
        line = text.count("\n", 0, position) + 1
        message = f"here should begin an element, but there is {rest!r}"
        raise Fault(f"line {line}", f"{message}; if this is XML, save it as UTF-8")


def _broken(error: "XMLSyntaxError", parser: "XMLPullParser") -> Fault:
    """A fault of the XML itself: the first that the library names, since others follow from it.

    The log is the parser's own; that of the error holds faults of other files as well.
    """
    line, column = error.position
    reason = str(error.msg or "no reason given").partition(", line ")[0]
    for entry in parser.feed_error_log:
        if entry.level_name == "FATAL":
            line, column, reason = entry.line, entry.column, entry.message
            break
    for hint in (", use XML_PARSE_HUGE", ", try XML_PARSE_HUGE"):
        reason = reason.partition(hint)[0]
    if "bytes" in reason:
        reason += ": the file is not in the encoding that it names"
    return Fault(
        f"line {line}, column {column}",
        f"the XML is broken here ({' '.join(reason.split()).rstrip('.! ')[:160]}); what comes "
        "after is not read; export the file again",
    )


def _text(head: bytes) -> str:
    """The head as text, well enough to find what stands before the root element."""
    for mark, encoding in _MARKS:
        if head.startswith(mark):
            return head.decode(encoding, errors="replace")
    return head.decode("latin-1")
