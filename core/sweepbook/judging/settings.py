"""What the caller decides about judging, apart from the record and the limit table."""

from dataclasses import dataclass
from typing import Literal

from sweepbook.limits.interpretations import Interpretations


@dataclass(frozen=True, slots=True)
class JudgeSettings:
    """How to judge.

    Attributes:
        interpretations: which disputed readings of the standards are in force, and which are fixed
            and therefore not tried the other way.
        grade_c: use limits of grade C that have no interval. Grade D is never used.
        limit_how: how the limit table was found, or why none was, in words.
        asterisk: where marginality is looked for: at the worst margin only, or at any frequency.
    """

    interpretations: Interpretations
    grade_c: bool = False
    limit_how: str = ""
    asterisk: Literal["worst-margin", "any-frequency"] = "worst-margin"
