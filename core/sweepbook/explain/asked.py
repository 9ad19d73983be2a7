"""Which of the judged curves and figures somebody asks about, by the words that a sheet shows."""

from collections.abc import Iterable, Sequence
from difflib import get_close_matches
from typing import NamedTuple

from sweepbook.errors import SweepbookError
from sweepbook.judging.assessment import Assessment, Margin, Outcome, ScalarMargin
from sweepbook.judging.phrases import name
from sweepbook.judging.working import Lack, LackKind

Part = Margin | ScalarMargin

_GRAVITY = (Outcome.FAIL, Outcome.UNDECIDED, Outcome.PASS, Outcome.NOT_EVALUATED)
_ENDS = ("near", "far")
_ABSENT = (LackKind.PARAMETER, LackKind.END, LackKind.PAIRS)
"""What no part is there of; other lacks are the reason why a part is undecided."""


class Meant(NamedTuple):
    """What a question is about.

    Attributes:
        parts: judged curves and figures, failing and undecided ones first.
        lacks: curves of it that a full proof needs and that are not there.
    """

    parts: tuple[Part, ...]
    lacks: tuple[Lack, ...]


def meant(assessment: Assessment, lacks: Iterable[Lack], question: str) -> Meant:
    """What is asked about.

    Args:
        assessment: of one record.
        lacks: what its working found missing.
        question: a parameter as the record or the trade writes it, and pairs and an end to say
            which curve: "next", "Return loss 3-6 far", "NEXT 3-6/4-5 near".

    Raises:
        SweepbookError: nothing that was judged or is missing is called so.
    """
    every: tuple[Part, ...] = (*assessment.margins, *assessment.scalars)
    words = _words(question)
    parts = gravest_first(part for part in every if _is_meant(part, words))
    missing = tuple(lack for lack in lacks if lack.kind in _ABSENT and _is_lacking(lack, words))
    if not parts and not missing:
        raise _unknown(every, question, words)
    return Meant(parts, missing)


def gravest_first(found: Iterable[Part]) -> tuple[Part, ...]:
    """Failing parts, undecided ones, then those that pass, each the nearest to failing first."""
    return tuple(sorted(found, key=lambda part: (_GRAVITY.index(part.outcome), margin(part))))


def subject(part: Part) -> str:
    """A part as a sheet names it: "next 3-6/4-5 near"."""
    if isinstance(part, Margin):
        return " ".join(filter(None, (part.parameter, "/".join(part.pairs), part.end)))
    return " ".join(filter(None, (part.parameter, part.pair)))


def _words(text: str) -> list[str]:
    return text.casefold().replace("_", " ").replace(" to ", "/").split()


def _is_meant(part: Part, words: Sequence[str]) -> bool:
    """Whether the words begin with the parameter, and all others are its pairs or its end."""
    rest = _after(part.parameter, words)
    return rest is not None and all(word in _marks(part) for word in rest)


def _is_lacking(lack: Lack, words: Sequence[str]) -> bool:
    """Whether the words name what is missing, or one of all the curves that are."""
    rest = _after(lack.parameter, words)
    if rest is None:
        return False
    pairs = [word for word in rest if word not in _ENDS]
    ends = [word for word in rest if word in _ENDS]
    both = {"/".join(lack.pairs), "/".join(reversed(lack.pairs))}
    of_pairs = not lack.pairs or all(word in both for word in pairs)
    return of_pairs and (lack.end is None or all(word == lack.end for word in ends))


def _after(parameter: str, words: Sequence[str]) -> Sequence[str] | None:
    """The words after the name of a parameter; None where they do not begin with it."""
    for spelling in (parameter, name(parameter)):
        head = _words(spelling)
        if list(words[: len(head)]) == head:
            return words[len(head) :]
    return None


def _unknown(every: Sequence[Part], question: str, words: Sequence[str]) -> SweepbookError:
    """What to ask instead: the curves of a known parameter, else the parameter most like it."""
    message = f"Nothing that was judged is called {question!r}."
    named = [part for part in every if _after(part.parameter, words) is not None]
    if named:
        listed = ", ".join(map(subject, named))
        return SweepbookError(message, f"Judged of it: {listed}.")
    known = dict.fromkeys(part.parameter for part in every)
    spellings = {_squeezed(text): of for of in known for text in (of, name(of))}
    head = _squeezed("".join(w for w in words if w not in _ENDS and not w[0].isdigit()))
    near = get_close_matches(head, spellings, n=1, cutoff=0.7)
    hint = f"Did you mean {spellings[near[0]]!r}? " if near else ""
    return SweepbookError(
        message,
        f"{hint}Judged here: {', '.join(known) or 'nothing'}. Pairs and an end may follow: next "
        "3-6/4-5 near.",
    )


def _squeezed(text: str) -> str:
    return "".join(char for char in text.casefold() if char.isalnum())


def _marks(part: Part) -> tuple[str, ...]:
    if isinstance(part, ScalarMargin):
        return (part.pair or "",)
    backwards = "/".join(reversed(part.pairs)) if part.parameter == "next" else ""
    return ("/".join(part.pairs), backwards, part.end or "")


def margin(part: Part) -> float:
    """The margin in the unit of the part; infinite where it has none."""
    found = part.worst_margin_db if isinstance(part, Margin) else part.margin
    return float("inf") if found is None else found
