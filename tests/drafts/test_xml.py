"""Drafts for XML: what is read by them is what the test wrote."""

from collections.abc import Callable
from functools import partial
from pathlib import Path

import pytest

from sweepbook.record.model import frequency_mhz
from tests.program import DEMO, run

from .drafting import curves, draft_of, edited, read, written
from .links import KHZ, PAIRS, Link, elements, link, lists, shifted
from .stated_worst import at_curves
from .xml_tables import by_parameter, in_the_test, with_a_limit

RAW = ("insertion_loss", "return_loss", "next", "fext")


def test_value_lists_over_a_shared_axis_need_no_change(tmp_path: Path) -> None:
    links = [link("L-1", 35.5), link("L-2", 80.0)]
    draft = draft_of(tmp_path, lists(links), "export.xml")
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert [record.label for record in records] == ["L-1", "L-2"]
    for one, record in zip(links, records, strict=True):
        document = record.document
        assert curves(document) == written(one, *RAW, "acr_f")
        assert [e["length_m"] for e in document["results"]["scalars"]] == [one.metres] * 4
        assert document["stated"]["overall"]["verdict"] == "pass"
        assert document["test"]["near"]["instrument"]["serial"] == "S1"
        assert document["test"]["far"]["instrument"]["serial"] == "S2"
    assert "\n# ASSUMED: pairs are numbered as under T568B" in draft
    assert "ASSUMED: fext less the insertion loss of the disturbed pair is acr_f" in draft


def test_an_element_a_point_needs_no_change(tmp_path: Path) -> None:
    one = link("L-9", 47.0)
    draft = draft_of(tmp_path, elements(one), "export.xml")
    (record,), problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert record.label == "L-9"
    assert curves(record.document) == written(one, "insertion_loss", "return_loss", "next")
    assert record.document["stated"]["overall"]["verdict"] == "fail"


def test_elements_called_as_pairs_hold_the_figures_of_each(tmp_path: Path) -> None:
    """The colours under T568B: ANSI/TIA-568.2-D, recalled."""
    colours = {"1-2": "Orange", "3-6": "Green", "4-5": "Blue", "7-8": "Brown"}
    text = elements(link("L-9", 47.0))
    for pair, colour in colours.items():
        text = text.replace(pair, colour)
    figures = "".join(f"<s:{of}>4{pair[0]}.5</s:{of}>" for pair, of in colours.items())
    head, mark, rest = text.partition("</s:head>")
    text = f'{head}<s:scalar of="Length" unit="m">{figures}</s:scalar>{mark}{rest}'
    draft = draft_of(tmp_path, text, "export.xml")
    assert "scalar/{pairs}" in draft
    (record,), _ = read(tmp_path / "export.xml", draft)
    lengths = {one["pairs"][0]: one["length_m"] for one in record.document["results"]["scalars"]}
    assert lengths == {pair: float(f"4{pair[0]}.5") for pair in colours}


def test_attributes_called_as_pairs_hold_the_figures_of_each(tmp_path: Path) -> None:
    """And none of them is the figure of the whole link, though a verdict of it stands beside."""
    texts = (("41.5", "203"), ("43.0", "211"), ("42.5", "208"), ("44.0", "217"))
    figures = dict(zip(PAIRS, texts, strict=True))
    told = [
        " ".join(f'p{pair.replace("-", "")}="{of[at]}"' for pair, of in figures.items())
        for at in (0, 1)
    ]
    inside = f'<Length unit="m" {told[0]} judged="ok"/><Delay unit="ns" {told[1]}/>'
    text = at_curves(link("L-9", 47.0)).replace("<verdict>", f"{inside}<verdict>", 1)
    draft = draft_of(tmp_path, text, "export.xml")
    assert '\nvalue = "{parameter}/@p{pairs}"\n' in draft
    (record,), problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    scalars = record.document["results"]["scalars"]
    read_as = [(of["pairs"], of.get("length_m", of.get("delay_ns"))) for of in scalars]
    assert read_as == [([pair], float(of[at])) for at in (0, 1) for pair, of in figures.items()]
    judged = [of for of in record.document["stated"]["items"] if of["parameter"] == "length"]
    assert [of.get("pairs", of["verdict"]) for of in judged] == ["pass"]


