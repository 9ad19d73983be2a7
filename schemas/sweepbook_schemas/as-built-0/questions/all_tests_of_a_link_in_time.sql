SELECT sequence, started, purpose, limit_path, stated, recomputed, judgement, reason, near_serial, far_serial, operator, is_current
FROM test_history
WHERE label = 'PW-1-02'
ORDER BY link_id, sequence
