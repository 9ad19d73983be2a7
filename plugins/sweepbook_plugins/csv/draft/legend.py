"""Lines that explain how an export calls pairs and ends, and in which units it counts."""

from collections.abc import Iterator, Sequence

from sweepbook.draft.legend import Legend, legend
from sweepbook_plugins.csv.draft.shape import Shape
from sweepbook_plugins.csv.draft.text import Text

_MOST_CELLS = 12
_MOST_LINES = 500


def legend_of(looked: Sequence[tuple[Text, Shape]]) -> Legend:
    """What the lines of some files explain that are in no table with numbers."""
    groups: dict[tuple[tuple[str, ...], ...], None] = {}
    remarks: dict[str, None] = {}
    for text, shape in looked:
        lines = _loose(text, shape)
        groups |= dict.fromkeys(_groups(text, lines))
        for at in lines:
            remarks |= dict.fromkeys((text.lines[at].strip(), *text.cells(at)))
    return legend(list(groups), list(remarks))


def _loose(text: Text, shape: Shape) -> list[int]:
    """Positions of the first lines that are in no table."""
    tables = {at for seen in shape.tables for at in range(seen.start, seen.stop)}
    return [at for at in range(len(text.lines)) if at not in tables][:_MOST_LINES]


def _groups(text: Text, lines: Sequence[int]) -> Iterator[tuple[tuple[str, ...], ...]]:
    """Lines that stand together, as cells that hold something."""
    group: list[tuple[str, ...]] = []
    for at in lines:
        cells = tuple(filter(None, text.cells(at)))
        if not cells:
            yield tuple(group)
            group = []
        elif len(cells) <= _MOST_CELLS:
            group.append(cells)
    yield tuple(group)
