SELECT tested.label, tested.near_space, tested.far_space, finding.rule, finding.message, rule.fix
FROM finding
JOIN current_state AS tested ON tested.test_id = finding.test_id
JOIN rule ON rule.rule = finding.rule
WHERE finding.severity = 'warning' AND '4' IN (tested.near_floor, tested.far_floor)
ORDER BY finding.rule, tested.label
