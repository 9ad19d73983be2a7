SELECT label, floor, space, far_space, far_termination, reason
FROM open_items
WHERE kind = 'unproven' AND '2' IN (floor, far_floor)
ORDER BY label
