"""What to know before a person acts on a result: the same words wherever one may."""

ON_LINKS = (
    "Before anybody connects to, opens or repairs a link: make sure that it carries no service, "
    "no remote power and no telephone voltage, never look into a fibre or port, and leave screens "
    "bonded as designed. Local codes, the contract and licensed practice come first."
)
ON_TESTERS = (
    "A tester that reads apart may be right, and its links may differ from the others in what "
    "nobody wrote down. Test one link with both, one after the other, before anybody acts on it."
)
