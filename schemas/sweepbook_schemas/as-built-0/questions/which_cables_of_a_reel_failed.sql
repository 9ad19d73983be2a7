SELECT tested.label, tested.cable_maker, tested.cable_part, tested.near_space, tested.far_space, tested.length_m, tested.reason
FROM current_state AS tested
LEFT JOIN scheduled ON scheduled.link_id = tested.link_id
WHERE 'W6A-20412' IN (tested.cable_reel, scheduled.reel) AND tested.recomputed = 'fail'
ORDER BY tested.label
