"""A title names a unit in which no sweep of cabling ends where these do: a person has to say."""

from pathlib import Path

import pytest

from .drafting import curves, draft_of, edited, read, written
from .links import KHZ, WORDS, link, shifted, wide
from .test_tables_joined import SIDES, drafted, files

RAW = ("insertion_loss", "return_loss", "next")


@pytest.mark.parametrize(("title", "truth"), [("MHz", "kHz"), ("kHz", "MHz")])
def test_the_unit_of_a_title_is_not_taken_against_the_numbers(
    title: str, truth: str, tmp_path: Path
) -> None:
    one = link("U-1", 47.0)
    text = wide(one, *RAW).replace("Frequency/kHz", f"Frequency/{title}")
    highest = "500000"
    if truth == "MHz":
        for khz in KHZ:
            text = text.replace(f"\n{khz};", f"\n{khz / 1000:g};".replace(".", ","))
        highest = "500"
    draft = draft_of(tmp_path, text)
    assert "Only you can say these, each told where it stands: units.frequency" in draft
    said = " ".join(draft.replace("\n#", " ").split())
    assert (
        f"COULD NOT TELL: '{title}' is named beside frequencies, while the highest frequency is "
        f"{highest}, where sweeps in {truth} end; one of both is wrong; seen: 'Frequency/{title}'."
    ) in said
    settled = edited(draft, ('frequency = "TO-BE-SETTLED"', f'frequency = "{truth}"'))
    (record,), problems = read(tmp_path / "export.csv", settled)
    assert problems == []
    assert curves(record.document) == written(one, *RAW)


def test_the_unit_beside_worst_cases_settles_nothing_for_curves(tmp_path: Path) -> None:
    links = [link("C-1", 31.0), link("C-2", 88.5)]
    texts = files(links)
    points = ["Nr;Quantity;Heard;Driven;Side;MHz;Loss dB"]
    for nr, one in enumerate(links, 611):
        for (parameter, end, pairs), values in one.curves.items():
            if parameter in RAW:
                named = [str(nr), WORDS[parameter], *(of.replace("-", "") for of in pairs), ""][:4]
                both = zip(KHZ, values, strict=True)
                points += [
                    ";".join([*named, SIDES[end], str(of), shifted(db, 2)]) for of, db in both
                ]
    texts["sweeps"] = "\n".join([*points, ""])
    draft = drafted(tmp_path, texts)
    assert '\nfrequency = "TO-BE-SETTLED"\n' in draft
    assert '\nfigures = { frequency = "kHz" }\n' in draft