@pytest.mark.parametrize("none", ["none", "n/a", "not measured"])
def test_a_word_for_none_among_figures_of_pairs_is_no_number(none: str, tmp_path: Path) -> None:
    """Though the same word may stand for the verdict of what was not judged."""
    links = [link("L-1", 35.5), link("L-2", 80.0)]
    text = lists(links)
    for metres, resistance, verdict in (("40,5", "4,1", "good"), ("81,0", none, none)):
        of_each = " ".join(f'p{of}="{{}}"' for of in "1234")
        inside = f'<delay unit="ns" {of_each.format(*[metres] * 4)} verdict="good"/>'
        of_some = of_each.format("4,0", resistance, "4,2", resistance)
        inside += f'<loopResistance unit="ohm" {of_some} verdict="{verdict}"/>'
        text = text.replace("<outcome>", f"{inside}<outcome >", 1)
    draft = draft_of(tmp_path, text.replace("<outcome >", "<outcome>"), "export.xml")
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    scalars = [record.document["results"]["scalars"] for record in records]
    parameter = "dc_loop_resistance"
    held = [[of.get("resistance_ohm") for of in some if of["parameter"] == parameter]
            for some in scalars]  # fmt: skip
    assert held[0] == [4.0, 4.1, 4.2, 4.1]
    assert [of for of in held[1] if of is not None] == [4.0, 4.2]


TABLES: dict[str, Callable[[list[Link]], str]] = {
    "in the test": in_the_test,
    "an element a column": partial(by_parameter, told_by_attribute=False),
    "an attribute that tells columns": partial(by_parameter, told_by_attribute=True),
}


@pytest.mark.parametrize("kind", TABLES)
def test_a_table_needs_no_change_but_what_only_a_person_knows(kind: str, tmp_path: Path) -> None:
    links = [link("L-1", 35.5), link("L-2", 80.0)]
    draft = draft_of(tmp_path, TABLES[kind](links), "export.xml")
    draft = edited(draft, ('first = "TO-BE-SETTLED"', 'first = "disturbing"'))
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert [record.label for record in records] == ["L-1", "L-2"]
    for one, record in zip(links, records, strict=True):
        assert curves(record.document) == written(one, *RAW)
        assert record.document["stated"]["overall"]["verdict"] == "pass"
        assert "extra" not in record.document


def test_numbered_tests_are_no_points_of_a_curve(tmp_path: Path) -> None:
    """As many tests as a short curve has points, each with a number and with figures."""
    links = [link(f"L-{at}", 30.0 + at) for at in range(1, 9)]
    text = by_parameter(links, told_by_attribute=False)
    for at in range(1, 9):
        figure = f'<pair id="12" length="{30 + at}.1"/>'
        text = text.replace("<trial><cable>", f'<trial no="{at}">{figure}<cable>', 1)
    draft = draft_of(tmp_path, text, "export.xml")
    draft = edited(draft, ('first = "TO-BE-SETTLED"', 'first = "disturbing"'))
    records, _ = read(tmp_path / "export.xml", draft)
    assert [record.label for record in records] == [f"L-{at}" for at in range(1, 9)]
    for one, record in zip(links, records, strict=True):
        assert curves(record.document).items() >= written(one, "insertion_loss").items()


