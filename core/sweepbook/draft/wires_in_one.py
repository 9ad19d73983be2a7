"""Wire maps of which one text holds the contacts of both ends: "12345678-12345678"."""

import re
from collections.abc import Callable, Iterator, Mapping, Sequence

from sweepbook.dialect.wires import FAR, NEAR, WireForm
from sweepbook.draft.field_times import Filled
from sweepbook.draft.wire_texts import Wires, list_form

_MARKS = re.compile(r"[^\w\s]+|\s*[^\w\s]+\s*|\s+[^\W\d_]+\s+|\s{2,}|\s")
_SAID = "the first of two lists is taken for the near end"

Listed = Callable[[str, Sequence[str], str], WireForm | None]


def find(
    texts: Mapping[str, Sequence[str]], marks: Sequence[str], listed: Listed
) -> Wires | None:  # fmt: skip
    """The wire map whose two lists stand in one text, with one mark between them in all.

    Args:
        texts: by key.
        marks: what may stand between the contacts of a list.
        listed: the form of a list of contacts, by its key, its texts and what stands between them.
    """
    for key, some in texts.items():
        for near, far, between in _parted(some):
            for mark in marks:
                forms = [listed(key, of, mark) for of in (near, far)]
                if between == mark or None in forms:
                    continue
                filled = (
                    Filled(NEAR, (key,), near, within=f"{{}}{between}{{any}}"),
                    Filled(FAR, (key,), far, within=f"{{any}}{between}{{}}"),
                )
                form = list_form(mark, forms)
                return Wires(filled, form, frozenset((key,)), _SAID)
    return None


def _parted(texts: Sequence[str]) -> Iterator[tuple[list[str], list[str], str]]:
    """Texts in two parts each, and what stands between these, where it stands once in all."""
    for mark in dict.fromkeys(_MARKS.findall(texts[0])):
        parts = [text.split(mark) for text in texts]
        if all(len(of) == 2 and all(of) for of in parts):
            yield [near for near, _ in parts], [far for _, far in parts], mark
