"""Drafts of XML whose curves name their end in a phrase, and of what stands inside each curve."""

from pathlib import Path

import pytest

from .drafting import curves, draft_of, read, written
from .links import KHZ, Link, link, shifted

TAGS = {"insertion_loss": "InsertionLoss", "return_loss": "ReturnLoss", "next": "Next"}
UNITS = {"near": "base unit", "far": "field unit"}
FIGURES: dict[str, tuple[str, str, tuple[int, ...]]] = {
    "Delay": ("ns", 'skew="9"', (331, 340, 336, 334)),
    "Length": ("m", "", (71, 73, 72, 70)),
}


def report(links: list[Link]) -> str:
    """Insertion loss says no end, all else at which unit; a margin stands before the points."""
    lines = ['<job name="Quarry Row">', '<colours A="4,5" B="1,2" C="3,6" D="7,8"/>']
    for one in links:
        lines.append(f'<link id="{one.label}" outcome="PASSED">')
        lines.append("<limit>TIA-568.2-D Cat 6A PL</limit>")
        for tag, (unit, more, figures) in FIGURES.items():
            told = zip("ABCD", figures, strict=True)
            inner = "".join(f"<{letter}>{value}</{letter}>" for letter, value in told)
            lines.append(f'<{tag} unit="{unit}" {more}>{inner}</{tag}>')
        for (parameter, end, pairs), values in one.curves.items():
            if parameter not in TAGS:
                continue
            letters = " ".join("ABCD"[("4-5", "1-2", "3-6", "7-8").index(pair)] for pair in pairs)
            name = "pair" if len(pairs) == 1 else "pairs"
            at = f' at="{UNITS[end]}"' if end else ""
            lines.append(f'<{TAGS[parameter]} {name}="{letters}"{at}>')
            lines.append('<Headroom dB="1.65" MHz="3.50"/>')
            points = zip(KHZ, values, strict=True)
            lines += [f'<Pt f="{khz / 1000}" v="{shifted(value, 2)}"/>' for khz, value in points]
            lines.append(f"</{TAGS[parameter]}>")
        lines.append("</link>")
    return "\n".join([*lines, "</job>"])


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, str]:
    folder = tmp_path_factory.mktemp("phrases")
    text = report([link("L-7", 35.5), link("L-8", 21.0)])
    return folder / "export.xml", draft_of(folder, text, "export.xml")


def test_what_has_no_end_is_read_beside_what_says_its_end_in_a_phrase(
    made: tuple[Path, str],
) -> None:
    records, problems = read(*made)
    assert not [problem for problem in problems if problem.lost_record]
    assert [record.label for record in records] == ["L-7", "L-8"]
    for record, one in zip(records, (link("L-7", 35.5), link("L-8", 21.0)), strict=True):
        assert curves(record.document) == written(one, *TAGS)


def test_a_margin_inside_each_curve_is_of_that_curve(made: tuple[Path, str]) -> None:
    (record, _), _ = read(*made)
    items = [of for of in record.document["stated"]["items"] if "worst_margin" in of]
    assert len(items) == len(record.document["results"]["sweeps"])
    assert {of["worst_margin"]["margin_db"] for of in items} == {1.65}
    assert {of["worst_margin"]["frequency_mhz"] for of in items} == {3.5}
    assert sum("end" not in of for of in items) == 4


def test_the_last_step_of_a_path_names_a_figure_before_that_around_it(
    made: tuple[Path, str],
) -> None:
    (record, _), _ = read(*made)
    skews = [of for of in record.document["results"]["scalars"] if of["parameter"] == "delay_skew"]
    assert [(of["pairs"], of["delay_ns"]) for of in skews] == [([], 9)]


def test_a_number_of_db_in_what_is_called_a_margin_is_it_beside_a_limit_too(tmp_path: Path) -> None:
    text = report([link("L-7", 35.5)]).replace('MHz="3.50"/>', 'MHz="3.50" limit="4.0"/>')
    draft = draft_of(tmp_path, text, "export.xml")
    (record,), _ = read(tmp_path / "export.xml", draft)
    stated = [of["worst_margin"] for of in record.document["stated"]["items"]]
    assert len(stated) == 4 + 8 + 12
    told = {(of["margin_db"], of["frequency_mhz"], of["limit_db"]) for of in stated}
    assert told == {(1.65, 3.5, 4.0)}


def test_a_margin_that_some_curves_say_they_have_not_makes_no_form_of_its_own(
    tmp_path: Path,
) -> None:
    text = report([link("L-7", 35.5), link("L-8", 21.0)])
    head, margin = '<Headroom dB="1.65" MHz="3.50"/>', ' headroom="1.65" headroom-at="3.50"'
    lines = text.replace(f"\n{head}", "").splitlines()
    for at, line in enumerate(lines):
        if line.startswith(tuple(f"<{tag} pair" for tag in TAGS.values())):
            said = ' headroom="n/a"' if "InsertionLoss" in line else margin
            lines[at] = f"{line[:-1]}{said}>"
    draft = draft_of(tmp_path, "\n".join(lines), "export.xml")
    records, problems = read(tmp_path / "export.xml", draft)
    assert not [problem for problem in problems if problem.lost_record]
    for record in records:
        items = [of for of in record.document["stated"]["items"] if "worst_margin" in of]
        assert {of["parameter"] for of in items} == {"return_loss", "next"}
        assert len(items) == 8 + 12
