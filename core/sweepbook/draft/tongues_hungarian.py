"""Words of the trade, and keys about a test, in Hungarian: common practice and memory, no source.

As in `tongues`.
"""

from sweepbook.word_lists import lists_of, pairs_of

PARAMETERS = lists_of(
    """
    insertion_loss: beiktatási csillapítás, csillapítás
    return_loss: reflexiós csillapítás, visszaverődési csillapítás
    next: közelvégi áthallás, közeli áthallás
    psnext: összegzett közelvégi áthallás
    fext: távolvégi áthallás, távoli áthallás
    propagation_delay: terjedési késleltetés, terjedési idő, futási idő, késleltetés
    delay_skew: késleltetéskülönbség, késleltetés különbség, futási idő különbség
    length: kábelhossz, kábel hossza, hosszúság, hossz
    dc_loop_resistance: hurokellenállás, hurok ellenállás, ellenállás
    wire_map: huzaltérkép, bekötési térkép, bekötés, érbekötés
    """
)

ENDS = pairs_of(
    """
    közeli vég / távoli vég, főegység / távoli egység, fő egység / távoli egység,
    helyi / távoli, közeli / távoli, a vég / b vég, a oldal / b oldal
    """
)

OPPOSITES = pairs_of("megfelelt / nem felelt meg, megfelel / nem felel meg, igen / nem")

COLOURS = lists_of(
    """
    1-2: narancs, narancssárga
    3-6: zöld
    4-5: kék
    7-8: barna
    """
)

WORDS = lists_of(
    """
    margin: tartalék, legrosszabb tartalék, legkisebb tartalék
    limit: határérték, határértékek, határ
    worst: legrosszabb
    verdict key: eredmény, értékelés, minősítés, állapot
    frequency: frekvencia, frekvenciák
    unit: mértékegység, egység
    value: mért érték, érték
    test: mérés, teszt, vonal, kábel
    disturbing: zavaró pár, zavaró érpár, zavaró
    disturbed: zavart pár, zavart érpár, zavart
    firmware: firmver, firmware verzió, belső szoftver
    software: szoftver, szoftververzió, szoftver verzió, programverzió
    """
)

KEYS = lists_of(
    """
    link.label: kábelazonosító, kábel azonosító, kábel jele, kábeljel, kábel neve, vonal azonosító,
        vonalazonosító, vonal neve, végpont, azonosító
    test.limit: mérési határérték, mérési szabvány, határérték, határértékek, szabvány, követelmény
    test.started: dátum és idő, mérés ideje, mérés időpontja, mérés dátuma, időpont, dátum, idő
    test.operator: mérést végezte, mérte, mérő személy, mérő neve, kezelő, technikus
    test.ambient_c: hőmérséklet
    stated.overall: összesített eredmény, végeredmény, teljes eredmény, mérés eredménye, eredmény,
        minősítés
    results.wire_map.screen: árnyékolás
    link.cable.maker: kábel gyártója, kábelgyártó
    link.cable.part: kábeltípus, kábel típusa
    link.near.place.site: telephely, helyszín, létesítmény
    link.near.place.building: épület
    link.near.place.floor: emelet, szint
    link.near.place.space: helyiség, szoba, terem
    link.near.place.cabinet: rendezőszekrény, szekrény
    link.near.place.panel: rendezőpanel, patch panel
    """
)
EQUIPMENT = lists_of(
    """
    instrument.serial: gyári szám, sorozatszám
    instrument.maker: gyártó
    instrument.model: típus, műszertípus
    instrument.calibrated_on: kalibrálva, kalibrálás dátuma, kalibrálás ideje
    """
)
