"""What the caller decides about judging, apart from the record and the limit table."""

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

from sweepbook.limits.interpretations import Interpretations
from sweepbook.limits.practice import Practice

if TYPE_CHECKING:
    from sweepbook.judging.accuracy_model import Terms


@dataclass(frozen=True, slots=True)
class JudgeSettings:
    """How to judge.

    Attributes:
        interpretations: which disputed readings of the standards are in force, and which are fixed
            and therefore not tried the other way.
        grade_c: use limits of grade C that have no interval. Grade D is never used.
        limit_how: how the limit table was found, or why none was, in words.
        practice: figures of common practice, for what a cable may be made of.
        accuracy: how the error terms of a tester are added up for records that declare no accuracy;
            None to evaluate no marginality of those.
        terms: the error terms of a tester; None for those that come with the program.
        asterisk: where marginality is looked for: at the worst margin only, or at any frequency.
    """

    interpretations: Interpretations
    grade_c: bool = False
    limit_how: str = ""
    practice: Practice = field(default_factory=Practice.shipped)
    accuracy: Literal["worst-case", "root-sum-square"] | None = None
    terms: "Terms | None" = None
    asterisk: Literal["worst-margin", "any-frequency"] = "worst-margin"
