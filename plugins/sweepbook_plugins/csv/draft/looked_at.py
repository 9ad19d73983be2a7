"""Files of one make as the draft sees them: their texts put in order, and their lines sorted."""

from collections import Counter
from collections.abc import Collection, Sequence

from sweepbook_plugins.csv.draft.closed_up import closed_up
from sweepbook_plugins.csv.draft.regrouped import regrouped
from sweepbook_plugins.csv.draft.sections import Looked
from sweepbook_plugins.csv.draft.shape import Shape
from sweepbook_plugins.csv.draft.tables import shape_of
from sweepbook_plugins.csv.draft.text import Text
from sweepbook_plugins.csv.draft.turned import turn
from sweepbook_plugins.csv.draft.uneven import uneven


def look(texts: Sequence[Text]) -> list[Looked]:
    """Look at the texts of files of one make.

    The last table of one may look turned where the rows below its titles are not, as in more files.
    """
    texts = [*map(closed_up, texts)]
    looked = [_looked(turn(text)) for text in texts]
    upright = Counter(
        titles for text, shape in looked if not text.turned for titles in _titles(shape)
    )
    turned = [text for text, one in zip(texts, looked, strict=True) if one[0].turned]
    known = {of for of, count in upright.items() if count > sum(_holds(one, of) for one in turned)}
    return [
        _looked(text, known) if one[0].turned and any(_holds(text, of) for of in known) else one
        for text, one in zip(texts, looked, strict=True)
    ]


def _titles(shape: Shape) -> set[tuple[str, ...]]:
    return {seen.titles for seen in shape.tables}


def _holds(text: Text, titles: tuple[str, ...]) -> bool:
    return any(tuple(row) == titles for row in text.rows)


def _looked(text: Text, known: Collection[tuple[str, ...]] = ()) -> Looked:
    text = uneven(regrouped(text))
    return text, shape_of(text, known=known)
