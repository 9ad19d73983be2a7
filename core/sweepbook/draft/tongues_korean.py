"""Words of the trade, and keys about a test, in Korean: common practice and memory, no source.

As in `tongues`; blanks between words may lack.
"""

from sweepbook.word_lists import lists_of, pairs_of

PARAMETERS = lists_of(
    """
    insertion_loss: 삽입 손실, 감쇠량, 감쇠
    return_loss: 반사 손실, 반사 감쇠량
    next: 근단 누화
    psnext: 전력합 근단 누화, 전력 합 근단 누화
    fext: 원단 누화
    propagation_delay: 전파 지연 시간, 전파 지연, 지연 시간
    delay_skew: 지연 편차, 지연 시간 차, 지연 차이, 전파 지연 차, 지연 왜곡
    length: 케이블 길이, 길이
    dc_loop_resistance: 직류 루프 저항, 루프 저항, 저항
    wire_map: 와이어 맵, 결선도, 결선
    """
)

ENDS = pairs_of(
    """
    근단 / 원단, 주장치 / 원격 장치, 주장비 / 원격 장비, 본체 / 원격기, 메인 / 리모트,
    로컬 / 리모트, 로컬 / 원격
    """
)

OPPOSITES = pairs_of("합격 / 불합격, 적합 / 부적합, 통과 / 실패, 예 / 아니요")

COLOURS = lists_of(
    """
    1-2: 주황색, 주황, 오렌지
    3-6: 초록색, 초록, 녹색
    4-5: 파란색, 파랑, 청색
    7-8: 갈색
    """
)

WORDS = lists_of(
    """
    margin: 최악 마진, 최소 마진, 마진, 여유, 최소 여유
    limit: 한계값, 기준값, 한계, 규격값
    worst: 최악, 최악값
    verdict key: 판정, 결과
    frequency: 주파수
    unit: 단위
    value: 측정값, 값
    test: 시험, 측정, 케이블, 링크
    disturbing: 방해 페어, 유도 페어
    disturbed: 피방해 페어, 피유도 페어
    firmware: 펌웨어, 펌웨어 버전
    software: 소프트웨어, 소프트웨어 버전, 프로그램 버전
    """
)

KEYS = lists_of(
    """
    link.label: 케이블 식별자, 케이블 번호, 케이블 이름, 케이블명, 링크 이름, 링크 번호, 링크명,
        회선 번호, 회선명, 라벨
    test.limit: 시험 한계, 시험 기준, 시험 규격, 측정 규격, 규격, 기준
    test.started: 시험 일시, 측정 일시, 측정 일자, 측정 시각, 측정 시간, 시험 시간, 시험 일자,
        일시, 날짜, 시각, 시간
    test.operator: 시험자, 측정자, 작업자, 담당자
    test.ambient_c: 온도
    stated.overall: 종합 판정, 종합 결과, 전체 결과, 최종 판정, 판정, 결과
    results.wire_map.screen: 차폐
    link.cable.maker: 케이블 제조사, 케이블 제조업체
    link.cable.part: 케이블 종류, 케이블 유형, 케이블 타입
    link.near.place.site: 현장명, 현장, 사업장
    link.near.place.building: 건물명, 건물
    link.near.place.floor: 층
    link.near.place.space: 호실, 방, 실
    link.near.place.cabinet: 캐비닛, 랙
    link.near.place.panel: 패치 패널, 패널
    link.near.place.port: 포트
    """
)
EQUIPMENT = lists_of(
    """
    instrument.serial: 일련번호, 시리얼 번호, 제조 번호
    instrument.maker: 제조사, 제조업체
    instrument.model: 모델명, 모델
    instrument.calibrated_on: 교정일, 교정 일자
    """
)
