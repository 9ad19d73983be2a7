"""Keys in `extra` that read as a single figure, each with what a dialect lacks to take it."""

import re
from collections.abc import Collection, Iterator, Mapping, Sequence

from sweepbook.dialect.model import Dialect
from sweepbook.dialect.parameters import parameters, quantity_of
from sweepbook.draft import phrases as draft_phrases
from sweepbook.draft.document import bare, quoted
from sweepbook.draft.figure_words import MARGIN_ROLE, role_of
from sweepbook.draft.naming import Naming, settle
from sweepbook.draft.trade_words import WORST
from sweepbook.judging import phrases
from sweepbook.trial.stated_left import says_which
from sweepbook.trial.usable import Usable


def figures(
    single: Mapping[str, Sequence[str]], usable: Usable, with_margin: Collection[str]
) -> Iterator[tuple[str, str]]:
    """Yield a key and what to add to the dialect, where that can be used and finds the key.

    Of what a record has for each pair there is no figure without one; that is told elsewhere. What
    stands beside a worst margin, its pair, its frequency and the value there, is no worst value.

    Args:
        single: texts by key, one each.
        usable: tries what is proposed.
        with_margin: parameters of which a worst margin is stated.
    """
    naming = settle(list(single))
    words = usable.dialect.meaning.words
    ends = [text for text in words.ends if text]
    named = {*ends, *words.pairs}
    found = [(key, *_read(key, texts, naming, ends)) for key, texts in single.items()]
    margins = {*with_margin, *(word for _, role, _, _, word in found if role == MARGIN_ROLE)}
    seen: set[str] = set()
    for key, role, template, spelling, word in found:
        if not role or template in seen:
            continue
        if role == MARGIN_ROLE and says_which(key.rpartition("/")[2], single[key], named):
            continue
        if role == "value" and not _may_be_figure(word, len(naming.parse(key).pairs)):
            continue
        if role.startswith("worst_value") and (word in margins or not _says_worst(key)):
            continue
        if not usable.figure(role, template, word, spelling, key):
            continue
        seen.add(template)
        if lacks := " and ".join(_lacking(role, template, spelling, word, usable.dialect)):
            yield key, f"{key!r} reads as {phrases.name(word)}: {lacks}"


def _read(
    key: str, texts: Sequence[str], naming: Naming, ends: Sequence[str]
) -> tuple[str, str, str, str]:
    """Role, template, spelling and parameter of a key; without a role it is none."""
    part = naming.parse(key)
    role = role_of(part.template, texts) if part.parameter and part.clean else None
    if not role or not part.parameter:
        return "", "", "", ""
    template = part.template
    for text in ends if "{end}" not in template else ():
        template = re.sub(rf"(?<![\w}}]){re.escape(text)}(?![\w{{])", "{end}", template, count=1)
    return role, template if template.count("{end}") < 2 else part.template, *part.parameter


def _says_worst(key: str) -> bool:
    """Whether the last step of a key says that it is the worst, and not only what is around it."""
    return draft_phrases.has(key.rpartition("/")[2], WORST)


def _may_be_figure(word: str, pairs: int) -> bool:
    """Whether a parameter has single values at all, of so many pairs: a loss is a curve."""
    return quantity_of(word) not in ("", "loss") and pairs in parameters()[word].pairs


def _lacking(role: str, template: str, spelling: str, word: str, dialect: Dialect) -> Iterator[str]:
    """What a dialect lacks of a template and the word in it."""
    there = dialect.meaning.figures.get(role, ())
    if template not in there:
        yield f"add {role} = {quoted(template)}{_beside(there)}"
    known = dialect.meaning.words.parameters
    if word not in known.get(spelling, ()):
        others = [text for text, words in known.items() if word in words]
        yield f"add {bare(word)} = {quoted(spelling)}{_beside(others)} in [words.parameters]"


def _beside(there: Sequence[str]) -> str:
    return f" beside {', '.join(map(quoted, there))}" if there else ""
