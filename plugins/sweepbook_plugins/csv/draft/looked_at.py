"""Files of one make as the draft sees them: their texts put in order, and their lines sorted."""

from collections.abc import Collection, Sequence

from sweepbook_plugins.csv.draft.regrouped import regrouped
from sweepbook_plugins.csv.draft.sections import Looked
from sweepbook_plugins.csv.draft.tables import shape_of
from sweepbook_plugins.csv.draft.text import Text
from sweepbook_plugins.csv.draft.turned import turn
from sweepbook_plugins.csv.draft.uneven import uneven


def look(texts: Sequence[Text]) -> list[Looked]:
    """Look at the texts of files of one make.

    The last table of one may look turned where the rows below its titles are not, as others show.
    """
    looked = [_looked(turn(text)) for text in texts]
    upright = {of.titles for text, shape in looked if not text.turned for of in shape.tables}
    return [
        _looked(text, upright) if one[0].turned and _has_titles(text, upright) else one
        for text, one in zip(texts, looked, strict=True)
    ]


def _looked(text: Text, known: Collection[tuple[str, ...]] = ()) -> Looked:
    text = uneven(regrouped(text))
    return text, shape_of(text, known=known)


def _has_titles(text: Text, titles: Collection[tuple[str, ...]]) -> bool:
    return any(tuple(row) in titles for row in text.rows)
