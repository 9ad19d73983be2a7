"""The job block of a project file: what is delivered to whom, and what its quality plan says."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

COUNTS, RETEST = "counts", "retest"
TITLES = {
    "number": "Job number",
    "contract": "Contract",
    "owner": "Owner",
    "site": "Site",
    "installer": "Installer",
    "design_standard": "Design standard",
    "quality_plan": "Quality plan",
    "warranty_number": "Warranty number",
    "warranty_years": "Warranty, years",
    "marginal_pass": "Marginal passes",
}
"""What people read for each member of the block, in the order in which it is shown."""
_SAID = {
    COUNTS: "A marginal pass counts as a pass.",
    RETEST: "A marginal pass has to be tested again.",
    "": "The project file does not say what the quality plan makes of a marginal pass, so it "
    "counts as a pass.",
}


@dataclass(frozen=True, slots=True)
class Job:
    """What a job is, as far as its project file says; "" for what it does not.

    Attributes:
        number, contract: of the job and of its contract, as the parties write them.
        owner, site, installer: who gets the cabling, where it is, and who put it in.
        design_standard: to which the cabling was designed.
        quality_plan: the document, as the parties name it.
        warranty_number: of the warranty.
        warranty_years: for how long it is given; None where that is not said.
        marginal_pass: what the quality plan makes of a marginal pass: COUNTS, RETEST or "".
    """

    number: str = ""
    contract: str = ""
    owner: str = ""
    site: str = ""
    installer: str = ""
    design_standard: str = ""
    quality_plan: str = ""
    warranty_number: str = ""
    warranty_years: int | None = None
    marginal_pass: str = ""

    @property
    def retests_marginal(self) -> bool:
        """Whether a marginal pass has to be tested again."""
        return self.marginal_pass == RETEST

    @property
    def on_marginal(self) -> str:
        """What becomes of a marginal pass, in a sentence."""
        return _SAID[self.marginal_pass]

    def in_words(self) -> Iterator[tuple[str, str]]:
        """Title and text of each member that is told."""
        for name, title in TITLES.items():
            value = getattr(self, name)
            if value not in ("", None):
                yield title, self.on_marginal if name == "marginal_pass" else str(value)

    def to_json(self) -> dict[str, Any]:
        """Every member by its name; null for what is not said."""
        return {name: getattr(self, name) or None for name in TITLES}


NO_JOB = Job()


def job_of(block: Mapping[str, Any]) -> Job:
    """The block of a project file that follows its schema."""
    return Job(**block)
