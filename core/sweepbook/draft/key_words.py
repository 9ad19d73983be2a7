"""What keys about a test are called in the trade: common practice, no source."""

import re
from functools import cache

from sweepbook.draft.limit_words import LINKS
from sweepbook.draft.trade_words import FIRMWARE, FREQUENCY, PARAMETERS, SOFTWARE, TONGUES
from sweepbook.word_lists import Words, entries_of, lists_of, words_of

Entries = tuple[tuple[str, Words], ...]

NVP = words_of(
    """
    nvp, velocity of propagation, velocity factor, nominal velocity, ausbreitungsfaktor,
    verkürzungsfaktor, vitesse de propagation, velocidad de propagación, velocità di propagazione,
    voortplantingssnelheid, velocidade de propagação, utbredningshastighet, udbredelseshastighed,
    vitesse nominale, velocidad nominal, velocità nominale, nominelle geschwindigkeit,
    nominale snelheid, nominell hastighet, velocidade nominal, prędkość nominalna,
    prędkość propagacji, номинальная скорость распространения, скорость распространения,
    传播速率, 额定传播速度
    """
)
REFERENCES = words_of(
    """
    field reference, reference measurement, field reference at, reference set at, feldreferenz,
    referenzmessung, référence de terrain, mesure de référence, referencia de campo,
    medida de referencia, riferimento di campo, veldreferentie
    """
)
"""The measurement that both units were set by in the field."""

_ENGLISH = entries_of(
    f"""
    link.label: cable label, link label, cable identifier, link identifier, link id, cable id, label
    link.label: link name, cable name, circuit, outlet, link, cable, name, id
    test.limit: required limit, test limit, limit, test standard, standard, norm, requirement
    test.limit: test rule, rule
    test.started: timestamp, time stamp, test time
    test.started: test date and time, date and time, date time, started, begun
    test.started: start, tested at, tested on, test date, tested, date, when
    test.started: measured at, measured on, measured
    test.ended: ended, finished, end time, done, completed
    test.operator: operator, technician, tested by, by, tech, tester name, engineer, inspector,
        installer, person responsible, responsible person, responsible
    test.ambient_c: ambient temperature, ambient, temperature
    test.configuration: configuration, link type, set up
    test.purpose: purpose, reason
    test.field_reference.performed: {", ".join(REFERENCES)}
    stated.overall: overall result, overall verdict, overall, test result, summary
    stated.overall: verdict, result, outcome, status, evaluation, passed
    stated.overall: pass fail, p/f, ok, good, accepted
    results.wire_map.screen: screen, shield
    link.cable.maker: cable maker, cable manufacturer, cable make
    link.cable.part: cable part number, cable part, cable type, cable model
    link.cable.reel: cable reel, reel, drum, batch
    link.cable.category: cable category
    link.cable.construction: cable construction
    link.cable.conductor: cable conductor, conductor
    link.cable.nvp: cable nvp, {", ".join(NVP)}
    link.near.place.site: site, project site, premises, property, station
    link.near.place.site: customer site, client site, job site, work site, installation site
    link.near.place.building: building
    link.near.place.floor: floor, storey
    link.near.place.space: room, space, telecommunications room, equipment room, closet
    link.near.place.space: telecommunications closet, wiring closet
    link.near.place.cabinet: cabinet, rack
    link.near.place.panel: patch panel, panel
    link.near.place.port: panel port, port
    """
)
KEYS: Entries = (*_ENGLISH, *(entry for of in TONGUES for entry in of.KEYS.items()))
"""Member of a record and the keys for it; the more telling key of two comes first."""

