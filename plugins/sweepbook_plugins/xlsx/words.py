"""What the workbook, and the flat tables, say about themselves, as data."""

from sweepbook import caution

JUDGEMENTS = (
    ("upheld", "The sweeps prove what was stated, a pass or a fail."),
    ("overturned", "The sweeps prove the opposite of what was stated."),
    ("unproven", "The sweeps prove neither: something required is missing or too near to tell."),
    ("unstated", "The source stated no verdict; see what the sweeps say."),
)
WEIGHTS = (
    ("error", "Provably wrong, or a document says shall."),
    ("warning", "Common practice, or a doubt."),
    ("note", "To know."),
)
GRADES = (
    ("Grade A", "A public text shows the limit."),
    ("Grade B", "Recalled, of the standards' usual structure, agreeing with recalled values."),
    ("Grade C", "Recalled and not cross-checked; used within a known interval, or on request."),
)
READING = (
    (
        "Margin",
        "Positive is better than the limit. Worst margin and worst value are two things: the "
        "smallest margin and the smallest loss (largest insertion loss) may lie at different "
        "frequencies, and each is given with the limit at its own.",
    ),
    (
        "True margin",
        "A source rounds what it exports, and not every limit is known to the last digit. The "
        "true margin lies between these two; where they enclose zero, nothing is proved.",
    ),
    ("Pairs", "By pins. For crosstalk: disturbing pair / disturbed pair."),
    (
        "End",
        "Where the value was measured; for far-end crosstalk where the disturbed pair is "
        "received. Near and far are those of the test; the terminations say what is there.",
    ),
    (
        "Units",
        "dB, MHz, ns, m, ohm and percent, as the column or the column Unit says; every loss is a "
        "positive number of dB. Faults of a wire map are counted.",
    ),
    (
        "To retest",
        "Links whose last test is no proved pass, or a marginal one where the quality plan has "
        "these tested again, by floor, room and panel. Where to look first is a hint by common "
        "practice: the sweeps tell the end and the pairs, and no distance. "
        "The caution above comes first.",
    ),
    (
        "History",
        "Links that were tested more than once, each test from the first to the last. The last one "
        "speaks for its link; where their order is not known the worst counts. Another export of a "
        "test is listed and not counted.",
    ),
    (
        "Schedule",
        "Where each scheduled link stands, and tests that are not on the schedule. A test belongs "
        "to a link when its label is the scheduled one, case and runs of blanks aside; labels near "
        "it are hints.",
    ),
    ("For information", "Points that a rule of the standard leaves out of the verdict."),
    (
        "Weight",
        " ".join(f"{word}: {text}" for word, text in WEIGHTS)
        + " skipped, crashed: The rule gave no answer.",
    ),
    ("Other columns", "The sheet Columns says what stands in each column of each sheet."),
    ("Times", "RFC 3339, by the source's own clock and zone; -00:00 is an unknown offset."),
    ("Empty cell", "The source does not say, or there is nothing to say."),
    (
        "On paper",
        "The first columns of a sheet are printed; the rest are for the screen, and so are all "
        "rows of Margins: to print these, clear the print area of that sheet.",
    ),
    ("Colours", "A tint repeats the word in its cell and says nothing of its own."),
)
CAUTION = f"This workbook judges data; it does not authorise work. {caution.ON_LINKS}"
OF_TABLES = {
    "Caution": f"These tables judge data; they do not authorise work. {caution.ON_LINKS}",
    "Other columns": "columns.csv says what stands in each column of each table.",
    "On paper": "",
    "Colours": "",
}
"""What flat tables say where the sheets have other words; "" where they say nothing."""
EXPORTS = "Records of tests that came in another file too and say the same: not counted above."
LET_STAND = "Would be open by the schedule; somebody accepts it: see Why in the sheet Schedule."
NO_TABLE = "No record was judged under a limit table."
ALL_READ = "Every test in the sources was read."
