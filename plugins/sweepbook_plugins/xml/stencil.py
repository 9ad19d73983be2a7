"""The markup of a point as constant pieces with holes between, made from the first point.

Points that are alike but for their numbers are these pieces over and over. So the pieces are
replaced by one mark each in the whole text of a curve, and what is left are the numbers. Where any
other markup is left, or the marks are not in their order, the points are not alike.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from html import unescape
from typing import TYPE_CHECKING

from sweepbook.tokens import Tokens
from sweepbook_plugins.xml.head import MOST_ATTRIBUTES
from sweepbook_plugins.xml.layout import PointForm
from sweepbook_plugins.xml.paths import Path, Step
from sweepbook_plugins.xml.tree import is_at

if TYPE_CHECKING:
    import numpy as np
    from lxml.etree import _Element
    from numpy.typing import NDArray

HERE = Path(False, 0, (), None)
MOST_HOLES = 8
MARKS = bytes(range(1, MOST_HOLES + 1))
"""Characters that no XML can hold: the first ends a point, the others stand between its holes."""

_AS_IT_STANDS = re.compile(r"[^<>&\"\s]*")
"""A value of an attribute that the library writes without a change."""

_LINES = bytes.maketrans(MARKS, b"\n" * MOST_HOLES)
_BLANKS = (b" ", b"\n", b"\t", b"\r")


@dataclass(frozen=True)
class Hole:
    """A place in the markup of a point where each has its own text.

    Attributes:
        what: what stands there, "" for a text that means nothing.
        quoted: whether it is the value of an attribute.
    """

    what: str
    quoted: bool


@dataclass(frozen=True)
class Stencil:
    """The markup of one point.

    Attributes:
        constants: one piece of markup before each hole, and one after the last.
        holes: what is between them.
        after: the blanks between two points.
    """

    constants: tuple[bytes, ...]
    holes: tuple[Hole, ...]
    after: bytes

    def columns(self, text: bytes) -> Mapping[str, Sequence[str]] | None:
        """The texts of points one after the other; None if they are not all of this form.

        Args:
            text: the curve element as the library writes it.

        Returns:
            n texts for each of "value" and "frequency" that the form names, and what stands in the
            curve beside the n points, as "".
        """
        import numpy as np

        first, last = self.constants[0], self.constants[-1]
        begin, end = text.find(first), text.rfind(last)
        if begin < 0 or end < begin:
            return None
        body = text[begin + len(first) : end].replace(last + self.after + first, MARKS[:1])
        for mark, constant in enumerate(self.constants[1:-1], 1):
            body = body.replace(constant, MARKS[mark : mark + 1])
        if b"<" in body or b">" in body:
            return None
        raw = np.frombuffer(body, dtype=np.uint8)
        marks = raw <= MOST_HOLES
        if not self._in_order(raw[marks].tobytes()):
            return None
        found = self._taken(raw, marks)
        if found is None:
            return None
        beside = text[text.index(b">") + 1 : begin] + text[end + len(last) : text.rindex(b"<")]
        return found | {"": [beside.decode()]}

    def _in_order(self, marks: bytes) -> bool:
        """Whether these are the marks of whole points, without the one after the last."""
        holes = len(self.holes)
        point = MARKS[1:holes] + MARKS[:1]
        return marks + MARKS[:1] == point * ((len(marks) + 1) // holes)

    def _taken(
        self, raw: "NDArray[np.uint8]", marks: "NDArray[np.bool_]"
    ) -> dict[str, Sequence[str]] | None:
        """The texts of each hole; None where one of an attribute holds a quote, so is none."""
        import numpy as np

        count = len(self.holes)
        holes: NDArray[np.uint8 | np.int32]
        if 256 % count == 0:  # bytes begin again at 0 with a point
            holes = np.cumsum(marks, dtype=np.uint8) & np.uint8(count - 1)
        else:
            holes = np.cumsum(marks, dtype=np.int32) % count
        found: dict[str, Sequence[str]] = {}
        for at, hole in enumerate(self.holes):
            column = raw[holes == at].tobytes()[1 if at else 0 :]
            if hole.quoted and b'"' in column:
                return None
            if hole.what:
                found[hole.what] = plain(column)
        return found


def stencil_of(first: "_Element", form: PointForm) -> Stencil | None:
    """The form of points, after the first of them; None where it holds what the dialect wants kept.

    Args:
        first: the first point.
        form: what is looked for in it.
    """
    sources = {form.value: "value"}
    if form.frequency is not None:
        sources[form.frequency] = "frequency"
    stencil = of_element(first, Sought(sources, form.ignored))
    if stencil is None or len(stencil.holes) > MOST_HOLES:
        return None
    met = sorted(hole.what for hole in stencil.holes if hole.what)
    return stencil if met == sorted(sources.values()) else None


class Sought:
    """What is looked for in elements.

    Args:
        sources: what stands at which path from an element.
        ignored: paths of what means nothing.
    """

    def __init__(self, sources: Mapping[Path, str], ignored: frozenset[Path]) -> None:
        self.sources = sources
        self.ignored = {_tags(path) for path in ignored}
        self.steps: dict[tuple[int, str], list[Step]] = {}
        for path in (*sources, *(of for of in ignored if of.attribute is None)):
            for depth, step in enumerate(path.steps[-1:], len(path.steps)):
                self.steps.setdefault((depth, step.tag), []).append(step)


def of_element(first: "_Element", sought: Sought) -> Stencil | None:
    """The markup of an element; None where there is anything in it that is not looked for.

    Args:
        first: the element, and the blanks after it.
        sought: what is looked for.
    """
    maker = _Maker(sought)
    after = first.tail or ""
    if not maker.element(first, HERE) or after.strip():
        return None
    holes = tuple(piece for piece in maker.pieces if isinstance(piece, Hole))
    return Stencil(tuple(maker.constants()), holes, after.encode())


class _Maker:
    """Puts the pieces of an element together as the library writes them."""

    def __init__(self, sought: Sought) -> None:
        self._sources = sought.sources
        self._ignored = sought.ignored
        self._steps = sought.steps
        self.pieces: list[str | Hole] = []

    def constants(self) -> list[bytes]:
        """The markup between holes, one piece more than these."""
        found = [""]
        for piece in self.pieces:
            if isinstance(piece, Hole):
                found.append("")
            else:
                found[-1] += piece
        return [piece.encode() for piece in found]

    def element(self, element: "_Element", path: Path) -> bool:
        """Add the pieces of an element without the text after it; whether that can be done.

        Attributes are counted first: the library looks for the value of each among all of them.
        """
        if len(element.attrib) > MOST_ATTRIBUTES:
            return False
        called = _called(element)
        self.pieces.append(f"<{called}")
        choosing = {of.name for of in path.steps[-1].conditions} if path.steps else ()
        for name, value in element.items():
            at = path._replace(attribute=name)
            if "}" in name:
                return False
            if at in self._sources or _tags(at) in self._ignored:
                self.pieces += [f' {name}="', Hole(self._sources.get(at, ""), quoted=True), '"']
            elif name in choosing and _AS_IT_STANDS.fullmatch(value):
                self.pieces.append(f' {name}="{value}"')
            else:
                return False
        text = element.text or ""
        if not (text or len(element)):
            self.pieces.append("/>")
            return True
        self.pieces.append(">")
        if path in self._sources or (path.steps and _tags(path) in self._ignored):
            self.pieces.append(Hole(self._sources.get(path, ""), quoted=False))
        elif text.strip():
            return False
        else:
            self.pieces.append(text)
        if not all(self._child(child, path) for child in element):
            return False
        self.pieces.append(f"</{called}>")
        return True

    def _child(self, child: "_Element", path: Path) -> bool:
        """Add the pieces of a child that holds the frequency or the value."""
        steps = self._steps.get((len(path.steps) + 1, str(child.tag)), ())
        step = next((each for each in steps if is_at(child, each)), None)
        after = child.tail or ""
        if step is None or after.strip():
            return False
        if not self.element(child, path._replace(steps=(*path.steps, step))):
            return False
        self.pieces.append(after)
        return True


def plain(column: bytes) -> Sequence[str]:
    """The texts between marks, without blanks around them and with their marks of markup back."""
    if column.isascii() and not any(blank in column for blank in _BLANKS):
        lines = column.translate(_LINES)
        if b"&" in lines:  # to look for one byte is quicker than to replace none of several
            lines = lines.replace(b"&lt;", b"<").replace(b"&gt;", b">")
        if b"&" not in lines:
            return Tokens(lines)
    texts = column.translate(bytes.maketrans(MARKS, MARKS[:1] * MOST_HOLES)).decode()
    return [unescape(text.strip()) for text in texts.split(MARKS[:1].decode())]


def _tags(path: Path) -> tuple[tuple[str, ...], str | None]:
    """A path without what chooses its elements."""
    return tuple(step.tag for step in path.steps), path.attribute


def _called(element: "_Element") -> str:
    """The name of an element as it stands in the text."""
    local = str(element.tag).rpartition("}")[2]
    return f"{element.prefix}:{local}" if element.prefix else local