_EQUIPMENT = entries_of(
    f"""
    adaptor.serial: adaptor serial, adapter serial
    adaptor.part: adaptor part, adapter part, adaptor, adapter
    adaptor.category: adaptor category, adapter category
    connector.maker: connector maker, jack maker, connector manufacturer
    connector.part: connector part, jack part, connector type
    connector.category: connector category, jack category
    instrument.serial: unit serial number, unit serial no, unit serial, serial number, serial no,
        serial nr, serial num, serial, unit s n, s n, s/n, sn, sr no, ser no, sl no, tester, unit
    instrument.firmware: {", ".join((*FIRMWARE, *SOFTWARE))}
    instrument.model: model, instrument model
    instrument.maker: maker, manufacturer
    instrument.calibrated_on: calibration date, calibrated on, calibrated
    instrument.calibration_due: calibration due, calibrate before
    instrument.accuracy_level: accuracy level, level of accuracy
    """
)
EQUIPMENT: Entries = (
    *_EQUIPMENT,
    *(entry for of in TONGUES for entry in of.EQUIPMENT.items()),
)
"""Member of test.near or test.far, for connectors of link.near or link.far, and the keys for it
beside the word for an end."""

VERSIONS = words_of(
    """
    version, ver, release, revision, versione, versión, versão, versie, wersja, verze, versjon,
    program, programm, programma, версия, 版本, バージョン, sürüm, verzió, 버전
    """
)
"""What a number of software is called."""

INSIDE = entries_of(
    """
    instrument.model: type, typ, tipo, modell, modèle, modelo, modello, malli, rodzaj, name, kind,
        bezeichnung, τύπος, μοντέλο, typos, montelo
    instrument.serial: number, no, nr, nummer, numéro, número, numero, num,
        αριθμός, arithmos
    instrument.firmware: version, revision, rev, embedded, build, versione, versión, versão, versie,
        wersja, verze, λογισμικό, έκδοση, logismiko, ekdosi
    """
)
"""The same of keys that say it only within what is called an instrument."""

PLACES: Entries = (
    ("termination", words_of("termination, termination label, end label, terminal")),
    *(
        (path.removeprefix("link.near."), some)
        for path, some in KEYS
        if path.startswith("link.near.place.")
    ),
)
"""Members of link.near or link.far, and the keys for them beside the word for an end."""

PROJECTS = words_of(
    """
    project, project name, job, job name, projekt, projekt name, projektname, projet, nom du
    projet, proyecto, nombre del proyecto, progetto, nome progetto, projeto, nome do projeto,
    projectnaam, nazwa projektu, název projektu, projektnavn, prosjekt, prosjektnavn,
    projektnamn, projekti, проект, название проекта, 项目, 项目名称, 工程, 工程名称,
    プロジェクト, プロジェクト名, 工事名, proje, proje adı, auftrag, auftragsname, anlage,
    dự án, tên dự án, έργο, όνομα έργου, ergo, onoma ergou
    """
)
"""What a job or an installation is called, by the name of the site: common practice, no source."""

LOCATIONS = words_of(
    """
    location, job location, place, address, ort, lugar, luogo, lokalizacja, plats, sted,
    plaats, místo, helyszín, konum, место, расположение, 地点, 場所, 위치, τόπος, τοποθεσία
    """
)
"""Keys of a place of any width, which is a site where tests of several links share it."""

CLIENTS = words_of(
    """
    client, client name, customer, customer name, kunde, kundenname, auftraggeber, nom du client,
    maître d'ouvrage, cliente, nombre del cliente, nome cliente, committente, nome do cliente,
    klant, klantnaam, opdrachtgever, klient, nazwa klienta, zákazník, název zákazníka, kundenavn,
    kund, kundnamn, asiakas, заказчик, клиент, 客户, 客户名称, 顧客, 顧客名, 客先, müşteri,
    müşteri adı, khách hàng, tên khách hàng, chủ đầu tư, πελάτης, όνομα πελάτη, pelatis
    """
)
"""For whom a job is done, whose name is often that of the site: common practice, no source."""

GENERAL = words_of(
    """
    name, number, no, id, value, text, title, nr, nummer, bezeichnung, nom, numéro, nombre, número,
    nome, numero, naam, navn, namn, nazwa,
    номер, имя, название, 名称, 编号, 名前, 番号, ad, adı, όνομα, αριθμός, onoma, arithmos
    """
)
"""Names of elements and attributes that say nothing without that of the element around them."""

CABLES = words_of(
    """
    cable, cable data, kabel, câble, cavo, cabo, kabla, kabeldaten, linka kabel, cable info,
    cable details, datos del cable, кабель, 电缆, 线缆, ケーブル, kablo,
    καλώδιο, kalodio
    """
)
"""Elements and headings below which what is said of a maker or a type is the cable's."""

