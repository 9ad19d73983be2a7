SELECT label, building, floor, space, near_termination, far_termination, near_labels
FROM schedule_state
WHERE state = 'untested'
ORDER BY schedule_line
