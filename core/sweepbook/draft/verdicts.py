"""Words for verdicts as exports have them: pass, fail, a near one, none."""

import re
from collections.abc import Sequence

from sweepbook.dialect.verdict_words import ANSWERS, VERDICTS
from sweepbook.draft import phrases, spellings
from sweepbook.draft.absent_words import NO_VERDICT, NOT, NOT_MEASURED, is_dash
from sweepbook.draft.trade_words import MARGINAL, TONGUES
from sweepbook.word_lists import words_of

_VERDICTS = {spellings.folded(text): word for word, some in VERDICTS.items() for text in some}
_MARGINAL = spellings.expression(MARGINAL)
_NOT = [spellings.folded(word) for word in NOT]
_ANSWERS = {spellings.folded(text) for text in ANSWERS}
_ASK = (
    *words_of(
        """
        pass fail, pass/fail, p/f, passed, pass, ok, good, accepted, verdict, result, overall,
        outcome, evaluation
        """
    ),
    *(word for of in TONGUES for word in of.KEYS["stated.overall"]),
)


def verdict_of(text: str) -> str | None:
    """The record's word for a verdict, where the trade knows it."""
    said = plain(text)
    return _VERDICTS.get(said) or marginal_of(text) or _turned(said)


def are_verdicts(texts: Sequence[str]) -> bool:
    """Whether texts are verdicts, one at least, and words that there is none."""
    said = [text for text in texts if not states_none(text)]
    return bool(said) and all(map(verdict_of, said))


def states_none(text: str) -> bool:
    """Whether a text stands where a verdict stands and states none.

    A sign such as a cross states one, though no word of the trade says which.
    """
    return is_dash(text) or phrases.whole(text, (*NO_VERDICT, *NOT_MEASURED))


def plain(text: str) -> str:
    """A text for comparison, "i. O." as "i.o."."""
    return re.sub(r"\.\s+", ".", spellings.folded(text))


def _turned(text: str) -> str | None:
    """The word for a fail that is one for a pass with a word for not before or behind it."""
    words = text.split()
    rests = [words[1:] if words[:1] == [of] else words[:-1] for of in _NOT if of in words]
    passed = any(_VERDICTS.get(" ".join(rest)) == "pass" for rest in rests)
    return "fail" if passed else None


def marginal_of(text: str) -> str | None:
    """pass* or fail* for a verdict with a word beside it that it is a near one."""
    rest = _MARGINAL.sub(" ", text).strip(" -_,;:()[]/*")
    word = _VERDICTS.get(spellings.folded(rest)) if rest != text.strip() else None
    return f"{word}*" if word in ("pass", "fail") else None


def asks_for_a_pass(key: str, texts: Sequence[str]) -> bool:
    """Whether words such as yes and true are a verdict here: where the key asks for a pass.

    "Failed: yes" is the contrary of one, and "Screened: yes" is none.
    """
    asked = phrases.find(key, {"ask": _ASK, "contrary": ("failed", "fail", "failure")})
    if asked and asked.meaning == "contrary":
        return False
    answers = any(spellings.folded(text) in _ANSWERS for text in texts)
    return not answers or asked is not None
