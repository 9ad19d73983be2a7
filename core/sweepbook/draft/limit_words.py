"""Names of limits in the words of the trade's languages, put into those that limit tables list."""

import re
from collections.abc import Sequence

from sweepbook.word_lists import lists_of, words_of

LINKS = lists_of(
    """
    permanent link: permanent link, permanent, perm link, perm, pl, fixed link,
        installationsstrecke, permanente strecke, perm strecke, lien permanent, liaison permanente,
        enlace permanente, enl perm, collegamento permanente, link permanente, ligação permanente,
        permanente link, permanente verbinding, vaste link, łącze stałe, lacze stale, trvalý spoj,
        pevný spoj, pevná linka, permanent länk, fast länk, permanent lenke, fast link,
        permanent strækning, permanent strekning, permanent sträcka,
        kiinteä yhteys, постоянная линия, стационарная линия, 永久链路, パーマネントリンク,
        kalıcı bağlantı, liên kết cố định, liên kết vĩnh viễn, tuyến cố định, đường truyền cố định,
        μόνιμος σύνδεσμος, μόνιμη ζεύξη, μόνιμη σύνδεση
    channel: channel, chan, ch, übertragungsstrecke, übertragungskanal, kanal, canal, canale,
        kanaal, kanał, kanál, kanava, канал, 信道, チャネル, kênh truyền, kênh, κανάλι
    """
)
"""What a link is from end to end, as names of limits call it: words by that of the tables. The
translations are common practice in the trade, no source."""

_CLASS = words_of(
    "class, klasse, kl, classe, cl, clase, klasa, klasy, třída, tř, klass, luokka, класс, sınıf,"
    "lớp, κλάση, κλάσης,"
    "クラス"
)
_CATEGORY = words_of(
    """
    category, cat, kategorie, kategoria, kategori, kat, catégorie, categoría, categoria, categorie,
    kategorii, luokka, категория, категории, кат, カテゴリ, κατηγορία, κατηγορίας, κατ
    """
)
_ENGLISH = re.compile(r"(?<![^\W_])(?:TIA|568|cat|category)(?![^\W\d_])", re.IGNORECASE)
_COMMISSION = re.compile(r"(?<![^\W_])CEI(?=[\s/:-]*[0-9])")
"""The IEC in French, Spanish, Italian and Portuguese, before the number of a document."""
_CLASS_NAME = r"(?:FA|EA|F_A|E_A|[DEF])"
_ALONE = r"(?<![^\W_])"
_CATEGORY_NAME = r"[5-8](?:[.]\d)?(?:A|E)?"


def _spelt(words: Sequence[str]) -> str:
    """Words with no letter or digit at either end, blanks or dots between their parts."""
    parts = (r"[\s.-]*".join(map(re.escape, word.split())) for word in words)
    return rf"(?<![^\W_])({'|'.join(sorted(parts, key=len, reverse=True))})(?![^\W_])\.?"


_LINK = re.compile("|".join(map(_spelt, LINKS.values())), re.IGNORECASE)


def in_english(name: str) -> str:
    """A name of a limit with its words for class, category and link in those of the tables.

    A second word for the same kind of link, as in a name in two languages, is left out. Whatever
    else the name says stays as it is, so that nothing is read into a name that says more.
    """
    name = re.sub(rf"{_ALONE}({_CLASS_NAME})\s?[级級]", r"Class \1 ", name)
    name = re.sub(rf"{_ALONE}({_CATEGORY_NAME})\s?[类類]", r"Category \1 ", name)
    said = _named(name, _CLASS, _CLASS_NAME, "Class")
    said = _named(said, _CATEGORY, _CATEGORY_NAME, "Category")
    said = re.sub(_COMMISSION, "IEC", said)
    kinds: set[str] = set()

    def put(found: "re.Match[str]") -> str:
        word = [*LINKS][(found.lastindex or 1) - 1]
        if word in kinds:
            return ""
        kinds.add(word)
        return word

    return " ".join(re.sub(_LINK, put, said).split())


def names_no_document(name: str, said: str) -> bool:
    """Whether a category stands in a name in other than English, and no document that limits it.

    Outside of English a category is one of parts in ISO/IEC 11801-1 as well.
    """
    return "Category" in said and not _ENGLISH.search(name)


def _named(name: str, words: Sequence[str], what: str, word: str) -> str:
    """A name with one word for what stands behind it."""
    longest = "|".join(sorted(words, key=len, reverse=True))
    pattern = rf"(?<![^\W_])(?:{longest})[\s.:-]*(?={what}(?![^\W_]))"
    return re.sub(pattern, f"{word} ", name, flags=re.IGNORECASE)
