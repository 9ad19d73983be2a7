"""Of which tests the curves are drawn."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING, Self

from sweepbook_plugins.report import PLOTS, PLOTS_OF
from sweepbook_plugins.report.figures import counted

if TYPE_CHECKING:
    from sweepbook.judging.assessment import Assessment
    from sweepbook_plugins.report.job import Job

_PROVED = ("upheld", "unstated")


class Plots(StrEnum):
    """Of which tests the curves are to be drawn; each includes those before it."""

    NONE = "none"
    FAILED = "failed"
    OPEN = "open"
    ALL = "all"


@dataclass(frozen=True, slots=True)
class Drawing:
    """Which curves are to be drawn.

    Attributes:
        plots: of no test, of those whose sweeps prove a fail, of all that are no proved pass or
            have to be tested again, or of all tests.
        labels: of links whose tests are drawn besides.
    """

    plots: Plots = Plots.OPEN
    labels: frozenset[str] = frozenset()

    @classmethod
    def of(cls, asked: Mapping[str, str]) -> Self:
        """What was asked for: a word for the one, labels a line each for the other.

        Raises:
            ValueError: the word is none of `Plots`.
        """
        labels = asked.get(PLOTS_OF, "").split("\n")
        return cls(Plots(asked.get(PLOTS, Plots.OPEN)), frozenset(filter(None, labels)))

    def wants(self, assessment: "Assessment") -> bool:
        """Whether the curves of a test are to be drawn."""
        if assessment.record.label in self.labels or self.plots is Plots.ALL:
            return True
        failed = assessment.recomputed == "fail"
        proved = assessment.recomputed == "pass" and assessment.judgement in _PROVED
        opened = not proved or assessment.again
        return (self.plots is Plots.FAILED and failed) or (self.plots is Plots.OPEN and opened)


def remarks(job: "Job", size: int) -> Iterator[str]:
    """What to know of a page of so many bytes: how large it is, what is drawn, and what is not."""
    tests, drawn = len(job.tests), sum(test.drawn for test in job.tests)
    yield (
        f"Plots are drawn of {drawn:,} of {counted(tests, 'test')}; the page has "
        f"{size / 1e6:,.1f} MB. {_MORE[job.drawing.plots]}"
    )
    for label in sorted(job.drawing.labels - {test.label for test in job.tests}):
        yield f"No test is of the link {label}, so --{PLOTS_OF} draws nothing of it."


_MORE = {
    Plots.NONE: f"For more plots: --{PLOTS} failed, open or all, or --{PLOTS_OF} LABEL.",
    Plots.FAILED: f"For others: --{PLOTS} none, open or all, or --{PLOTS_OF} LABEL.",
    Plots.OPEN: f"For others: --{PLOTS} none, failed or all, or --{PLOTS_OF} LABEL.",
    Plots.ALL: f"For fewer: --{PLOTS} none, failed or open.",
}
