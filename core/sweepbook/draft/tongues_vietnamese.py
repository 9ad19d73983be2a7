"""Words of the trade, and keys about a test, in Vietnamese: common practice and memory, no source.

As in `tongues`; a letter without its marks is found as well, as names of elements are written:
SuyHaoChen. Words that are then those of other languages, or of each other, are left out.
"""

from sweepbook.word_lists import lists_of, pairs_of

PARAMETERS = lists_of(
    """
    insertion_loss: suy hao chèn, suy hao xen, tổn hao chèn, tổn hao xen, độ suy hao, suy hao
    return_loss: suy hao phản hồi, suy hao phản xạ, tổn hao phản hồi, tổn hao phản xạ,
        suy hao dội
    next: xuyên âm đầu gần, nhiễu xuyên âm đầu gần, xuyên nhiễu đầu gần, xuyên kênh đầu gần,
        xuyên âm gần
    psnext: tổng xuyên âm đầu gần, tổng nhiễu xuyên âm đầu gần, tổng xuyên nhiễu đầu gần,
        tổng công suất xuyên âm đầu gần, xuyên âm đầu gần tổng, xuyên âm đầu gần tổng công suất,
        tổng công suất next, next tổng, tổng next
    acr_n: tỷ số suy hao trên xuyên âm đầu gần, tỉ số suy hao trên xuyên âm đầu gần,
        tỷ số suy hao trên xuyên âm, tỉ số suy hao trên xuyên âm
    fext: xuyên âm đầu xa, nhiễu xuyên âm đầu xa, xuyên nhiễu đầu xa, xuyên kênh đầu xa,
        xuyên âm xa
    psfext: tổng xuyên âm đầu xa, tổng nhiễu xuyên âm đầu xa, tổng xuyên nhiễu đầu xa,
        tổng công suất xuyên âm đầu xa
    acr_f: tỷ số suy hao trên xuyên âm đầu xa, tỉ số suy hao trên xuyên âm đầu xa,
        xuyên âm đầu xa cùng mức, xuyên âm đầu xa cân bằng mức
    psacr_f: tổng xuyên âm đầu xa cùng mức, tổng xuyên âm đầu xa cân bằng mức
    propagation_delay: trễ truyền, trễ truyền dẫn, trễ truyền sóng, trễ lan truyền, độ trễ truyền,
        độ trễ truyền dẫn, độ trễ lan truyền, thời gian trễ, thời gian truyền, độ trễ
    delay_skew: lệch trễ, độ lệch trễ, độ lệch trễ truyền, lệch thời gian trễ,
        độ lệch thời gian trễ, chênh lệch trễ, chênh lệch thời gian trễ, chênh lệch độ trễ
    length: chiều dài, chiều dài cáp, độ dài, độ dài cáp
    dc_loop_resistance: điện trở vòng, điện trở vòng lặp, điện trở vòng dc, điện trở mạch vòng,
        điện trở một chiều, điện trở
    dc_resistance_unbalance_within_pair: mất cân bằng điện trở, độ mất cân bằng điện trở,
        độ lệch điện trở, chênh lệch điện trở
    wire_map: sơ đồ dây, sơ đồ đấu dây, sơ đồ nối dây, sơ đồ đi dây, sơ đồ đấu nối, bản đồ dây,
        thứ tự dây
    """
)

ENDS = pairs_of(
    """
    đầu gần / đầu xa, máy chính / máy phụ, máy chính / máy từ xa, máy chính / máy xa,
    bộ chính / bộ phụ, bộ chính / bộ từ xa, khối chính / khối phụ, khối chính / khối từ xa,
    thiết bị chính / thiết bị phụ, thiết bị chính / thiết bị từ xa, phía gần / phía xa,
    tại chỗ / từ xa, chính / phụ, chính / từ xa, gần / xa, đầu a / đầu b, phía a / phía b,
    đầu 1 / đầu 2
    """
)

OPPOSITES = pairs_of(
    """
    đạt / không đạt, đạt yêu cầu / không đạt yêu cầu, đạt chuẩn / không đạt chuẩn,
    đạt / hỏng, tốt / xấu, có / không
    """
)