def test_stated_margins_of_numbered_tests_are_no_points_of_a_curve(tmp_path: Path) -> None:
    """Margins such as 1.4 read as pairs 1 and 4, their frequencies rise as tests are numbered."""
    links = [link(f"L-{at}", 30.0 + at) for at in range(1, 9)]
    text = by_parameter(links, told_by_attribute=False)
    for at in range(1, 9):
        worst = "".join(
            f'<least of="{of}" pair="{pair}" margin_dB="{margin}" at_MHz="{at + more}.0"/>'
            for of, pair, margin, more in (
                ("Attenuation", "12", "0.3", 0),
                ("RL", "45", "3.4", 4),
                ("NEXT", "12/36", "2.1", 9),
            )
        )
        text = text.replace("<trial><cable>", f'<trial no="{at}">{worst}<cable>', 1)
    draft = draft_of(tmp_path, text, "export.xml")
    draft = edited(draft, ('first = "TO-BE-SETTLED"', 'first = "disturbing"'))
    records, _ = read(tmp_path / "export.xml", draft)
    assert [record.label for record in records] == [f"L-{at}" for at in range(1, 9)]
    for one, record in zip(links, records, strict=True):
        assert curves(record.document).items() >= written(one, "insertion_loss").items()
        assert len(record.document["stated"]["items"]) == 3


def test_a_label_around_each_test_goes_before_the_id_of_a_test(tmp_path: Path) -> None:
    links = [link(f"L-{at}", 30.0 + at) for at in (1, 2, 3)]
    text = by_parameter(links, told_by_attribute=False)
    for at, one in enumerate(links, 1):
        told = f"<cable>{one.label}</cable>"
        assert told in text
        text = text.replace(f"<trial>{told}", f'<line label="{one.label}"><trial id="T{at:05}">')
    text = text.replace("</trial>", "</trial></line>")
    draft = draft_of(tmp_path, text, "export.xml")
    draft = edited(draft, ('first = "TO-BE-SETTLED"', 'first = "disturbing"'))
    records, _ = read(tmp_path / "export.xml", draft)
    assert [record.label for record in records] == ["L-1", "L-2", "L-3"]


def two_names(one: Link) -> str:
    """NEXT with its two pairs in two elements of one name, and a worst case likewise."""
    words = {"insertion_loss": "Attenuation", "next": "NEXT"}
    made = [f"<trial><cable>{one.label}</cable><outcome>PASS</outcome>"]
    for (parameter, end, pairs), values in one.curves.items():
        if parameter in words:
            named = "".join(f"<conductors>Pair {pair[0]}{pair[2]}</conductors>" for pair in pairs)
            side = f"<side>{'local' if end == 'near' else 'remote'}</side>" if end else ""
            points = "".join(
                f"<p><kHz>{khz}</kHz><dB>{shifted(value, 2)}</dB></p>"
                for khz, value in zip(KHZ, values, strict=True)
            )
            told = f"<of>{words[parameter]}</of>{named}{side}"
            made.append(f"<sweep>{told}{points}</sweep>")
            if pairs in (("1-2",), ("1-2", "3-6")):
                at = "<margin>2.5</margin><frequency>250000</frequency>"
                made.append(f"<worst>{told}{at}</worst>")
    return f"<trials>{''.join(made)}</trial></trials>"


def test_two_elements_of_one_name_tell_two_pairs(tmp_path: Path) -> None:
    one = link("L-9", 47.0)
    draft = draft_of(tmp_path, two_names(one), "export.xml")
    (record,), problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert curves(record.document) == written(one, "insertion_loss", "next")
    named = [
        (of["parameter"], of.get("end"), of["pairs"]) for of in record.document["stated"]["items"]
    ]
    assert named == [
        ("insertion_loss", None, ["1-2"]),
        ("next", "near", ["1-2", "3-6"]),
        ("next", "far", ["1-2", "3-6"]),
    ]
    assert "extra" not in record.document


def test_limits_in_a_table_are_no_curves(tmp_path: Path) -> None:
    one = link("L-9", 47.0)
    draft = draft_of(tmp_path, with_a_limit(one), "export.xml")
    (record,), problems = read(tmp_path / "export.xml", draft)
    assert curves(record.document) == written(one, "insertion_loss", "next")
    assert [problem.message[:48] for problem in problems] == [
        "no curve is known by '@limit_p12', '@limit_p36',",
        "no curve is known by '@limit_p12_36', '@limit_p1",
    ]
    skipped = draft.replace(
        'test = "/trial"', 'test = "/trial"\nskip = "{parameter}/row/@limit_p{pairs}"'
    )
    (record,), problems = read(tmp_path / "export.xml", skipped)
    assert problems == []
    assert "extra" not in record.document


