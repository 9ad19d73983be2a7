"""Single figures in XML whose path names them as a key of a text table would."""

from collections.abc import Sequence

from sweepbook.dialect.parameters import quantity_of
from sweepbook.draft import called_as_units, phrases, worst_told
from sweepbook.draft.absent_words import NO_VERDICT, NOT_MEASURED
from sweepbook.draft.document import PARAMETER
from sweepbook.draft.evidence import Evidence, keep_figure
from sweepbook.draft.figure_words import role_of
from sweepbook.draft.key_offers import chosen_by, steps_of
from sweepbook.draft.numbers import is_numeric
from sweepbook.draft.reading import Understood, take_figure
from sweepbook.draft.trade_words import UNIT, VALUES

_NONE = tuple(of for of in (*NOT_MEASURED, *NO_VERDICT) if any(map(str.isalpha, of)))


def from_keys(evidence: Evidence, found: Understood) -> None:
    """Keep attributes and elements that are called by a parameter: figures, and what is stated.

    A loss is swept, so that a figure of one is a stated one, and has to be called so. What chooses
    one of several elements calls its text, as in row[c=Wire map verdict]/c[2].

    Args:
        evidence: its keys that are paths from a test; takes the texts.
        found: takes the keys.
    """
    called_as_units.learn(evidence.properties, found.naming)
    which: dict[str, list[str]] = {}
    for key, texts in evidence.properties.items():
        part = found.naming.parse(key)
        if key.startswith("/") or not part.parameter:
            continue
        loss = quantity_of(part.parameter[1]) == "loss"
        lacking = [text for text in texts if phrases.whole(text, NOT_MEASURED)]
        said = [text for text in texts if text not in lacking]
        judged = loss or found.naming.parse(steps_of(key)[-1].strip("@")).template == PARAMETER
        stated = _is_stated(key, part.template, said, loss=loss, judged=judged)
        if stated and take_figure(key, texts, found):
            continue
        if loss and _is_called(key):
            which[key] = texts
        elif not loss and _is_value(key, texts, found):
            values = [text for text in texts if not _is_none(text)]
            if take_figure(key, values, found):
                keep_figure(evidence, part.parameter[1], values)
                found.numbers.lack(filter(_is_none, texts))
    worst_told.take(which, found)


def _is_none(text: str) -> bool:
    """Whether a text says that there is no figure; beside numbers it may do so as of a verdict."""
    return phrases.whole(text, _NONE)


def _is_called(key: str) -> bool:
    """Whether a path names its text itself, and no element of several that it is one of."""
    return "[" not in key or bool(chosen_by(key))


def _is_stated(
    key: str, template: str, said: Sequence[str], *, loss: bool, judged: bool
) -> bool:  # fmt: skip
    """Whether a key is that of a verdict or of a worst margin.

    What is no loss has its verdict in an element of its own, unless its key is a text, or its last
    step names the parameter and nothing else (`judged`).
    """
    if not (_is_called(key) and (judged or chosen_by(key))):
        return False
    role = role_of(template, said) or ""
    return role == "verdict" or (loss and role.startswith("worst_margin"))


def _is_value(key: str, texts: Sequence[str], found: Understood) -> bool:
    """Whether a key holds numbers, and its last step names what they are; units are kept."""
    last = chosen_by(key) or steps_of(key)[-1].partition("[")[0].strip("@")
    named = found.naming.parse(last)
    of_a_pair = bool(named.pairs) and "/@" in key
    by_unit = called_as_units.last_step(key) in found.naming.called_as_units
    if not (named.parameter or of_a_pair or by_unit or phrases.whole(last, VALUES)):
        return False
    if phrases.has(last, UNIT):
        found.naming.take_unit(texts[0] if texts else "")
        return False
    numbers = [text for text in texts if not _is_none(text)]
    return bool(numbers) and all(map(is_numeric, numbers))
