"""What stands in each column, by its title; "Table: Title" where one title has two meanings.

Data only: the sheet Columns and the dictionary of the flat tables are made of it.
"""

from sweepbook_plugins.xlsx.fields import DECIMALS

_ROUNDED = f"rounded to {DECIMALS} decimals"
_LINK = "Label of the link, as stated or as corrected."
_RECORD = "Identity of the record: the digest of all that was measured and stated."


def _level(what: str) -> str:
    return f"{what} of the link, by the schedule, else by its tests, else by its label."


def _ends() -> dict[str, str]:
    """What a record says of either end."""
    levels = {
        "site": "Site",
        "building": "Building",
        "floor": "Floor",
        "space": "Room or telecommunications space",
        "cabinet": "Cabinet, rack or frame",
        "unit": "Rack unit",
        "panel": "Patch panel or outlet box",
        "port": "Port",
    }
    found = {}
    for end in ("Near", "Far"):
        found[f"{end} termination"] = f"What is written at the {end.lower()} end, such as a port."
        for level, what in levels.items():
            found[f"{end} {level}"] = f"{what} of the {end.lower()} end, as the test names it."
    return found


MEANINGS: dict[str, str] = {
    "Link": _LINK,
    "Record": _RECORD,
    "Judgement": "What becomes of the stated verdict: upheld, overturned, unproven or unstated.",
    "Stated verdict": "What the source states: pass, pass*, fail*, fail, or none.",
    "Sweeps say": "What the sweeps prove: pass, fail or undecided.",
    "Marginal": "Why a proved pass is marginal; empty where it is not.",
    "Worst margin": "Smallest distance to the limit, in the unit beside; positive is better; "
    f"{_ROUNDED}.",
    "Unit": "Unit of the figures of this row.",
    "Margin of": "Parameter with the worst margin.",
    "Margin pairs": "Pair, or disturbing / disturbed pair, with the worst margin.",
    "Margin end": "End at which the worst margin was measured.",
    "Margin at, MHz": "Frequency of the worst margin in MHz; empty for a single figure.",
    "Why": "The reason in words.",
    "Findings": "How many findings on this test stand; accepted ones are not counted.",
    "Corrected": "Fields that say otherwise by corrections; Corrections has the rest.",
    "Limit": "Path of the limit table that the test was judged under.",
    "Rules not run": "How many rules gave no answer on this test; they do not count as passed.",
    "Limit known to grade": "How well it is known: A public text, B recalled, C not cross-checked.",
    "How the limit was found": "How the limit table follows from the spelling of the source.",
    **_ends(),
    "Limit as stated": "Name of the limit as the source spells it.",
    "Configuration": "What the tester was set up for: channel, permanent link and so on.",
    "Length of shortest pair, m": "Length of the shortest pair in m, as the source states it.",
    "Cable maker": "Maker of the cable, as the test names it.",
    "Cable part": "Part number or name of the cable.",
    "Cable construction": "Screens of the cable, as ISO/IEC 11801-1 writes them.",
    "Reel or batch": "Reel or batch that the cable was cut from.",
    "Purpose": "What the test was made for: initial, retest and so on.",
    "Test started": "When the test began, RFC 3339; -00:00 is an unknown offset.",
    "Operator": "Who tested, by the id in the record.",
    "Operator's name": "Name of that person, where people.csv of the book has it.",
    "Near instrument": "Serial number of the unit at the near end.",
    "Far instrument": "Serial number of the unit at the far end.",
    "Source file": "Name of the export that the test was read from.",
    "Place in the source": "Where in that file the test stands.",
    "Building": _level("Building"),
    "Floor": _level("Floor"),
    "Space": _level("Room or telecommunications space"),
    "Cabinet": _level("Cabinet, rack or frame"),
    "Panel": _level("Patch panel or outlet box"),
    "Port": _level("Port"),
    "Site": _level("Site"),
    "State": "Where the link stands.",
    "To retest: State": "Why it is listed: fail, overturned, unproven or marginal.",
    "To retest: Unit": _level("Rack unit"),
    "Where to look first (hints only)": "Where the failing curves point: end, pairs.",
    "Tests so far": "How many tests of the link there are.",
    "Test number": "Which test of its link it is, from the first on.",
    "Of": "How many tests of the link there are.",
    "Current": "Whether the test is the last of its link, and so speaks for it: yes, no, or order "
    "not known.",
    "Began by its clock": "When the test began, as the clock of the tester showed.",
    "Open": "Whether somebody has to do something about it.",
    "Labels near it": "Labels of tests that differ a little and may be of this link.",
    "Limit asked for": "Limit table that the schedule asks for, or its spelling there.",
    "Tests": "How many tests.",
    "Line of the schedule": "Where the link stands in the schedule, counted from 1.",
    "Parameter": "What was measured.",
    "End": "Where the value was measured; for far-end crosstalk where it was received.",
    "Pair, or disturbing / disturbed": "Pair by pins, or the disturbing and the disturbed pair.",
    "Outcome": "What this curve or figure alone proves.",
    "Worst margin at, MHz": "Frequency of the worst margin in MHz.",
    "Limit at worst margin": f"The limit there, in the unit of the row; {_ROUNDED}.",
    "Worst value": "Smallest loss, or largest insertion loss, delay or resistance; as the source "
    f"states it, but {_ROUNDED} where it was worked out from others.",
    "Worst value at, MHz": "Frequency of the worst value in MHz.",
    "Limit at worst value": f"The limit there, in the unit of the row; {_ROUNDED}.",
    "Obligation": "Only what is required decides; the rest is for information.",
    "Points evaluated": "Points that were compared with the limit.",
    "Points for information": "Points that a rule of the standard leaves out of the verdict.",
    "Curve or figure": "Recomputed from measured sweeps, or as exported.",
    "True margin at least": f"The true worst margin is not below this; {_ROUNDED}.",
    "True margin at most": f"The true worst margin is not above this; {_ROUNDED}.",
    "Remark": "Why the outcome is undecided, or what was assumed.",
    "Weight": "error, warning or note; skipped or crashed where the rule gave no answer.",
    "Rule": "Id of the rule in the catalogue.",
    "What was found": "The finding in words.",
    "Accepted by": "Who lets the finding stand, when and why.",
    "Why it matters": "Why there is such a rule.",
    "What to do": "What to do about it.",
    "By": "Document, clause and force that the rule rests on.",
    "Place in the record": "Where in the record the finding is.",
    "Serial number": "Serial number of the unit.",
    "Maker": "Maker of the unit.",
    "Model": "Model of the unit.",
    "Used as": "Ends at which it was used.",
    "First test": "Start of its first test, RFC 3339.",
    "Last test": "Start of its last test, RFC 3339.",
    "Accuracy level": "Accuracy levels that it is declared to meet.",
    "Firmware": "Versions of its software.",
    "Calibrated on": "Days of its calibrations.",
    "Calibration due": "Last days of these.",
    "Adaptor parts": "Part numbers of adaptors that it was used with.",
    "Adaptor serials": "Serial numbers of these.",
    "Field": "What was corrected, as a path in the record.",
    "The record says": "What the record says there.",
    "Right is": "What is right.",
    "Who": "Who knows.",
    "When": "When it was entered.",
    "In use": "Whether the correction fits the record and is applied, or was taken back.",
    "Spelling of a": "What has several spellings: a level of place, a part of a cable, a limit.",
    "The records say": "The spelling in the records.",
    "Taken as": "The one name that the project file brings it to.",
    "Part": "What the row belongs to, such as the limits judged by; empty for the job as a whole.",
    "Name": "What is told.",
    "Text": "What is to be said of it.",
    "Spellings: Tests": "How many tests have this spelling.",
    "Instruments: Tests": "How many tests the unit made.",
}
