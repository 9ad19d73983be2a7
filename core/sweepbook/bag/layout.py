"""What lies where in a bag."""

from sweepbook import __version__
from sweepbook.errors import SweepbookError

LAYOUT = "urn:sweepbook:bag-1"
"""Names what lies where, in bag-info.txt."""

PROGRAM = f"sweepbook {__version__}"

DECLARATION = "bagit.txt"
DECLARED = b"BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n"
INFO = "bag-info.txt"
README = "README.txt"
PAYLOAD = "data"
ALGORITHM = "sha256"
MANIFEST = f"manifest-{ALGORITHM}.txt"
TAG_MANIFEST = f"tagmanifest-{ALGORITHM}.txt"
TAG_FILES = (DECLARATION, INFO, README, MANIFEST)
"""What lies beside the payload, apart from the list of these."""

BOOK = f"{PAYLOAD}/book"
JUDGED_BY = f"{PAYLOAD}/judged-by"
LIMITS = f"{JUDGED_BY}/limits"
INTERPRETATIONS = f"{JUDGED_BY}/interpretations.json"
PRACTICE = f"{JUDGED_BY}/practice.json"
ACCURACY = f"{JUDGED_BY}/accuracy.json"
RULES = f"{JUDGED_BY}/rules.json"
CONTRIBUTED = f"{JUDGED_BY}/contributed-rules.json"
PROJECT = f"{JUDGED_BY}/project.toml"
SPECIFICATIONS = f"{PAYLOAD}/specifications"
AUDIT = f"{PAYLOAD}/audit.json"
RECONCILIATION = f"{PAYLOAD}/reconciliation.json"
SCHEDULE = f"{PAYLOAD}/schedule"
REPORT = f"{PAYLOAD}/report.html"


MOST_TAG = 4 << 20
"""Bytes of a file beside the payload that is no list."""


class NotABag(SweepbookError):
    """What was named is no bag, or one that cannot be read."""
