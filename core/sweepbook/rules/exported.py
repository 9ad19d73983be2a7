"""Which of several exports of one test counts."""

from collections import defaultdict

from sweepbook.copies.groups import Groups
from sweepbook.findings import Exported
from sweepbook.rules.about import About
from sweepbook.rules.same_test import is_exported_twice
from sweepbook.rules.together import WholeSet
from sweepbook.rules.trace import Trace


def exported(whole: WholeSet) -> dict[str, Exported]:
    """The records that are other exports of tests, by id; of each test the fullest one counts.

    Exports that do not come to the same are not brought together, and each of them counts: nobody
    knows here which is right.
    """
    groups, members = Groups(), defaultdict[int, list[int]](list)
    for one in whole.suspicions.found:
        first, second = whole[one.first], whole[one.second]
        same = first.came_to is not None and first.came_to == second.came_to
        if same and is_exported_twice(first, second, one):
            groups.join(one.first, one.second)
            members[one.first], members[one.second] = [], []
    for place in sorted(members):
        members[groups.lead(place)].append(place)
    found: dict[str, Exported] = {}
    for group in filter(None, members.values()):
        counts = max(group, key=lambda place: _fullness(whole[place]))
        for place in group:
            other = whole[place]
            if place != counts and other.came_to is not None:
                found[other.record_id] = Exported(whole[counts].record_id, other.came_to)
    return found


def _fullness(trace: Trace) -> tuple[int, int]:
    """How much a record says: values of its sweeps, then figures and names of what was tested."""
    return trace.values, 0 if trace.about is None else _said(trace.about)


def _said(about: About) -> int:
    texts = (about.unit, about.calibration, *about.cable_texts, *about.terminations)
    places = (level for place in about.places for level in place)
    return about.figure_count + sum(map(bool, (*texts, *places)))
