"""Words of headings and titles of all tests, where the curves of one alone were looked at."""

from collections.abc import Iterable, Iterator, Sequence

from sweepbook.draft.parsed import Parsed
from sweepbook.draft.reading import Understood
from sweepbook_plugins.csv.draft.curves import TITLE, CurvesTable
from sweepbook_plugins.csv.draft.kinds import HEADING
from sweepbook_plugins.csv.draft.shape import Seen, Shape


def take(
    shapes: Iterable[Shape], curves: Sequence[tuple[Seen, CurvesTable]], found: Understood
) -> None:
    """Keep what words are spelt like in any test, of names that are made as those that are known.

    Args:
        shapes: the files.
        curves: the tables with a column a curve of the test that was looked at.
        found: what names are made of; takes the words.
    """
    axes = {table.titles[table.frequency] for _, table in curves}
    alike = [seen for shape in shapes for seen in shape.tables if not axes.isdisjoint(seen.titles)]
    seen = dict.fromkeys((of.heading, of.titles) for of in alike)
    for heading, titles in seen:
        above = list(_known([heading], HEADING, found))
        named = list(_known(titles, TITLE, found))
        for part in above:
            found.naming.take(part)
        for part in named:
            found.naming.take(part, found.naming.together([*above, part]))


def alike(templates: Iterable[str], slot: str, found: Understood) -> list[str]:
    """The templates of a slot that are some others but for great and small letters."""
    folded = {of.casefold() for of in templates}
    return [of for of in found.templates.get(slot, ()) if of.casefold() in folded]


def _known(texts: Iterable[str], slot: str, found: Understood) -> Iterator[Parsed]:
    """Those of some texts that a template of names stands for, in whatever letters; it is kept."""
    templates = found.templates.get(slot, [])
    for part in map(found.naming.parse, texts):
        if "{" in part.template and alike([part.template], slot, found):
            templates += [] if part.template in templates else [part.template]
            yield part
