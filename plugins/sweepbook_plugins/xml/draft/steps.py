"""Paths of elements whose names may be a parameter, in XML nobody has described yet."""

import re
from collections.abc import Sequence
from typing import TYPE_CHECKING

from sweepbook.dialect.parameters import quantity_of
from sweepbook.draft.document import PARAMETER
from sweepbook.draft.parsed import UNITS_IN_NAMES, Parsed
from sweepbook.draft.reading import Understood
from sweepbook_plugins.xml.draft.tree import Tree, local_name

if TYPE_CHECKING:
    from lxml.etree import _Element

_PAIR = re.compile(r"(?:p|pair|paar|par|paire|coppia|para)?[_-]?\{pairs\}", re.IGNORECASE)
"""Names of elements that are a pair."""
_JOINED = re.compile(r"\{parameter\}(?:[._-]?(?:\{unit\}|(?<=[._-])[^\W_]+))?")
"""Names of elements that are a parameter, perhaps with its unit."""


def found_steps(
    tree: Tree, line: "Sequence[_Element]", found: Understood
) -> tuple[list[str], list[Parsed]]:
    """The path of an element, names that are a parameter or a pair as templates; what these say."""
    steps, tagged = [], []
    for one in line:
        name, local = tree.name(one), local_name(one)
        part = found.naming.parse(local)
        if part.parameter is not None and _JOINED.fullmatch(part.template):
            unit = part.unit or re.split("[._-]", part.template)[-1]
            fits = UNITS_IN_NAMES.get(unit) == quantity_of(part.parameter[1])
            if part.template == PARAMETER or fits:
                step = part.template.replace("{unit}", unit)
                steps.append(f"{name.removesuffix(local)}{step}")
                tagged.append(part)
                found.naming.take_unit(unit)
                continue
        if part.clean and _PAIR.fullmatch(part.template):
            steps.append(f"{name.removesuffix(local)}{part.template}")
            tagged.append(part)
            continue
        steps.append(name)
    return steps, tagged
