"""Drafts take what the file says itself: scheme, zone, what an id refers to, near verdicts."""

import re
from pathlib import Path

import pytest

from sweepbook.draft import fields, zones
from sweepbook.draft.legend_pairs import explained
from sweepbook.draft.verdicts import verdict_of

from .drafting import curves, draft_of, read, written
from .links import link, lists

RAW = ("insertion_loss", "return_loss", "next", "fext", "acr_f")
PAIRS = ("1-2", "3-6", "4-5", "7-8")
LINKS = [link("L-1", 35.5), link("L-2", 80.0)]
HEAD = """<survey written="2026-03-01">
<colours scheme="TIA T568A"/>
<cable id="c1" maker="Ravel Wire" type="RW 6A"/>
<limit id="q" name="TIA-568.2-D Cat 6A PL"/>
<gear serial="G-10" model="Umbel 2" place="local"/>
<gear serial="G-11" model="Umbel 3" place="remote"/>
<people><person id="p1">A. Rook</person><person id="p2">B. Finch</person></people>"""


def referring() -> str:
    """Tests that name cable, limit and people by ids, and whose times stand beside their zone."""
    text = lists(LINKS).replace("<survey>", HEAD)
    text = text.replace('<gear side="local" serial="S1"/><gear side="remote" serial="S2"/>', "")
    text = text.replace("<requirement>TIA-568.2-D Cat 6A PL</requirement>", "")
    text = text.replace(
        "2026-02-28T17:05:09Z</started>",
        "2026-02-28 17:05</started><clock>local, UTC+02:00</clock>",
    )
    for one, by, verdict in zip(LINKS, ("p1", "p2"), ("good", "good (marginal)"), strict=True):
        old = f'<link name="{one.label}">'
        text = text.replace(old, f'<link name="{one.label}" cable="c1" limit="q" operator="{by}">')
        end = text.index(old[:-1])
        text = text[:end] + text[end:].replace("<outcome>good<", f"<outcome>{verdict}<", 1)
    return text


def test_ids_schemes_and_zones_that_the_file_explains_need_no_change(tmp_path: Path) -> None:
    draft = draft_of(tmp_path, referring(), "export.xml")
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert [record.label for record in records] == ["L-1", "L-2"]
    for record, verdict in zip(records, ("pass", "pass*"), strict=True):
        document = record.document
        assert document["stated"]["overall"]["verdict"] == verdict
        assert document["test"]["limit"]["as_stated"] == "TIA-568.2-D Cat 6A PL"
        assert document["test"]["started"]["rfc3339"] == "2026-02-28T17:05:00+02:00"
        assert document["link"]["cable"] == {"maker": "Ravel Wire", "part": "RW 6A"}
        assert document["test"]["near"]["instrument"] == {"model": "Umbel 2", "serial": "G-10"}
        assert document["test"]["far"]["instrument"] == {"model": "Umbel 3", "serial": "G-11"}
        assert "operator" not in document["test"]  # which of two people, no dialect can say
        assert document["extra"]["@operator"] in ("p1", "p2")
    assert "# worked out: the file says so; seen: 'TIA T568A'.\nscheme = \"T568A\"" in draft
    one = curves(records[0].document)
    turned = {"1-2": "3-6", "3-6": "1-2"}
    assert {
        (name, end, tuple(sorted(turned.get(pair, pair) for pair in pairs))): values
        for (name, end, pairs), values in one.items()
        if name in ("insertion_loss", "next")
    } == written(LINKS[0], "insertion_loss", "next")


def test_of_several_cables_and_limits_none_is_taken(tmp_path: Path) -> None:
    text = referring().replace("<limit id", '<limit id="q2" name="Cat 6 PL TIA"/><limit id', 1)
    text = text.replace("<cable id", '<cable id="c2" maker="Teal" type="T 5"/><cable id', 1)
    text = text.replace("TIA T568A", "568-B.2")
    draft = draft_of(tmp_path, text, "export.xml")
    assert "test.limit" not in draft
    assert "link.cable" not in draft
    assert "# ASSUMED: pairs are numbered as under T568B" in draft
    records, _ = read(tmp_path / "export.xml", draft)
    assert [record.document["extra"]["@limit"] for record in records] == ["q", "q"]


