"""The titles of columns: texts of elements beside the rows, or all of them in one text."""

from collections import Counter
from collections.abc import Sequence
from typing import TYPE_CHECKING

from sweepbook_plugins.xml.layout import TitlesForm
from sweepbook_plugins.xml.tree import every, text_at, text_of

if TYPE_CHECKING:
    from lxml.etree import _Element

    from sweepbook_plugins.xml.paths import Path

_OTHERWISE = (
    "where other texts of its element tell what a column is, {0}.titles = {{ path, texts }} makes "
    "one title of all of them"
)


def titles_of(table: "_Element", form: TitlesForm) -> list[str]:
    """The titles of the columns: one element each, of one or several texts, or all in one text."""
    if form.texts:
        return [_made(each, form.texts) for each in every(table, form.path)]
    texts = texts_at(table, form.path)
    if len(texts) != 1:
        return texts
    titles = parted(texts[0], form.separator)
    return titles[:-1] if titles and not titles[-1] else titles


def _made(column: "_Element", texts: Sequence["Path"]) -> str:
    """A title of several texts, with a blank between those that are there."""
    found = ((text_at(column, path) or "").strip() for path in texts)
    return " ".join(filter(None, found))


def fault(called: Sequence[str], titles: TitlesForm) -> str:
    """What to say of texts that do not tell columns apart; "" where they do."""
    otherwise = _OTHERWISE.format(titles.where)
    if not any(called):
        where = f"{titles.where}.titles"
        return f"none of its {len(called)} columns has a text where {where} names one; {otherwise}"
    doubled = (of for of, times in Counter(called).items() if times > 1 and of not in titles.others)
    if double := next(doubled, None):
        return (
            f"the title {double!r} comes twice, so that nobody can tell its columns apart; "
            f"{otherwise}; if nothing is to be read from them, name it in other_columns of "
            f"{titles.where}"
        )
    return ""


def texts_at(element: "_Element", path: "Path") -> list[str]:
    """The texts at a path, "" for those that hold nothing."""
    if not path.steps:
        return [(text_at(element, path) or "").strip()]
    found = every(element, path)
    if path.attribute is not None:
        return [(each.get(path.attribute) or "").strip() for each in found]
    return [text_of(each).strip() for each in found]


def parted(text: str, separator: str | None) -> list[str]:
    """The parts of a text without blanks around them; at blanks where nothing else parts them."""
    return text.split() if separator is None else [of.strip() for of in text.split(separator)]
