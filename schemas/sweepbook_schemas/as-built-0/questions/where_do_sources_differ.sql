SELECT label, 'end: ' || at_end AS what, differs_in, said_by || ': ' || COALESCE(place, '') || ' ' || COALESCE(termination, '') AS one, other_said_by || ': ' || COALESCE(other_place, '') || ' ' || COALESCE(other_termination, '') AS other
FROM end_conflicts
UNION ALL
SELECT label, 'cable', differs_in, COALESCE(scheduled_cable, '') || ' ' || COALESCE(scheduled_reel, ''), COALESCE(tested_maker, '') || ' ' || COALESCE(tested_part, '') || ' ' || COALESCE(tested_reel, '')
FROM cable_conflicts
ORDER BY label, what
