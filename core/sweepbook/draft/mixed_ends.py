"""A word for the near end beside one for the far end that no list has together."""

from collections import Counter
from collections.abc import Sequence

from sweepbook.draft import phrases
from sweepbook.draft.parsed import Ends
from sweepbook.draft.trade_words import ENDS

_LEAST_LETTERS = 3
_LETTERED_OR_NUMBERED = (" a", " b", " 1", " 2")


def _alone(words: Sequence[str]) -> tuple[str, ...]:
    """Words that say near or far without the other beside them, each once."""
    told = (
        word
        for word in words
        if len(word) >= _LEAST_LETTERS and not word.endswith(_LETTERED_OR_NUMBERED)
    )
    return tuple(dict.fromkeys(told))


_NEAR = _alone([near for near, _ in ENDS])
_FAR = _alone([far for _, far in ENDS if far not in {near for near, _ in ENDS}])


def whole_words(texts: Sequence[str]) -> Ends | None:
    """The texts that are nothing but a word for near and one for far, the most seen of each."""
    near = Counter(_word(text) for text in texts if phrases.whole(text, _NEAR))
    far = Counter(_word(text) for text in texts if phrases.whole(text, _FAR))
    if not near or not far:
        return None
    return near.most_common(1)[0][0], far.most_common(1)[0][0]


def _word(text: str) -> str:
    return text.strip("\0 ()[]").casefold()
