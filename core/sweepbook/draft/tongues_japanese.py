"""Words of the trade, and keys about a test, in Japanese: from memory.

No source; as in `tongues`. No blank parts the words of this language, so that a phrase is found
only where it is all of a text, or stands beside other signs than letters.
"""

from sweepbook.word_lists import lists_of, pairs_of

PARAMETERS = lists_of(
    """
    insertion_loss: 挿入損失, 減衰量
    return_loss: 反射減衰量, リターンロス
    next: 近端漏話減衰量, 近端漏話
    psnext: 電力和近端漏話減衰量, 電力和近端漏話, 電力和next
    psacr_f: 電力和acr f, 電力和el fext
    psacr_n: 電力和acr n
    fext: 遠端漏話減衰量, 遠端漏話
    acr_f: 等レベル遠端漏話減衰量, 減衰対遠端漏話比
    acr_n: 減衰対近端漏話比, 減衰対漏話比
    propagation_delay: 伝搬遅延, 伝搬遅延時間
    delay_skew: 伝搬遅延時間差, 伝搬遅延差, 遅延時間差
    length: 長さ, ケーブル長
    dc_loop_resistance: 直流ループ抵抗, ループ抵抗
    wire_map: ワイヤマップ, ワイヤーマップ
    """
)

ENDS = pairs_of("近端 / 遠端, 親機 / 子機, 近端側 / 遠端側, 本体 / リモート, メイン / リモート")

OPPOSITES = pairs_of("合格 / 不合格, 良 / 不良, 適合 / 不適合, はい / いいえ")

COLOURS = lists_of(
    """
    1-2: 橙, 橙色
    3-6: 緑, 緑色
    4-5: 青, 青色
    7-8: 茶, 茶色
    """
)

WORDS = lists_of(
    """
    margin: マージン, 余裕, 最小マージン, 最悪マージン
    limit: 規格値, 限度値, 基準値
    worst: 最悪値, ワースト値
    verdict key: 判定, 合否, 合否判定, 総合判定
    frequency: 周波数
    unit: 単位
    value: 値, 測定値
    test: 試験, 測定
    firmware: ファームウェア, ファームウェアバージョン
    software: ソフトウェア, ソフトウェアバージョン
    """
)

KEYS = lists_of(
    """
    link.label: ラベル, ケーブルラベル, ケーブル名, ケーブル番号, 配線名, 配線番号, 回線名, 回線番号
    test.limit: 規格, 試験規格, 適用規格
    test.started: 検査日時, 測定日時, 試験日時, 日時, 検査日, 測定日, 試験日
    test.operator: 検査者, 測定者, 試験者, 作業者, 担当者, 責任者, 実施者
    stated.overall: 総合判定, 総合結果, 判定
    link.cable.part: ケーブル種別, ケーブル種類, ケーブル型番
    link.near.place.site: 現場名, 現場, 施設名
    link.near.place.building: 建物, 建物名, 棟
    link.near.place.floor: 階, フロア
    link.near.place.space: 部屋, 部屋名, 室名
    link.near.place.cabinet: ラック, キャビネット
    link.near.place.panel: パッチパネル
    link.near.place.port: ポート
    """
)
EQUIPMENT = lists_of("instrument.serial: 製造番号, シリアル番号")
