"""Words of the trade, and keys about a test, in Turkish: common practice and memory, no source.

As in `tongues`; the i without a dot is found as one with a dot too.
"""

from sweepbook.word_lists import lists_of, pairs_of

PARAMETERS = lists_of(
    """
    insertion_loss: araya girme kaybı, ekleme kaybı, zayıflama
    return_loss: geri dönüş kaybı, yansıma kaybı
    next: yakın uç diyafonisi, yakın uç çapraz karışma, yakın uç çapraz konuşma
    fext: uzak uç diyafonisi, uzak uç çapraz karışma, uzak uç çapraz konuşma
    propagation_delay: yayılma gecikmesi, yayılım gecikmesi, gecikme
    delay_skew: gecikme farkı, gecikme sapması
    length: uzunluk, kablo uzunluğu
    dc_loop_resistance: döngü direnci, çevrim direnci, direnç
    wire_map: bağlantı haritası, tel haritası, kablo haritası
    """
)

ENDS = pairs_of(
    """
    yakın uç / uzak uç, ana ünite / uzak ünite, ana birim / uzak birim, yerel / uzak, yakın / uzak,
    ana / uzak
    """
)

OPPOSITES = pairs_of("geçti / kaldı, başarılı / başarısız, uygun / uygun değil, evet / hayır")

COLOURS = lists_of(
    """
    1-2: turuncu
    3-6: yeşil
    4-5: mavi
    7-8: kahverengi
    """
)

WORDS = lists_of(
    """
    margin: marj, en kötü marj, en küçük marj
    limit: sınır değer, sınır değeri, sınır
    worst: en kötü
    verdict key: sonuç, değerlendirme, durum
    frequency: frekans, frekanslar
    unit: birim
    value: değer, ölçülen değer
    test: ölçüm, bağlantı, kablo
    disturbing: bozucu çift, bozucu, bozan
    disturbed: bozulan çift, bozulan, etkilenen
    firmware: aygıt yazılımı, donanım yazılımı
    software: yazılım, yazılım sürümü
    """
)

KEYS = lists_of(
    """
    link.label: bağlantı adı, bağlantı numarası, kablo etiketi, kablo adı, kablo numarası, kablo no,
        hat adı, hat no, etiket, bağlantı
    test.limit: test sınırı, sınır değerleri, sınır değeri, standart, norm
    test.started: tarih ve saat, ölçüm tarihi, test tarihi, ölçüm zamanı, tarih, saat
    test.operator: operatör, ölçen, ölçümü yapan, testi yapan, teknisyen
    test.ambient_c: sıcaklık
    stated.overall: genel sonuç, toplam sonuç, test sonucu, sonuç, genel değerlendirme
    link.cable.part: kablo tipi, kablo türü
    link.near.place.site: şantiye, saha, tesis
    link.near.place.building: bina
    link.near.place.floor: kat
    link.near.place.space: oda, mahal
    link.near.place.cabinet: kabin, kabinet
    """
)
EQUIPMENT = lists_of(
    """
    instrument.serial: seri no, seri numarası
    instrument.maker: üretici, imalatçı
    """
)
