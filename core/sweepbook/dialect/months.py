"""Names of months in the languages that exports are written in."""

_NAMES = (
    "january jan januar janvier janv enero ene januari gennaio gen janeiro stycznia sty "
    "styczeń ledna led leden tammikuuta tammi tammikuu jän jänner",
    "february feb februar février févr febrero februari febbraio fevereiro fev lutego lut "
    "luty února úno únor helmikuuta helmi helmikuu fevr",
    "march mar märz mär mars marzo maart mrt março marca marzec března bře březen marts "
    "maaliskuuta maalis maaliskuu mrz marz",
    "april apr avril avr abril abr aprile kwietnia kwi kwiecień dubna dub duben huhtikuuta "
    "huhti huhtikuu",
    "may mai mayo mei maggio mag maio maja maj května kvě květen toukokuuta touko toukokuu",
    "june jun juni juin junio giugno giu junho czerwca cze czerwiec června čvn červen "
    "kesäkuuta kesä kesäkuu",
    "july jul juli juillet juil julio luglio lug julho lipca lip lipiec července čvc červenec "
    "heinäkuuta heinä heinäkuu juill",
    "august aug août agosto ago augustus sierpnia sie sierpień srpna srp srpen augusti "
    "elokuuta elo elokuu aout",
    "september sep sept septembre septiembre settembre set setembro września wrz wrzesień "
    "září zář syyskuuta syys syyskuu setiembre",
    "october oct oktober okt octobre octubre ottobre ott outubro out października paź "
    "październik října říj říjen lokakuuta loka lokakuu",
    "november nov novembre noviembre novembro listopada lis listopad listopadu marraskuuta "
    "marras marraskuu",
    "december dec dezember dez décembre déc diciembre dic dicembre dezembro grudnia gru "
    "grudzień prosince pro prosinec desember des joulukuuta joulu joulukuu",
)
"""Each month in English, German, French, Spanish, Dutch, Italian, Portuguese, Polish, Czech,
Danish, Norwegian, Swedish and Finnish: whole and short, as it stands in a date and alone (Unicode
CLDR), and a few short names beside them (common practice, no source). None is of two months.
"""

MONTHS = {name: number for number, some in enumerate(_NAMES, 1) for name in some.split()}
"""Number of a month, 1 to 12, by its name in small letters."""
