"""Words of the trade, and keys about a test, in Greek: common practice and memory, no source.

As in `tongues`; a letter is found without its accent too. Names of elements are often written in
Latin letters, so that each word stands here in these as well (`in_latin`).
"""

from collections.abc import Iterator
from itertools import product

from sweepbook.word_lists import Words, lists_of, pairs_of

_LATIN: dict[str, Words] = {
    **{"ου": ("ou",), "αυ": ("au", "av"), "ευ": ("eu", "ev"), "μπ": ("mp", "b"), "ντ": ("nt",)},
    **{"ού": ("ou",), "αύ": ("au", "av"), "εύ": ("eu", "ev")},
    **{
        "θ": ("th",),
        "χ": ("ch", "x", "h"),
        "ψ": ("ps",),
        "ξ": ("x",),
        "φ": ("f",),
        "β": ("v", "b"),
    },
    **dict(zip("αάγδεέζηήιίϊΐκλ", [(of,) for of in "aagdeeziiiiiikl"], strict=True)),
    **dict(zip("μνοόπρσςτυύϋωώ", [(of,) for of in "mnooprsstyyyoo"], strict=True)),
}
"""Letters, and two together, as names in programs have them: ISO 843 and use, recalled."""
_SHORTEST = 4
"""Shorter words in Latin letters are those of other languages."""


def in_latin(word: str) -> Iterator[str]:
    """A word in Latin letters, as often as it may be written; nothing for a short one."""
    parts: list[Words] = []
    rest = word
    while rest:
        two = rest[:2] in _LATIN
        parts.append(_LATIN.get(rest[: 2 if two else 1], (rest[:1],)))
        rest = rest[2 if two else 1 :]
    if len(word) >= _SHORTEST:
        yield from ("".join(some) for some in product(*parts))


def _both(lists: dict[str, Words]) -> dict[str, Words]:
    """Words in either letters, by their name."""
    return {
        name: tuple(dict.fromkeys((*some, *(of for word in some for of in in_latin(word)))))
        for name, some in lists.items()
    }


PARAMETERS = _both(
    lists_of(
        """
        insertion_loss: απώλεια εισαγωγής, απώλειες εισαγωγής, απώλεια παρεμβολής,
            απώλειες παρεμβολής, εξασθένηση, εξασθένιση
        return_loss: απώλεια επιστροφής, απώλειες επιστροφής, απώλεια ανάκλασης,
            απώλειες ανάκλασης
        next: παραδιαφωνία, παραδιαφωνία κοντινού άκρου, διαφωνία κοντινού άκρου,
            διαφωνία εγγύς άκρου
        psnext: παραδιαφωνία αθροιστική, αθροιστική παραδιαφωνία,
            παραδιαφωνία αθροίσματος ισχύος, άθροισμα ισχύος παραδιαφωνίας, συνολική παραδιαφωνία,
            next αθροιστικό, αθροιστικό next
        acr_n: λόγος εξασθένησης προς παραδιαφωνία, λόγος εξασθένησης παραδιαφωνίας,
            λόγος εξασθένησης προς διαφωνία
        psacr_n: λόγος εξασθένησης προς παραδιαφωνία αθροιστικός, acr n αθροιστικό,
            αθροιστικό acr n, acr αθροιστικό, αθροιστικό acr
        fext: τηλεδιαφωνία, διαφωνία μακρινού άκρου, διαφωνία απομακρυσμένου άκρου
        psfext: τηλεδιαφωνία αθροιστική, αθροιστική τηλεδιαφωνία, fext αθροιστικό,
            αθροιστικό fext
        acr_f: λόγος εξασθένησης προς τηλεδιαφωνία, λόγος εξασθένησης τηλεδιαφωνίας,
            τηλεδιαφωνία ίσης στάθμης
        psacr_f: λόγος εξασθένησης προς τηλεδιαφωνία αθροιστικός, acr f αθροιστικό,
            αθροιστικό acr f, τηλεδιαφωνία ίσης στάθμης αθροιστική
        propagation_delay: καθυστέρηση διάδοσης, χρόνος διάδοσης, καθυστέρηση
        delay_skew: διαφορά καθυστέρησης, διαφορά καθυστερήσεων, απόκλιση καθυστέρησης,
            απόκλιση καθυστερήσεων, ασυμμετρία καθυστέρησης
        length: μήκος, μήκος καλωδίου, μήκος ζεύγους
        dc_loop_resistance: αντίσταση βρόχου, αντίσταση βρόγχου, ωμική αντίσταση,
            αντίσταση συνεχούς ρεύματος, αντίσταση
        dc_resistance_unbalance_within_pair: ανισορροπία αντίστασης, ασυμμετρία αντίστασης,
            διαφορά αντίστασης
        wire_map: χάρτης συρμάτωσης, χάρτης συνδέσεων, διάγραμμα συρμάτωσης, συρμάτωση,
            συνδεσμολογία
        """
    )
)

