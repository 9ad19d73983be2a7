"""A limit as people spell it leads to one table, or to a refusal that says what to do."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sweepbook.limits.library import AmbiguousLimit, Library, UnknownLimit
from sweepbook.limits.load import load

DAY = date(2024, 5, 1)
TIA, ISO = "tia-568.2-d/cat6a", "iso-11801-1-2017/class-ea"
LIBRARY = Library.load()


@pytest.mark.parametrize(
    ("spelling", "path"),
    [
        ("TIA Cat 6A Channel", f"{TIA}/channel"),
        ("CAT6A CH", f"{TIA}/channel"),
        ("Category 6A Perm. Link", f"{TIA}/permanent-link"),
        ("perm link cat.6a TIA", f"{TIA}/permanent-link"),
        ("channel / augmented category 6", f"{TIA}/channel"),
        ("ISO/IEC 11801 Class EA Channel", f"{ISO}/channel"),
        ("CLASS E_A PL", f"{ISO}/permanent-link"),
        ("Class Eₐ permanent link", f"{ISO}/permanent-link"),
        ("class ea pl with cp", f"{ISO}/permanent-link-cp"),
        ("ISO Class EA PL3", f"{ISO}/permanent-link-cp"),
        ("ISO Class EA PL2", f"{ISO}/permanent-link"),
        ("Cat 5e Channel", "tia-568.2-d/cat5e/channel"),
        ("TIA Cat 6 Perm. Link", "tia-568.2-d/cat6/permanent-link"),
        ("PL CAT.6", "tia-568.2-d/cat6/permanent-link"),
        ("TIA Cat6A MPTL", f"{TIA}/mptl"),
        ("modular plug terminated link category 5e", "tia-568.2-d/cat5e/mptl"),
        ("ISO11801 Channel Class D", "iso-11801-1-2017/class-d/channel"),
        ("Class E PL", "iso-11801-1-2017/class-e/permanent-link"),
        ("Class E permanent link with CP", "iso-11801-1-2017/class-e/permanent-link"),
        ("channel class f", "iso-11801-1-2017/class-f/channel"),
        ("ISO/IEC 11801 Class F_A PL", "iso-11801-1-2017/class-fa/permanent-link"),
    ],
)
def test_a_spelling_without_edition_is_read_by_the_day_of_the_test(
    spelling: str, path: str
) -> None:
    found = LIBRARY.resolve(spelling, DAY)
    assert (found.path, found.by) == (path, "date")
    assert "no edition named: the newest at hand on 2024-05-01" in found.how
    assert spelling in found.how


@pytest.mark.parametrize(
    ("spelling", "path"),
    [
        ("ANSI/TIA-568.2-D Cat 6A Channel", f"{TIA}/channel"),
        ("568.2-D (2018) permanent link 6A", f"{TIA}/permanent-link"),
        ("Class EA Channel ISO/IEC 11801-1:2017", f"{ISO}/channel"),
    ],
)
def test_a_spelling_with_edition_needs_no_day(spelling: str, path: str) -> None:
    found = LIBRARY.resolve(spelling, date(1999, 1, 1))
    assert (found.path, found.by) == (path, "name")


@pytest.mark.parametrize(
    "spelling",
    ["TIA Cat 8 Channel", "category 8", "tia-568.2-d/cat8/channel", "ISO 11801 class II PL"],
)
def test_a_limit_known_by_name_alone_says_what_is_missing(spelling: str) -> None:
    with pytest.raises(UnknownLimit, match="too doubtful to judge by") as caught:
        LIBRARY.resolve(spelling, DAY)
    assert "largest step above 600 MHz" in caught.value.message
    assert "--limits" in caught.value.todo


def test_a_path_is_taken_as_it_is_and_in_another_case() -> None:
    assert LIBRARY.resolve(f"{TIA}/channel").by == "path"
    assert LIBRARY.resolve("TIA-568.2-D/Cat6A/Channel").path == f"{TIA}/channel"


def test_a_bare_permanent_link_says_how_it_was_read() -> None:
    found = LIBRARY.resolve("Class EA Permanent Link", DAY)
    assert found.how.endswith("read as a permanent link without consolidation point")


def test_the_stated_configuration_narrows_a_spelling_that_names_none() -> None:
    found = LIBRARY.resolve("Cat 6A", DAY, "permanent-link")
    assert found.path == f"{TIA}/permanent-link"
    assert "configuration permanent-link as the record states it" in found.how


def test_the_stated_configuration_never_overrules_the_spelling() -> None:
    assert LIBRARY.resolve("Cat 6A channel", DAY, "permanent-link").path == f"{TIA}/channel"


@pytest.mark.parametrize(
    ("spelling", "candidates"),
    [
        ("Cat 6A", (f"{TIA}/channel", f"{TIA}/mptl", f"{TIA}/permanent-link")),
        ("EA", (f"{ISO}/channel", f"{ISO}/permanent-link", f"{ISO}/permanent-link-cp")),
        ("channel", tuple(path for path in LIBRARY.paths() if path.endswith("/channel"))),
    ],
)
def test_an_ambiguous_spelling_is_refused_with_the_candidates(
    spelling: str, candidates: tuple[str, ...]
) -> None:
    with pytest.raises(AmbiguousLimit) as caught:
        LIBRARY.resolve(spelling, DAY)
    assert caught.value.candidates == candidates
    assert all(path in caught.value.message for path in candidates)


@pytest.mark.parametrize(
    "spelling", ["", " ", "Cat 7", "Cat 6A Chanel", "Class EA Cat 6A channel", "EN 50173 EA PL"]
)
def test_an_unknown_spelling_is_refused_with_what_to_do(spelling: str) -> None:
    with pytest.raises(UnknownLimit) as caught:
        LIBRARY.resolve(spelling, DAY)
    assert "sweepbook limits list" in caught.value.todo


def test_a_near_miss_of_a_path_is_suggested_and_not_taken() -> None:
    with pytest.raises(UnknownLimit, match="Perhaps") as caught:
        LIBRARY.resolve("tia-568.2-d/cat6b/channel")
    assert f"{TIA}/channel" in caught.value.todo


def test_a_test_older_than_every_edition_at_hand_is_refused() -> None:
    with pytest.raises(UnknownLimit, match="none at hand was out when the test was made"):
        LIBRARY.resolve("Cat 6A Channel", date(2015, 1, 1))


def with_two_editions() -> Library:
    """The library with a second, later edition of one table."""
    from importlib.resources import files

    raw = files("sweepbook_schemas").joinpath(f"limits/{TIA}/channel.json").read_text("utf-8")
    later = raw.replace("568.2-D", "568.2-Z").replace("568.2-d", "568.2-z")
    table = load(later.replace(": 2018", ": 2023").encode(), "later", trusted=True)
    return Library({**LIBRARY.tables, table.path: table})


@pytest.mark.parametrize(
    ("day", "edition"),
    [
        (date(2022, 12, 31), "tia-568.2-d"),
        (date(2023, 1, 1), "tia-568.2-z"),
        (None, "tia-568.2-z"),
    ],
)
def test_of_several_editions_the_newest_of_that_year_is_taken(
    day: date | None, edition: str
) -> None:
    assert with_two_editions().resolve("Cat 6A Channel", day).path == f"{edition}/cat6a/channel"


def test_of_several_editions_the_one_named_is_taken() -> None:
    found = with_two_editions().resolve("TIA 568.2-D cat 6a channel", date(2024, 1, 1))
    assert (found.path, found.by) == (f"{TIA}/channel", "name")


NAMES = LIBRARY.table(f"{ISO}/permanent-link-cp").names


@given(
    st.permutations(["body", "edition", "class_or_category", "configuration"]),
    st.data(),
    st.sampled_from([" ", "-", "/", ", ", ""]),
    st.sampled_from([str.upper, str.lower, str.title]),
)
def test_order_case_and_punctuation_do_not_count(
    order: list[str], data: st.DataObject, gap: str, case: object
) -> None:
    words = [data.draw(st.sampled_from(getattr(NAMES, group)), label=group) for group in order]
    assert callable(case)
    found = LIBRARY.resolve(case(gap.join(words)), DAY)
    assert found.path == f"{ISO}/permanent-link-cp"


@pytest.mark.parametrize(
    "spelling",
    [
        "Cat 6+ Channel",
        "TIA Cat 6\N{FULLWIDTH PLUS SIGN} Channel",
        "channel cat 6+",
        "Cat6 Channel +",
    ],
)
def test_a_plus_makes_another_name(spelling: str) -> None:
    """Words such as Category 6+ are no category of TIA-568; common practice, no source."""
    with pytest.raises(UnknownLimit) as caught:
        LIBRARY.resolve(spelling, DAY)
    assert "By its plus it is another limit than" in str(caught.value)
    assert "tia-568.2-d/cat6/channel" in str(caught.value)


def test_a_plus_between_words_is_punctuation() -> None:
    found = LIBRARY.resolve("TIA-568.2-D + Cat 6 Channel", DAY)
    assert found.path == "tia-568.2-d/cat6/channel"
