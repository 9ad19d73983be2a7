"""Which of the judged curves and figures somebody asks about, by the words that a sheet shows."""

from collections.abc import Iterable, Sequence

from sweepbook.errors import SweepbookError
from sweepbook.judging.assessment import Assessment, Margin, ScalarMargin
from sweepbook.judging.phrases import name

Part = Margin | ScalarMargin


def parts(assessment: Assessment, question: str) -> tuple[Part, ...]:
    """The parts that are meant, the one nearest to failing first.

    Args:
        assessment: of one record.
        question: a parameter as the record or the trade writes it, and pairs and an end to say
            which curve: "next", "Return loss 3-6 far", "NEXT 3-6/4-5 near".

    Raises:
        SweepbookError: nothing that was judged is called so.
    """
    every: tuple[Part, ...] = (*assessment.margins, *assessment.scalars)
    words = _words(question)
    found = [part for part in every if _is_meant(part, words)]
    if not found:
        known = ", ".join(dict.fromkeys(part.parameter for part in every)) or "nothing"
        raise SweepbookError(
            f"Nothing that was judged is called {question!r}.",
            f"Judged here: {known}. Pairs and an end may follow: next 3-6/4-5 near.",
        )
    return nearest_first(found)


def nearest_first(found: Iterable[Part]) -> tuple[Part, ...]:
    """Parts by margin, the smallest first; those without one last."""
    return tuple(sorted(found, key=_margin))


def subject(part: Part) -> str:
    """A part as a sheet names it: "next 3-6/4-5 near"."""
    if isinstance(part, Margin):
        return " ".join(filter(None, (part.parameter, "/".join(part.pairs), part.end)))
    return " ".join(filter(None, (part.parameter, part.pair)))


def _words(text: str) -> list[str]:
    return text.casefold().replace("_", " ").replace(" to ", "/").split()


def _is_meant(part: Part, words: Sequence[str]) -> bool:
    """Whether the words begin with the parameter, and all others are its pairs or its end."""
    for spelling in (part.parameter, name(part.parameter)):
        head = _words(spelling)
        if list(words[: len(head)]) == head:
            rest = words[len(head) :]
            return all(word in _marks(part) for word in rest)
    return False


def _marks(part: Part) -> tuple[str, ...]:
    if isinstance(part, ScalarMargin):
        return (part.pair or "",)
    backwards = "/".join(reversed(part.pairs)) if part.parameter == "next" else ""
    return ("/".join(part.pairs), backwards, part.end or "")


def _margin(part: Part) -> float:
    margin = part.worst_margin_db if isinstance(part, Margin) else part.margin
    return float("inf") if margin is None else margin