_ENDS = pairs_of(
    """
    κοντινό άκρο / μακρινό άκρο, εγγύς άκρο / απομακρυσμένο άκρο,
    τοπικό άκρο / απομακρυσμένο άκρο, κύρια μονάδα / απομακρυσμένη μονάδα,
    τοπική μονάδα / απομακρυσμένη μονάδα, κύρια συσκευή / απομακρυσμένη συσκευή,
    κύρια / απομακρυσμένη, κύριο / απομακρυσμένο, τοπική / απομακρυσμένη,
    τοπικό / απομακρυσμένο, κοντινό / μακρινό, εγγύς / απομακρυσμένο, άκρο α / άκρο β,
    άκρο a / άκρο b, άκρο 1 / άκρο 2, πλευρά α / πλευρά β
    """
)
ENDS = (
    *_ENDS,
    *((near, far) for ends in _ENDS for near, far in zip(*map(in_latin, ends), strict=False)),
)

OPPOSITES = pairs_of(
    """
    επιτυχία / αποτυχία, επιτυχές / ανεπιτυχές, επιτυχής / ανεπιτυχής, πέρασε / απέτυχε,
    πέτυχε / απέτυχε, αποδεκτό / μη αποδεκτό, εντός ορίων / εκτός ορίων, ναι / όχι
    """
)

COLOURS = _both(
    lists_of(
        """
        1-2: πορτοκαλί, πορτοκαλής
        3-6: πράσινο, πράσινος, πράσινη
        4-5: μπλε, γαλάζιο
        7-8: καφέ, καφετί
        """
    )
)

WORDS = _both(
    lists_of(
        """
        margin: περιθώριο, ελάχιστο περιθώριο, χειρότερο περιθώριο, περιθώρια
        limit: όριο, όρια, τιμή ορίου
        worst: χειρότερο, χειρότερη, χειρότερη τιμή
        verdict key: αποτέλεσμα, κρίση, αξιολόγηση, κατάσταση
        frequency: συχνότητα, συχνότητες
        unit: μονάδα, μονάδες, μονάδα μέτρησης
        value: τιμή, τιμή μέτρησης, μετρημένη τιμή, ένδειξη
        test: μέτρηση, δοκιμή, έλεγχος, ζεύξη
        disturbing: παρενοχλούν ζεύγος, ζεύγος παρεμβολής, πηγή παρεμβολής
        disturbed: παρενοχλούμενο ζεύγος, ενοχλούμενο ζεύγος
        from: από
        to: προς
        firmware: υλικολογισμικό, έκδοση υλικολογισμικού
        software: λογισμικό, έκδοση λογισμικού
        """
    )
)

KEYS = _both(
    lists_of(
        """
        link.label: ετικέτα καλωδίου, ετικέτα ζεύξης, όνομα ζεύξης, όνομα καλωδίου,
            κωδικός καλωδίου, κωδικός ζεύξης, αριθμός καλωδίου, ετικέτα, όνομα, ζεύξη, λήψη
        test.limit: όριο δοκιμής, όριο μέτρησης, πρότυπο μέτρησης, πρότυπο, όριο, προδιαγραφή
        test.started: ημερομηνία και ώρα, έναρξη μέτρησης, έναρξη δοκιμής, χρόνος μέτρησης,
            ημερομηνία μέτρησης, ώρα μέτρησης, έναρξη, ημερομηνία, ώρα
        test.ended: λήξη μέτρησης, λήξη
        test.operator: τεχνικός, χειριστής, μετρήθηκε από, υπεύθυνος, ο τεχνικός, ελεγκτής
        test.ambient_c: θερμοκρασία περιβάλλοντος, θερμοκρασία
        stated.overall: συνολικό αποτέλεσμα, τελικό αποτέλεσμα, γενικό αποτέλεσμα,
            αποτέλεσμα μέτρησης, αποτέλεσμα, κρίση
        results.wire_map.screen: θωράκιση
        link.cable.maker: κατασκευαστής καλωδίου
        link.cable.part: τύπος καλωδίου, είδος καλωδίου, καλώδιο
        link.near.place.site: έργο, όνομα έργου, τοποθεσία, χώρος έργου, εγκατάσταση
        link.near.place.building: κτίριο
        link.near.place.floor: όροφος
        link.near.place.space: δωμάτιο, αίθουσα
        link.near.place.cabinet: ικρίωμα, καμπίνα, ερμάριο
        link.near.place.panel: πίνακας βυσμάτων, πίνακας σύνδεσης
        link.near.place.port: θύρα
        """
    )
)
EQUIPMENT = _both(
    lists_of(
        """
        instrument.serial: σειριακός αριθμός, αριθμός σειράς, αριθμός οργάνου, αρ σειράς
        instrument.maker: κατασκευαστής
        instrument.model: όργανο, όργανο μέτρησης, τύπος οργάνου, μοντέλο, συσκευή
        instrument.calibrated_on: ημερομηνία βαθμονόμησης, βαθμονόμηση, διακρίβωση
        """
    )
)
