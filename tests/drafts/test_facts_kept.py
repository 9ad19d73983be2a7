"""Lines that state a fact are never among those that a draft has the reader skip."""

from pathlib import Path

from tests.program import run

from .links import KHZ, Link, link, shifted

LINKS = [link("B2-01", 30.0), link("B2-02", 61.5), link("B2-03", 12.0)]


def notes(one: Link, site: str, person: str) -> str:
    """What is known of a test, with a table of figures whose cells stand below each other."""
    head = f"Quillmere notes\n===============\n\nLink: {one.label}\nSite: {site}\n"
    facts = f"Surveyed by: {person}\nOverall: PASS\n\n"
    pairs = "".join(f"{pair:>10}" for pair in ("12", "36", "45", "78"))
    metres = f"{one.metres:>10.1f}" * 4
    return f"{head}{facts}Pair:      {pairs}\nLength (m): {metres[1:]}\n"


def curves(one: Link) -> str:
    lines = ["MHz,IL 12,IL 36,IL 45,IL 78"]
    loss = [of for key, of in one.curves.items() if key[0] == "insertion_loss"]
    for at, khz in enumerate(KHZ):
        lines.append(",".join([shifted(khz, 3), *(shifted(of[at], 2) for of in loss)]))
    return "\n".join(lines) + "\n"


def test_facts_are_skipped_in_no_draft(tmp_path: Path) -> None:
    sites = ["Long Barn, east wing", "Long Barn, loft", "Long Barn, east wing"]
    people = ["Ada Lindqvist", "Tom Okoro", "Ada Lindqvist"]
    for one, site, person in zip(LINKS, sites, people, strict=True):
        folder = tmp_path / "job" / one.label
        folder.mkdir(parents=True)
        (folder / "notes.txt").write_text(notes(one, site, person), encoding="utf-8")
        (folder / "loss.csv").write_text(curves(one), encoding="utf-8")
    draft = run("dialect", "draft", tmp_path / "job").stdout
    skipped = [line for line in draft.splitlines() if line.startswith("skip = ")]
    assert not any("Long Barn" in line or "Okoro" in line for line in skipped)
