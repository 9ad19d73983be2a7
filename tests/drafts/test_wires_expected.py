"""Drafts take the contacts that were expected for those of the near end, and an unknown word behind
the contacts for that of the screen."""

from pathlib import Path

import pytest

from .drafting import draft_of, read
from .links import Link
from .stated_worst import at_curves
from .test_wires import LINKS, _pins, _texts


def _drawn(wires: dict[str, str | None], names: tuple[str, str], screen: str, tag: str) -> str:
    """The contacts of both ends in attributes of one element."""
    told = {names[0]: "".join(wires), names[1]: "".join(_texts(wires, "x"))}
    listed = " ".join(f'{name}="{told[name]}{screen}"' for name in sorted(names))
    return f"<verdict>ok</verdict><{tag} {listed}/>"


def _draft(folder: Path, one: Link, inside: str) -> str:
    text = at_curves(one).replace("<verdict>ok</verdict>", inside)
    return draft_of(folder, text, "export.xml")


@pytest.mark.parametrize(("one", "wires"), LINKS, ids=["straight", "bad"])
@pytest.mark.parametrize(
    ("names", "screen"),
    [(("expected", "found"), "K"), (("soll", "ist"), "Mantel"), (("nominal", "actual"), "W")],
)
def test_expected_contacts_are_those_of_the_near_end(
    names: tuple[str, str], screen: str, one: Link, wires: dict[str, str | None], tmp_path: Path
) -> None:
    """Whichever stands first: "actual" and "ist" do so here."""
    inside = _drawn(wires, names, screen, "wires")
    draft = _draft(tmp_path, one, inside)
    assert "of two lists" not in draft
    assert f'screen = ["{screen}"]' in draft
    assert "ASSUMED: this stands behind the contacts" in draft
    (record,), problems = read(tmp_path / "export.xml", draft)
    assert not [of.message for of in problems if "wire" in of.message]
    found = record.document["results"]["wire_map"]
    assert found["pins"] == _pins(wires)
    assert found["screen"] == "continuous"


def test_what_no_key_calls_contacts_has_no_screen(tmp_path: Path) -> None:
    one, wires = LINKS[1]
    inside = _drawn(wires, ("expected", "found"), "K", "batch")
    draft = draft_of(
        tmp_path, at_curves(one).replace("<verdict>ok</verdict>", inside), "export.xml"
    )
    assert "wire_map" not in draft


def test_a_screen_that_is_known_is_not_told_again(tmp_path: Path) -> None:
    one, wires = LINKS[1]
    inside = _drawn(wires, ("expected", "found"), "S", "wires")
    draft = draft_of(
        tmp_path, at_curves(one).replace("<verdict>ok</verdict>", inside), "export.xml"
    )
    assert "results.wire_map.far" in draft
    assert "\nscreen = " not in draft