def test_a_file_that_breaks_off_is_drafted_from_what_is_whole(tmp_path: Path) -> None:
    links = [link("L-1", 35.5), link("L-2", 80.0)]
    whole = lists(links)
    draft = draft_of(tmp_path, whole[: len(whole) * 3 // 4], "export.xml")
    (tmp_path / "export.xml").write_text(whole, encoding="utf-8")
    records, problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    assert curves(records[1].document) == written(links[1], *RAW, "acr_f")


def test_a_doctype_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "export.xml"
    text = '<!DOCTYPE survey [<!ENTITY a SYSTEM "file:///etc/hostname">]>\n'
    path.write_text(text + lists([link("L-1", 35.5)]), encoding="utf-8")
    result = run("dialect", "draft", path)
    assert result.exit_code == 3
    assert "has a DOCTYPE" in result.output


def test_unknown_words_for_parameters_are_told_as_assumptions() -> None:
    export = DEMO / "exports" / "erruk-printworks-2.xml.gz"
    draft = run("dialect", "draft", export).stdout
    for word, spelling in (("return_loss", "reflection"), ("next", "back-coupling")):
        line = f'\n{word} = "{spelling}"\n'
        assert draft.count(line) == 1
        assert "ASSUMED: by the course of its curves" in draft[: draft.index(line)][-200:]


@pytest.mark.parametrize(
    ("form", "run"),
    [
        (
            '<trace of="IL" pair="{pair}" from="1000000" step="9000000">{values}</trace>',
            'run = { start = "@from", step = "@step" }',
        ),
        (
            '<trace of="IL" pair="{pair}"><raster von="1000000" schritt="9000000" anzahl="12"/>'
            "<v>{values}</v></trace>",
            'run = { path = "raster", start = "@von", step = "@schritt", count = "@anzahl" }',
        ),
        (
            '<trace of="IL" pair="{pair}"><raster><von>1000000</von><schritt>9000000</schritt>'
            "<anzahl>12</anzahl></raster><v>{values}</v></trace>",
            'run = { path = "raster", start = "von", step = "schritt", count = "anzahl" }',
        ),
    ],
)
def test_a_curve_may_say_itself_how_its_frequencies_are_spaced(
    form: str, run: str, tmp_path: Path
) -> None:
    values = [f"{1.5 + 2 * at:.1f}" for at in range(12)]
    traces = [form.format(pair=pair, values=" ".join(values)) for pair in ("12", "36", "45", "78")]
    text = f'<set><link name="L-1" standard="Cat 6A PL">{"".join(traces)}</link></set>'
    draft = draft_of(tmp_path, text, "export.xml")
    assert run in draft
    (record,), problems = read(tmp_path / "export.xml", draft)
    assert problems == []
    document = record.document
    assert [float(value) for value in values] == list(document["results"]["sweeps"][3]["value_db"])
    (grid,) = document["results"]["grids"]
    assert list(frequency_mhz(document, grid["id"])) == [1.0 + 9 * at for at in range(12)]


@pytest.mark.parametrize("stop", ["100000000", "1e999", "inf", "nan", "1_000", "", "x"])
def test_an_end_of_frequencies_that_is_no_number_breaks_no_draft(stop: str, tmp_path: Path) -> None:
    values = " ".join(f"{1.5 + 2 * at:.1f}" for at in range(12))
    raster = f'<raster from="1000000" step="9000000" to="{stop}"/>'
    traces = [
        f'<trace of="IL" pair="{pair}">{raster}<v>{values}</v></trace>'
        for pair in ("12", "36", "45", "78")
    ]
    text = f'<set><link name="L-1" standard="Cat 6A PL">{"".join(traces)}</link></set>'
    (tmp_path / "export.xml").write_text(text)
    drafted = run("dialect", "draft", tmp_path / "export.xml")
    assert drafted.exit_code in (0, 1)
    records, _ = read(tmp_path / "export.xml", drafted.stdout)
    assert len(records) == (stop == "100000000")