@pytest.mark.parametrize(
    ("text", "offset", "behind", "offsets"),
    [
        ("CET (UTC+01:00)", "+01:00", "CET (UTCzone)", {}),
        ("UTC-5, east", "-05:00", "UTCzone, east", {"-5": "-05:00"}),
        ("+0530", "+05:30", "zone", {}),
        ("Sommerzeit UTC+02:00", "+02:00", None, None),
    ],
)
def test_zones(text: str, offset: str, behind: str | None, offsets: dict[str, str] | None) -> None:
    assert zones.offset_in(text) == offset
    found = zones.forms([text], 2026)
    assert (found and found.behind[0]) == behind
    assert (found and found.offsets) == offsets


@pytest.mark.parametrize(
    ("text", "other"),
    [
        ("MESZ (UTC+02:00)", "MEZ (UTC+01:00)"),
        ("UTC+01:00, MEZ", "UTC+02:00, MESZ"),
        ("CEST (GMT+02:00)", "CET (GMT+01:00)"),
        ("EDT UTC-04:00", "EST UTC-05:00"),
        ("JST (UTC+09:00)", ""),
        ("GMT (UTC+00:00)", ""),
        ("local UTC+02:00", ""),
    ],
)
def test_a_clock_says_another_name_in_the_other_half_of_the_year(text: str, other: str) -> None:
    """What these names stand for is recalled; Japan has no summer time."""
    found = zones.forms([text], 2026)
    assert found is not None
    forms = [form.replace("zone", "(?P<zone>.+)", 1) for form in map(re.escape, found.behind)]
    assert len(forms) == (2 if other else 1)
    for one in filter(None, (text, other)):
        told = [match["zone"] for form in forms if (match := re.fullmatch(form, one))]
        assert told == [zones.offset_in(one)]


NO_OFFSETS = ("+01", "21 °C", "UTC", "gain +01:00 dB", "2026-03-01", "3.5.2026 16:20 UTC+02:00")


@pytest.mark.parametrize("text", NO_OFFSETS)
def test_what_names_no_offset(text: str) -> None:
    assert zones.offset_in(text) is None


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("pass-marginal", "pass*"),
        ("NICHT BESTANDEN (knapp)", "fail*"),
        ("marginal", None),
        ("marginal curve", None),
        ("passage", None),
    ],
)
def test_near_verdicts(text: str, word: str | None) -> None:
    assert verdict_of(text) == word


@pytest.mark.parametrize(("key", "taken"), [("Cable label", True), ("Cable", False)])
def test_a_key_with_one_text_in_two_tests_is_the_label_only_by_name(key: str, taken: bool) -> None:
    filled = fields.guess({key: ["C-1"], "Run": ["a-1", "a-2"]}, None, tests=2)
    (label,) = (one for one in filled if one.path == "link.label")
    assert label.keys == ((key,) if taken else ("Run",))
    assert label.by_text != taken


def test_a_remark_that_names_the_zone_of_all_times_is_no_part_of_one(tmp_path: Path) -> None:
    text = referring().replace(
        "<clock>local, UTC+02:00", "<clock>DD/MM/YYYY, local time, UTC+02:00"
    )
    draft = draft_of(tmp_path, text, "export.xml")
    assert 'zone = "+02:00"' in draft
    records, problems = read(tmp_path / "export.xml", draft)
    assert [one for one in problems if one.lost_record] == []
    for record in records:
        assert record.document["test"]["started"]["rfc3339"] == "2026-02-28T17:05:00+02:00"


