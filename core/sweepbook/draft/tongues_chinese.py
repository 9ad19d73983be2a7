"""Words of the trade, and keys about a test, in Chinese: common practice and memory, no source.

As in `tongues_japanese`: a phrase is found only where no other letter stands beside it.
"""

from sweepbook.word_lists import lists_of, pairs_of

PARAMETERS = lists_of(
    """
    insertion_loss: 插入损耗, 插入損耗, 衰减, 衰減, 衰减量
    return_loss: 回波损耗, 回波損耗, 反射损耗
    next: 近端串扰, 近端串音, 近端串擾
    psnext: 综合近端串扰, 近端串扰功率和, 功率和近端串扰, 近端串音功率和, 综合近端串音
    acr_n: 衰减串扰比, 衰减近端串扰比, 衰减与近端串扰比
    psacr_n: 综合衰减串扰比, 衰减串扰比功率和
    fext: 远端串扰, 远端串音, 遠端串擾
    acr_f: 等电平远端串扰, 等效远端串扰, 衰减远端串扰比, 衰减与远端串扰比
    psacr_f: 综合等电平远端串扰, 等电平远端串扰功率和, 功率和等电平远端串扰
    propagation_delay: 传播时延, 传输时延, 传播延迟, 传输延迟, 时延, 延迟, 傳播延遲
    delay_skew: 时延偏差, 延迟偏差, 传播时延偏差, 传输时延偏差, 时延差, 传播时延差, 延迟偏离
    length: 长度, 線長, 长度值, 电缆长度, 线缆长度, 線纜長度
    dc_loop_resistance: 环路电阻, 直流环路电阻, 回路电阻, 直流电阻, 电阻, 環路電阻
    wire_map: 接线图, 接線圖
    """
)

ENDS = pairs_of(
    """
    主机端 / 远端, 近端 / 远端, 主机端 / 远端机端, 主机 / 远端机, 主机 / 远端, 主机 / 辅机,
    本端 / 对端, 本端 / 远端, 主端 / 远端, 主单元 / 远端单元
    """
)

OPPOSITES = pairs_of("通过 / 不通过, 符合 / 不符合, 是 / 否")

COLOURS = lists_of(
    """
    1-2: 橙, 橙色
    3-6: 绿, 绿色
    4-5: 蓝, 蓝色
    7-8: 棕, 棕色
    """
)

WORDS = lists_of(
    """
    margin: 余量, 裕量, 最差余量, 最小余量, 餘量
    limit: 极限值, 限值, 极限, 極限值
    worst: 最差值, 最差, 最坏值
    verdict key: 结果, 判定, 结论, 结果判定
    frequency: 频率, 頻率, 频点
    unit: 单位, 單位
    value: 值, 测量值, 测试值, 数值, 实测值
    test: 测试, 链路, 电缆
    disturbing: 干扰线对, 主串线对
    disturbed: 被干扰线对, 受干扰线对, 被串线对
    from: 从
    to: 到
    firmware: 固件, 固件版本
    software: 软件, 软件版本
    """
)

KEYS = lists_of(
    """
    link.label: 链路名称, 链路编号, 链路标识, 链路标签, 链路, 电缆编号, 电缆标识, 电缆名称,
        线缆编号, 线缆标识, 线缆标签, 线缆名称, 信息点编号, 信息点
    test.limit: 测试标准, 测试极限, 测试限值, 极限标准, 验收标准, 标准
    test.started: 测试时间, 测试日期, 测试日期时间, 日期时间, 日期和时间, 开始时间, 日期, 时间
    test.ended: 结束时间
    test.operator: 操作员, 测试员, 测试人, 测试人员, 操作者, 操作人员, 检测人, 检测员
    test.ambient_c: 环境温度, 温度
    stated.overall: 总结果, 总体结果, 总判定, 总结论, 测试结果, 测试结论, 结果, 判定, 结论
    results.wire_map.screen: 屏蔽, 屏蔽层
    link.cable.maker: 电缆厂家, 线缆厂家, 电缆制造商, 线缆制造商
    link.cable.part: 电缆类型, 线缆类型, 电缆型号, 线缆型号
    link.near.place.site: 现场, 工地, 站点, 场所, 地点
    link.near.place.building: 楼宇, 建筑, 建筑物, 楼栋, 大楼, 楼号
    link.near.place.floor: 楼层
    link.near.place.space: 房间, 房间号, 机房, 弱电间, 配线间
    link.near.place.cabinet: 机柜, 机架
    link.near.place.panel: 配线架
    link.near.place.port: 端口
    """
)
EQUIPMENT = lists_of(
    """
    instrument.serial: 序列号, 序列號, 出厂编号
    instrument.model: 型号
    instrument.maker: 制造商, 厂商, 生产厂家
    instrument.calibrated_on: 校准日期
    """
)