COLOURS = lists_of(
    """
    1-2: da cam, cam
    3-6: xanh lá cây, xanh lá, xanh lục, lục
    4-5: xanh da trời, xanh nước biển, xanh dương, xanh lam, xanh lơ, lam
    7-8: nâu
    """
)

WORDS = lists_of(
    """
    margin: dự trữ, độ dự trữ, dự trữ nhỏ nhất, dự trữ xấu nhất, biên dự trữ, biên an toàn,
        biên độ dự trữ, khoảng dự trữ, độ dư
    limit: ngưỡng, giá trị ngưỡng, giới hạn, giá trị giới hạn, mức giới hạn
    worst: xấu nhất, kém nhất, tệ nhất, giá trị xấu nhất
    verdict key: kết luận, kết quả, đánh giá
    frequency: tần số
    unit: đơn vị, đơn vị đo
    value: giá trị, giá trị đo, trị số, trị số đo
    test: lần đo, phép đo, bài đo, tuyến cáp, đường cáp
    disturbing: cặp gây nhiễu, gây nhiễu, nguồn nhiễu
    disturbed: cặp bị nhiễu, bị nhiễu
    from: từ cặp
    to: sang, sang cặp, đến cặp
    firmware: phần mềm máy, phần mềm máy đo, phần mềm thiết bị, phần sụn, vi chương trình,
        phiên bản phần sụn
    software: phần mềm, phiên bản phần mềm
    """
)

KEYS = lists_of(
    """
    link.label: nhãn cáp, mã cáp, tên cáp, số cáp, số hiệu cáp, ký hiệu cáp, nhãn tuyến, mã tuyến,
        tên tuyến, số hiệu tuyến, ký hiệu tuyến, nhãn, số hiệu, ký hiệu, ổ cắm, tên liên kết,
        mã liên kết, nhãn liên kết
    test.limit: tiêu chuẩn đo, tiêu chuẩn kiểm tra, tiêu chuẩn áp dụng, tiêu chuẩn, chuẩn đo,
        chuẩn kiểm tra, giới hạn đo, giới hạn kiểm tra, quy chuẩn
    test.started: ngày giờ đo, ngày giờ kiểm tra, ngày giờ, thời gian đo, thời điểm đo,
        thời gian kiểm tra, thời điểm, ngày đo, ngày kiểm tra, giờ đo, thời gian, ngày, giờ
    test.operator: người đo, người đo kiểm, người kiểm tra, người thực hiện, người vận hành,
        người phụ trách, kỹ thuật viên, nhân viên đo, cán bộ đo
    test.ambient_c: nhiệt độ, nhiệt độ môi trường
    stated.overall: kết luận chung, kết quả chung, kết quả tổng, kết quả tổng thể,
        đánh giá chung, kết luận, kết quả đo, kết quả kiểm tra, kết quả, đánh giá
    results.wire_map.screen: vỏ chống nhiễu, lớp chống nhiễu, màn chắn, màn chống nhiễu
    link.cable.maker: nhà sản xuất cáp, hãng sản xuất cáp, hãng cáp
    link.cable.part: loại cáp, kiểu cáp, chủng loại cáp
    link.near.place.site: công trình, công trường, địa điểm, địa điểm đo, nơi đo
    link.near.place.building: tòa nhà, toà nhà
    link.near.place.floor: tầng, lầu
    link.near.place.space: phòng, phòng máy
    link.near.place.cabinet: tủ mạng, tủ rack, tủ cáp
    link.near.place.panel: bảng đấu nối, thanh đấu nối
    link.near.place.port: cổng
    """
)
EQUIPMENT = lists_of(
    """
    instrument.serial: số máy, số máy đo, số sê ri, số xê ri, số seri, số serial, số chế tạo,
        số hiệu máy
    instrument.maker: nhà sản xuất, hãng sản xuất
    instrument.model: máy đo, thiết bị đo, kiểu máy, loại máy, tên máy, mẫu máy
    instrument.calibrated_on: ngày hiệu chuẩn, hiệu chuẩn ngày, hiệu chuẩn
    """
)
