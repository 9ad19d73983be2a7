"""A text table of an invented make in which each line begins with a mark of its kind."""

from .links import KHZ, Link, shifted
from .sheets import FEW, WORST

FRENCH = {"insertion_loss": "Perte d'insertion", "return_loss": "Pertes de retour", "next": "NEXT"}
NUMBERS = {"4-5": "1", "1-2": "2", "3-6": "3", "7-8": "4"}
SIDES = {None: "*", "near": "côté gauche", "far": "côté droit"}


def marked(links: list[Link]) -> str:
    """A line of the curve before its points, a summary whose titles come again, remarks."""
    lines = ["# Dune 4, liste", "# valeurs en dB", "OUTIL;Dune 4;DN-44", "FUSEAU;UTC+01:00"]
    for number, one in enumerate(links, 1):
        lines += [f"MESURE;{number};{one.label};28/02/2026 17:05;conforme", "NORME;Cat 6A PL"]
        lines += [f"RETARD;ns;1;{round(one.metres * 4.9)};2;990"]
        lines += ["BILAN;Grandeur;Côté;Paire;Marge dB;MHz;Pire valeur dB;MHz;Verdict"]
        for name, end, worst, margin, mhz, _ in WORST:
            told = " et ".join(f"paire {NUMBERS[pair]}" for pair in worst)
            fit = "non conforme" if margin.startswith("-") else "conforme"
            lines.append(f"B;{FRENCH[name]};{SIDES[end]};{told};{margin};{mhz};9.5;77;{fit}")
        for (name, end, pairs), values in one.curves.items():
            if name in FEW:
                told = " et ".join(f"paire {NUMBERS[pair]}" for pair in pairs)
                lines.append(f"COURBE;{FRENCH[name]};{told};{SIDES[end]};{len(KHZ)} points")
                points = zip(KHZ, values, strict=True)
                lines += [f"X;{shifted(khz, 3)};{shifted(db, 2)};60.0" for khz, db in points]
        lines += ["FIN", ""]
    return "\n".join(lines) + "\n"
