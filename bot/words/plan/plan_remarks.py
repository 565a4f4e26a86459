"""What is worth knowing about a plan that is right, in words: the sentence of each remark."""

REMARKS = {
    "brief_quiet": "The brief goes out in the quiet hours, on {said}. Phones will ring then.",
    "brief_closed": "The brief goes out on a day without school. The school days are counted from {counts_from}.",
    "brief_past": "The brief is in the past ({at}). Choose a later date before you begin with this plan.",
    "deadline_past": "The deadline is in the past ({at}). Choose later dates before you begin with this plan.",
    "practice_none": "{Place}: on no school day of the window there is a turn. Choose other times or days.",
    "practice_short": "{Place}: there are {turns} turns in all, and {expected} squads are to have {each} each. Add "
    "times or days, or shorten the turns.",
    "deadline_moved": "The deadline would fall on {closed_day}, when the school is closed. It moves to {deadline}.",
    "clock_twice": "{Place}: {said} happens twice, as the clocks go back. The first of the two is used ({instant}).",
    "clock_never": "{Place}: {said} does not exist, as the clocks go forward. It becomes {used} ({instant}).",
    "reminder_moved": "{Place} is {said}, in the quiet hours. Those reminders wait until {until}.",
    "reminder_dropped": "{Place} is {said}, in the quiet hours, and {until} is too late, or too soon before the next "
    "one. That reminder is left out.",
    "last_hours_moved": "{Place}: that reminder would come at {at}, in the quiet hours. It waits until {until}.",
    "last_hours_dropped": "{Place}: that reminder would come at {at}, in the quiet hours, and {until} is too late, "
    "or too soon before the next one. It is left out.",
    "unused": "{Place} is not used: the scale \"{scale}\" of this measure does not need it.",
    "standard_reorders": "{Place} is \"standard\": points depend on how far all squads lie apart. The result of one "
    "squad can then change the order of two others, and raising its own result can cost a squad its place.",
    "panel_partial": "{Place} is {found} with {judges} a squad. If there are more judges than that, a squad that meets "
    "strict ones loses points by bad luck. The rule \"adjusted\" evens that out.",
    "over_capped": "{Place} is {found}, but {reachable} can be reached. More than {found} counts as {found}.",
    "over_counts": "{Place} is {found}, but {reachable} can be reached. Then the event gives more than 100 points.",
    "judges_apart": "{Place} is 1. With two judges or more, each of them then judges other squads, and squads cannot "
    "be compared. Then no sheets are handed out until you choose more.",
    "name_again": "{Place} is {found}, as above. In a list nobody can tell the two apart.",
    "trimmed_needs_judges": "{Place}: a trimmed mean needs at least {least} judges for each squad.",
}  # fmt: skip
"""By kind; `{Place}` is where it stands in the plan, and what else stands in braces comes with the remark."""
