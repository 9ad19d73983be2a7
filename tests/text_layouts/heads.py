"""Key lines of an export: what is known of its tester, and of each test."""

from datetime import UTC, datetime, timedelta, timezone

from .truth import Test
from .wording import Wording

Cells = list[str]
_FORMS = {"%Y": "YYYY", "%m": "MM", "%d": "DD", "%b": "MON", "%H": "hh", "%M": "mm", "%S": "ss"}


def zone_text(minutes: int) -> str:
    """An offset as +hh:mm."""
    sign = "-" if minutes < 0 else "+"
    return f"{sign}{abs(minutes) // 60:02}:{abs(minutes) % 60:02}"


def started(test: Test, wording: Wording) -> str:
    """The time of a test as the export writes it."""
    choices = wording.choices
    clock = "%H:%M:%S" if choices.seconds else "%H:%M"
    day = test.started.strftime(choices.day)
    if choices.clock_apart:
        return day
    text = f"{day} {test.started.strftime(clock)}"
    return f"{text} {zone_text(test.offset)}" if choices.zone == "inside" else text


def true_time(test: Test, wording: Wording) -> datetime:
    """What a record must say of the time: to the minute where no seconds are written."""
    when = test.started if wording.choices.seconds else test.started.replace(second=0)
    if wording.choices.zone == "none":
        return when.replace(tzinfo=UTC)
    return when.replace(tzinfo=timezone(timedelta(minutes=test.offset)))


def of_file(test: Test, wording: Wording) -> list[tuple[str, str]]:
    """Keys and texts that count for all tests of a file."""
    choices = wording.choices
    model, calibrated = wording.distinct("model", "calibrated")
    near, far = wording.said["serials"]
    pairs = [(model, "Veldor T-40"), (near, test.serials[0]), (far, test.serials[1])]
    pairs.append((calibrated, datetime(2024, 11, 2).strftime(choices.day)))
    if choices.zone == "told":
        form = choices.day
        for mark, letters in _FORMS.items():
            form = form.replace(mark, letters)
        told = wording["dates_told"].format(form=form, zone=f"UTC{zone_text(test.offset)}")
        pairs.append((wording["dates_key"], told))
    if choices.unit_at == "told":
        pairs.append((wording["units_key"], f"{choices.unit}, dB"))
    if choices.pairing == "numbers":
        pins = {wording.pair(pair): pair for pair in ("4-5", "1-2", "3-6", "7-8")}
        pairs.append((wording["pair_key"], " ".join(f"{n}={pair}" for n, pair in pins.items())))
    if choices.pairing == "colours":
        pins = {wording.pair(pair): pair for pair in ("4-5", "1-2", "3-6", "7-8")}
        pairs.append((wording["pair_key"], ", ".join(f"{n} {pair}" for n, pair in pins.items())))
    return pairs


def of_test(test: Test, wording: Wording) -> list[tuple[str, str]]:
    """Keys and texts of one test, the label first."""
    choices = wording.choices
    when = ("day", "clock") if choices.clock_apart else ("started",)
    zone = ("zone",) if choices.zone == "key" else ()
    keys = ("label", "site", "building", *when, *zone, "operator", "limit", "maker", "part", "nvp")
    texts = {
        "label": test.label,
        "site": "Hospital East",
        "building": "B",
        "started": started(test, wording),
        "day": started(test, wording),
        "clock": test.started.strftime("%H:%M:%S" if choices.seconds else "%H:%M"),
        "zone": f"UTC{zone_text(test.offset)}",
        "operator": test.operator,
        "limit": wording["limits"],
        "maker": test.maker,
        "part": test.part,
        "nvp": wording.number(test.nvp, 1),
        "overall": wording.verdict(passed=test.passed),
    }
    every = (*keys, "overall")
    return [(word, texts[key]) for key, word in zip(every, wording.distinct(*every), strict=True)]


def key_lines(pairs: list[tuple[str, str]], wording: Wording, width: int = 0) -> list[Cells]:
    """Keys and texts as lines."""
    head = wording.choices.head
    if head == "colon":
        return [[f"{key}: {text}"] for key, text in pairs]
    if head == "equals":
        return [[f"{key} = {text}"] for key, text in pairs]
    pad = [""] * max(0, width - 2) if wording.choices.padded else []
    return [[key, text, *pad] for key, text in pairs]


def test_lines(pairs: list[tuple[str, str]], wording: Wording) -> list[Cells]:
    """The key lines of a test; titles with texts below them where the export has it so."""
    if wording.choices.head == "titles":
        return [[key for key, _ in pairs], [text for _, text in pairs]]
    return key_lines(pairs, wording, 6)
