"""Lines of a Touchstone file, comments apart; nothing is kept but the comments, up to a bound."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import BinaryIO, NamedTuple

from sweepbook.dialect.raw import Fault

LONGEST_LINE = 65_536
MOST_COMMENTS = 200
_BOM = "\xef\xbb\xbf"
_NUMBERS = b"0123456789.+-eE \t\r\n"


class Line(NamedTuple):
    """A line without its comment.

    Attributes:
        number: counted from 1.
        text: without outer blanks, bytes read as Latin-1.
        plain: whether it holds nothing but what numbers are written with.
    """

    number: int
    text: str
    plain: bool = False

    @property
    def place(self) -> str:
        """Where it stands, for messages."""
        return f"line {self.number}"


@dataclass
class Comments:
    """What stands behind exclamation marks.

    Attributes:
        kept: the first 200, with the numbers of their lines; bytes read as Latin-1.
        more: how many others there are.
    """

    kept: list[Line] = field(default_factory=list)
    more: int = 0

    def add(self, number: int, text: str) -> None:
        """Take one; a blank one is none."""
        if not text:
            return
        if len(self.kept) < MOST_COMMENTS:
            self.kept.append(Line(number, text))
        else:
            self.more += 1


class Lines:
    """The lines of a file that hold more than a comment; one can be put back.

    Args:
        stream: the file's bytes.
    """

    def __init__(self, stream: BinaryIO) -> None:
        self.comments = Comments()
        self.last = 0
        self._back: list[Line] = []
        self._lines = self._read(stream)

    def __iter__(self) -> Iterator[Line]:
        return self

    def __next__(self) -> Line:
        return self._back.pop() if self._back else next(self._lines)

    def put_back(self, line: Line) -> None:
        """Have a line come again."""
        self._back.append(line)

    def _read(self, stream: BinaryIO) -> Iterator[Line]:
        """Yield what is left of each line.

        Raises:
            Fault: a line is none.
        """
        number = 0
        while raw := stream.readline(LONGEST_LINE + 1):
            number += 1
            if not raw.translate(None, _NUMBERS) and len(raw) <= LONGEST_LINE:
                self.last = number
                if text := raw.decode("ascii").strip():
                    yield Line(number, text, plain=True)
                continue
            line = raw.decode("latin-1")
            if number == 1:
                line = line.removeprefix(_BOM)
            _hold(line, f"line {number}")
            self.last = number
            content, mark, comment = line.partition("!")
            if mark:
                self.comments.add(number, comment.strip())
            if content := content.strip():
                yield Line(number, content)


def _hold(line: str, place: str) -> None:
    """Refuse a line that is none.

    Raises:
        Fault: it is longer than 65,536 bytes, or holds a zero byte or a lone carriage return.
    """
    if "\0" in line:
        raise Fault(place, "a zero byte; save the file as plain text, not as UTF-16")
    if "\r" in line.removesuffix("\n").removesuffix("\r"):
        raise Fault(place, "a carriage return alone; save the file with line feeds")
    if len(line) > LONGEST_LINE:
        raise Fault(place, f"it is longer than {LONGEST_LINE:,} bytes, which no line here is")
