SELECT label, near_floor, far_space, limit_title, worst_parameter, worst_pairs, worst_end, ROUND(CAST(worst_margin_db AS NUMERIC), 2) AS margin_db, worst_margin_mhz
FROM current_state
WHERE recomputed = 'pass'
ORDER BY worst_margin_db, label
LIMIT 10