@pytest.mark.parametrize(
    ("near", "far"),
    [
        ("tester_serial", "remote_serial"),
        ("/report/Tester/@serialNumber", "/report/Tester/@remoteSerialNumber"),
        ("N° de série (principal)", "N° de série (distant)"),
        ("Seriennummer Messgerät", "Seriennummer Gegenstelle"),
        ("strumento/matricola", "strumento/matricola_unita_remota"),
        ("Main unit S/N", "Remote unit S/N"),
    ],
)
@pytest.mark.parametrize("ends", [None, ("end_1", "end_2"), ("nahes ende", "fernes ende")])
def test_the_numbers_of_both_instruments_are_told_apart(
    near: str, far: str, ends: tuple[str, str] | None
) -> None:
    found = fields.guess({far: ["K-77-R"], near: ["K-76"]}, ends)
    assert {one.path: one.keys for one in found} == {
        "test.near.instrument.serial": (near,),
        "test.far.instrument.serial": (far,),
    }


@pytest.mark.parametrize(
    "legend",
    [
        '<pairs><pair called="{}" pins="{}"/><pair called="{}" pins="{}"/>'
        '<pair called="{}" pins="{}"/><pair called="{}" pins="{}"/></pairs>',
        "<key><p><n>{}</n><c>{}</c></p><p><n>{}</n><c>{}</c></p><p><n>{}</n><c>{}</c></p>"
        "<p><n>{}</n><c>{}</c></p></key>",
    ],
)
@pytest.mark.parametrize("words", [("OR", "GN", "BL", "BR"), ("P1", "P2", "P3", "P4")])
def test_words_for_pairs_that_stand_beside_their_contacts(
    words: tuple[str, str, str, str], legend: str, tmp_path: Path
) -> None:
    """Numbers whose contacts are those of no scheme, and short names of colours."""
    told = [text for pair in zip(words, PAIRS, strict=True) for text in pair]
    text = lists(LINKS).replace("<survey>", "<survey>" + legend.format(*told))
    numbers = {"2": words[0], "3": words[1], "1": words[2], "4": words[3]}
    text = re.sub(r'(pair|from|to)="([1-4])"', lambda of: f'{of[1]}="{numbers[of[2]]}"', text)
    draft = draft_of(tmp_path, text, "export.xml")
    assert "# worked out: the file tells the contacts of each.\n[words.pairs]\n" in draft
    assert "[wiring]" not in draft
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    for one, record in zip(LINKS, records, strict=True):
        assert curves(record.document) == written(one, *RAW)


@pytest.mark.parametrize(
    "rows",
    [
        [("1-2", "a"), ("3-6", "b"), ("4-5", "c")],
        [("1-2", "a"), ("3-6", "b"), ("4-5", "c"), ("7-8", "c")],
        [("1-2", "25.3"), ("3-6", "25.7"), ("4-5", "25.5"), ("7-8", "26.0")],
        [("1-2", "3-6"), ("3-6", "4-5"), ("4-5", "7-8"), ("7-8", "1-2")],
        [("1-3", "a"), ("3-6", "b"), ("4-5", "c"), ("7-8", "d")],
    ],
)
def test_what_explains_no_words_for_pairs(rows: list[tuple[str, str]]) -> None:
    """One lacking, one word for two, figures, two pairs side by side, contacts of no pair."""
    assert explained(rows) is None


def test_a_scheme_that_differs_from_test_to_test_is_a_key(tmp_path: Path) -> None:
    """T568A and T568B call pairs 2 and 3 the other way round: ANSI/TIA-568, recalled."""
    rows = ["Link;Wired;What;Pair;MHz;dB"]
    for label, scheme in (("A-1", "T568A"), ("A-2", "T568B")):
        for pair in (1, 2, 3, 4):
            for mhz in (1, 10, 50, 100, 250):
                head = f"{label};{scheme}"
                rows += [
                    f"{head};Insertion loss;{pair};{mhz};{2.0 * mhz**0.5 + pair / 10:.2f}",
                    f"{head};Return loss;{pair};{mhz};{30 - pair / 10 - mhz / 50:.2f}",
                ]
    draft = draft_of(tmp_path, "\n".join(rows) + "\n")
    assert '\nkey = "Wired"\n' in draft
