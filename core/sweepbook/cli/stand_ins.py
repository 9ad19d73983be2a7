"""A dialect in which something waits for a person, with stand-ins, so that the rest is seen."""

import re
from dataclasses import replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sweepbook.cli.desk import Desk
    from sweepbook.dialect.model import Dialect

_FIRST = re.compile(rb'(?m)^(\s*first\s*=\s*)"TO-BE-SETTLED"')


def settled(desk: "Desk", raw: bytes, name: str) -> "Dialect":
    """The dialect with an order of pairs in place of one that waits.

    Args:
        desk: knows the readers.
        raw: the dialect as it stands.
        name: what messages call it.

    Raises:
        BadDialect: it cannot be used even so.
    """
    from sweepbook.dialect.load import parse

    dialect = parse(_FIRST.sub(rb'\1"disturbing"', raw), name)
    check = desk.registry.reader(dialect.format).check_dialect
    if check is not None:
        check(dialect)
    return dialect


def labelled(dialect: "Dialect") -> "Dialect":
    """The dialect with a label for tests whose own one waits for a person, else as it is."""
    from sweepbook.draft.document import UNSETTLED

    meaning = dialect.meaning
    if UNSETTLED not in meaning.fields["link.label"]:
        return dialect
    defaults = {**meaning.defaults, "link.label": UNSETTLED}
    return replace(dialect, meaning=replace(meaning, defaults=defaults))
