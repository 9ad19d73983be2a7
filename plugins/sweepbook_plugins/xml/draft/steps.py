"""Paths of elements whose names may be a parameter, in XML nobody has described yet."""

import re
from collections.abc import Sequence
from typing import TYPE_CHECKING

from sweepbook.draft.parsed import Parsed
from sweepbook.draft.reading import Understood
from sweepbook_plugins.xml.draft.tree import Tree

if TYPE_CHECKING:
    from lxml.etree import _Element

_JOINED = re.compile(r"\{parameter\}(?:[._-]?\{unit\})?")
"""Names of elements that are a parameter, perhaps with its unit."""


def found_steps(
    tree: Tree, line: "Sequence[_Element]", found: Understood
) -> tuple[list[str], list[Parsed]]:
    """The path of an element, names that are a parameter as templates; and what these say."""
    steps, tagged = [], []
    for one in line:
        name, local = tree.spaces.name(str(one.tag)), str(one.tag).rpartition("}")[2]
        part = found.naming.parse(local)
        if part.parameter is not None and _JOINED.fullmatch(part.template):
            steps.append(f"{name.removesuffix(local)}{part.template}")
            tagged.append(part)
        else:
            steps.append(name)
    return steps, tagged