CABLE_WORDS = words_of(
    """
    cable, kabel, kabels, câble, cavo, cabo, kabla, kabelu, of the, du, de, do, del, van, van de
    """
)
"""Words for a cable in a key of one word or more, and those that join others to them."""

COMPOUND = re.compile(r"\bkabel(?=[^\W\d_]{3})", re.IGNORECASE)
"""The beginning of words such as the German for a type of cable."""

_CABLE = entries_of(
    """
    maker: maker, manufacturer, make, hersteller, fabricant, fabricante
    maker: marque, marca, merk, brand, fabrikat, produttore
    maker: fabrikant, costruttore, producent, výrobce, tillverkare, produsent
    maker: brand, fabrikat, marke, marque, merk, marca, produttore, marka
    part: part number, part, type, model, name, designation, bezeichnung
    part: typ, tipo, désignation, référence, modèle, modelo, modello, navn
    part: benämning, betegnelse, oznaczenie, označení, nom, nombre, nome
    part: art, referencia, referência, modelo, model, modell
    reel: reel, drum, batch, trommel, touret, bobina
    category: category, kategorie, catégorie, categoría, categoria, kategori
    construction: construction, aufbau, construcción, costruzione
    """
)
CABLE: Entries = (*_CABLE, ("nvp", NVP))
"""Member of link.cable and the keys for it inside of what is called a cable."""

INSTRUMENTS = words_of(
    """
    tester, unit, instrument, handset, device, analyser, analyzer, equipment, testers, units,
    instruments, handsets, devices, geräte, messgeräte, prüfgeräte, appareils, testeurs, equipos,
    instrumentos, meters, meter, gerät, messgerät, prüfgerät, appareil, testeur, equipo,
    instrumento, comprobador, unidad, meetinstrument, unità, unité, equipamento, aparelho, unidade,
    miernik, miernika, mierników, przyrządu, przyrządów, jednostka, medidor, meettoestel,
    måleinstrument, måler, mätinstrument, main unit, hovedenhed, huvudenhet, hauptgerät, gegengerät,
    appareil principal, toestel, apparaat, strumento, apparecchio, przyrząd, přístroj, enhet, enhed,
    dispositivo, aparato,
    dispositif, urządzenie, jednotka, zařízení, apparat, прибор, приборы, тестер, блок, модуль,
    仪器, 测试仪, 主机, 测试仪器, 測定器, 試験器, cihaz, ölçüm cihazı, máy đo, thiết bị đo,
    όργανο, όργανο μέτρησης, μετρητής, συσκευή, organo, metritis, syskevi
    """
)
"""Elements and headings below which what is said of a number or a model is an instrument's."""

NUMBER = words_of(
    "no, nr, number, nummer, n, nº, n°, numéro, número, numero, num, №, номер, 编号, 番号"
)
"""Words for a number, which beside a word for one of two units is that unit's own."""

ADAPTORS = words_of("adaptor, adapter, adaptateur, adaptador, adattatore, adaptér")
PARTS = (*ADAPTORS, *words_of("connector, jack, plug, head, probe, reference"))
"""What is no instrument, though it has a serial number or a maker too."""

CONFIGURATIONS = {
    "permanent-link": LINKS["permanent link"],
    "channel": LINKS["channel"],
    "mptl": ("modular plug terminated link", "mptl"),
}
PURPOSES = lists_of(
    """
    initial: initial, first, new
    retest: retest, again, repeat
    acceptance: acceptance, handover
    """
)
SCREENS = lists_of(
    """
    continuous: continuous, ok, pass, connected
    open: open, broken, fail
    none: none, n a, unscreened
    not-tested: not tested
    """
)


@cache
def _known_words() -> frozenset[str]:
    texts = [text for _, some in KEYS for text in some]
    texts += [text for some in (*PARAMETERS.values(), FREQUENCY) for text in some]
    return frozenset(word for text in texts for word in text.split())


def known_word(word: str) -> bool:
    """Whether a single word is part of a phrase of the trade, in any language."""
    return word.casefold() in _known_words()
