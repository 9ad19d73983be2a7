"""The form of a point as pieces of text between marks of markup, made from the first point."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from html import unescape
from typing import TYPE_CHECKING, NamedTuple

from sweepbook_plugins.xml.layout import PointForm
from sweepbook_plugins.xml.paths import Path

if TYPE_CHECKING:
    from lxml.etree import _Element

HERE = Path(False, 0, (), None)


class Tag(NamedTuple):
    """A tag.

    Attributes:
        text: the tag without what stands between quotes: `p hz=`, `/p`.
        attributes: what each attribute is, "" for nothing of use.
    """

    text: str
    attributes: tuple[str, ...] = ()


class Text(NamedTuple):
    """A text between tags.

    Attributes:
        what: what it is, "" for blanks.
    """

    what: str


Last = dict[Tag, tuple[list[str], dict[str, list[str]] | None]]
"""Tags of a curve with attributes, by their form, and what these held."""


@dataclass(frozen=True)
class Slots:
    """The pieces of one point, in order: a tag, a text, a tag, a text, and so on.

    Attributes:
        pieces: what each piece is.
    """

    pieces: tuple[Tag | Text, ...]

    @property
    def period(self) -> int:
        """How many pieces a point has, with the text after it."""
        return len(self.pieces)

    def begins(self, tag: str) -> bool:
        """Whether a point begins with this tag."""
        first = self.pieces[0]
        return isinstance(first, Tag) and _name(tag) == _name(first.text)

    def columns(
        self, pieces: list[str], begin: int, count: int, last: Last
    ) -> Mapping[str, Sequence[str]] | None:
        """The texts of points one after the other; None if they are not all of this form.

        Args:
            pieces: texts and tags, in turn.
            begin: position of the first tag of the first point.
            count: how many points there must be.
            last: tags of the curve before and what they held, since frequencies mostly stay.

        Returns:
            `count` texts for each of "value" and "frequency" that the form names.
        """
        end = begin + count * self.period
        if end > len(pieces):
            return None
        found: dict[str, Sequence[str]] = {}
        for at, slot in enumerate(self.pieces):
            column = pieces[begin + at : end : self.period]
            if isinstance(slot, Text):
                if slot.what:
                    found[slot.what] = _plain(column)
                elif "".join(column).strip():
                    return None
            elif not slot.attributes:
                if not _all(slot.text, column):
                    return None
            else:
                known, inner = last.get(slot, ([], None))
                if column != known:
                    inner = _attributes(column, slot, count)
                    last[slot] = (column, inner)
                if inner is None:
                    return None
                found |= inner
        return found


def slots_of(first: "_Element", form: PointForm) -> Slots | None:
    """The form of points, after the first of them; None where it holds what the dialect wants kept.

    Args:
        first: the first point.
        form: what is looked for in it.
    """
    sources = {form.value: "value"}
    if form.frequency is not None:
        sources[form.frequency] = "frequency"
    maker = _Maker(sources, form.ignored)
    pieces = maker.element(first, HERE)
    if pieces is None or sorted(maker.met) != sorted(sources.values()):
        return None
    return Slots((*pieces, Text("")))


class _Maker:
    """Puts the pieces of an element together as the library writes them."""

    def __init__(self, sources: Mapping[Path, str], ignored: frozenset[Path]) -> None:
        self._sources = sources
        self._ignored = ignored
        self.met: list[str] = []

    def element(self, element: "_Element", path: Path) -> list[Tag | Text] | None:
        """The pieces of an element and all in it, without the text after it."""
        called = _called(element)
        names = []
        for name in map(str, element.attrib):
            at = path._replace(attribute=name)
            if "}" in name or (at not in self._sources and at not in self._ignored):
                return None
            names.append((name, self._met(at)))
        filled = bool(len(element) or element.text)
        shape = "".join([called, *(f" {name}=" for name, _ in names), "" if filled else "/"])
        tag = Tag(shape, tuple(what for _, what in names))
        if not filled:
            return [tag]
        pieces: list[Tag | Text] = [tag, Text(self._met(path))]
        for child in element:
            inner = self._child(child, path)
            if inner is None:
                return None
            pieces += [*inner, Text("")]
        return [*pieces, Tag(f"/{called}")]

    def _child(self, child: "_Element", path: Path) -> list[Tag | Text] | None:
        """The pieces of a child that holds the frequency or the value."""
        steps = [of.steps[-1] for of in self._sources if len(of.steps) == len(path.steps) + 1]
        step = next((each for each in steps if each.tag == child.tag), None)
        if step is None or step.conditions:
            return None
        return self.element(child, path._replace(steps=(*path.steps, step)))

    def _met(self, path: Path) -> str:
        """What stands at a path; "" for nothing of use."""
        what = self._sources.get(path, "")
        if what:
            self.met.append(what)
        return what


def _attributes(column: list[str], tag: Tag, count: int) -> dict[str, list[str]] | None:
    """The attributes of tags that are alike but for their values."""
    parts = '"'.join(column).split('"')
    period = 2 * len(tag.attributes) + 1
    if len(parts) != count * period:
        return None
    shape = []
    for at in range(0, period, 2):
        constant = parts[at::period]
        if not _all(constant[0], constant):
            return None
        shape.append(constant[0])
    if "".join(shape) != tag.text:
        return None
    return {
        what: _plain(parts[2 * at + 1 :: period]) for at, what in enumerate(tag.attributes) if what
    }


def _all(text: str, column: Sequence[str]) -> bool:
    """Whether all texts are this one; those that differ but join to the same do not pass."""
    return "\0".join(column) == "\0".join([text] * len(column))


def _plain(column: list[str]) -> list[str]:
    """Texts without blanks around them, and with marks of markup that were written as names."""
    joined = "".join(column)
    if not joined.isascii() or any(blank in joined for blank in " \n\t\r"):
        column = list(map(str.strip, column))
    return list(map(unescape, column)) if "&" in joined else column


def _name(tag: str) -> str:
    """The name in a tag."""
    return tag.partition(" ")[0].rstrip("/")


def _called(element: "_Element") -> str:
    """The name of an element as it stands in the text."""
    local = str(element.tag).rpartition("}")[2]
    return f"{element.prefix}:{local}" if element.prefix else local
