SELECT
    link.id AS link_id,
    link.label AS label,
    test_order.sequence AS sequence,
    test.is_current AS is_current,
    test.started AS started,
    test.purpose AS purpose,
    limit_table.path AS limit_path,
    test.stated AS stated,
    test.recomputed AS recomputed,
    test.judgement AS judgement,
    test.reason AS reason,
    test.worst_parameter AS worst_parameter,
    test.worst_end AS worst_end,
    test.worst_pairs AS worst_pairs,
    test.worst_margin_db AS worst_margin_db,
    test.worst_margin_mhz AS worst_margin_mhz,
    test.operator AS operator,
    near_unit.serial AS near_serial,
    far_unit.serial AS far_serial,
    test.id AS test_id,
    test.record_id AS record_id,
    test.export_of AS export_of
FROM test_order
JOIN test ON test.id = test_order.test_id
JOIN link ON link.id = test_order.link_id
LEFT JOIN limit_table ON limit_table.id = test.limit_table_id
LEFT JOIN test_end AS near ON near.test_id = test.id AND near.at_end = 'near'
LEFT JOIN instrument AS near_unit ON near_unit.id = near.instrument_id
LEFT JOIN test_end AS far ON far.test_id = test.id AND far.at_end = 'far'
LEFT JOIN instrument AS far_unit ON far_unit.id = far.instrument_id
