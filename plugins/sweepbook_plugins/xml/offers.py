"""Lines of a dialect for XML that would take what is stated where nothing takes it yet."""

import re
from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

from sweepbook.dialect.words import as_list
from sweepbook.draft.document import one_of, quoted, value_text

if TYPE_CHECKING:
    from sweepbook.dialect.model import Dialect

_CONDITION = re.compile(r"\[[^\]]*\]")
_WHERE = ("pairs}", "pair}", "{end}")


def offer(dialect: "Dialect", key: str, role: str, of_parameter: bool) -> tuple[str, str]:
    """What to write for a figure at a path of the test, and what to write if it means nothing.

    The first is "" if no form has an element around it.

    Args:
        dialect: as read.
        key: path of the figure, from the test, as `extra` has it.
        role: "verdict" or "worst_margin.margin".
        of_parameter: whether it is of a parameter as a whole, and not of its pairs and ends.
    """
    path = _CONDITION.sub("", key)
    around = [
        (form, inner)
        for kind in ("figures", "curves")
        for form in dialect.layout.get(kind, ())
        if (inner := _below(path, str(form.get("path", "")))) and "row" not in form
    ]
    leave = f"skip = {quoted(path)} in [xml]"
    if not around:
        return "", leave
    form, inner = max(around, key=lambda one: len(str(one[0]["path"])))
    apart = of_parameter and "worst_margin" in form
    if not apart and form in dialect.layout.get("figures", ()) and "value" not in form:
        write = (
            f"add {role} = {quoted(inner)} to [[xml.figures]] with path = {quoted(form['path'])}"
        )
    else:
        name = dict(_names(form.get("name", {}), apart))
        named = f", name = {value_text(name)}" if name else ""
        told = f"path = {quoted(form['path'])}{named}, {role} = {quoted(inner)}"
        write = f"add [[xml.figures]] with {told}"
    return write, leave


def _below(path: str, outer: str) -> str:
    """The rest of a path below another one; "" if it is not below it, or a name is a template."""
    outer = _CONDITION.sub("", outer)
    return path.removeprefix(f"{outer}/") if outer and path.startswith(f"{outer}/") else ""


def _names(name: Mapping[str, Any], apart: bool) -> Iterator[tuple[str, object]]:
    """What names a figure; `apart` from its pairs and ends."""
    for where, texts in name.items():
        kept = [of for of in as_list(texts) if not (apart and any(word in of for word in _WHERE))]
        if kept:
            yield where, one_of(kept)
