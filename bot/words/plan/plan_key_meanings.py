"""What each key of a plan means, in plain words: for the reference and for editors."""

from bot.rules.calendar.evening_of_school_day import EVENING
from bot.rules.calendar.plan_default_dates import JUDGING_DAYS
from bot.words.core.number_text import in_words
from bot.words.core.times import time_text
from storage.records.plan_limits import EVENTS, MEASURES

TABLES: dict[tuple[str, ...], str] = {
    (): "At the top of the file, above the first heading in brackets.",
    ("squads",): "How many students make a squad.",
    ("place_groups",): "One `[[place_groups]]` for each section, or group of sections, with its own places. Leave them "
    "out where all squads compete for all places.",
    ("calendar",): "When things happen. All times are local to the plan's zone.",
    ("calendar", "holidays"): "Public holidays that are no school days.",
    ("practice",): "Turns at the one shared table. Leave the table out if the bot shall not look after them.",
    ("event_day",): "The event days, from which the bot makes a timetable without clashes. Leave the table out if you "
    "do that yourself.",
    ("event_day", "lessons"): "One `[[event_day.lessons]]` for each lesson in which squads of a section run.",
    ("event_day", "breaks"): "Minutes of each event day in which nothing happens.",
    ("events",): f"One `[[events]]` for each part of the try-out, at most {EVENTS.most}.",
    ("events", "equipment"): "What each squad is given in the event, by how many of its members are here that day.",
    ("events", "measures"): "One `[[events.measures]]` below its event for each thing that is measured, at most "
    f"{MEASURES.most}.",
    ("events", "measures", "items"): "What is counted in a measure of the kind \"count\", each with its points.",
    ("events", "measures", "lines"): "The yes-or-no lines of a measure of the kind \"checklist\".",
    ("events", "measures", "criteria"): "The lines of a rubric: one `[[events.measures.criteria]]` for each.",
}  # fmt: skip

MEANINGS: dict[tuple[str, ...], str] = {
    ("name",): "What the try-out is called.",
    ("zone",): "The time zone of the school, as in the IANA list.",
    ("sections",): "The class groups. A squad is made of students of one section.",
    ("places",): "How many squads win a place; with `place_groups` the sum of theirs.",
    ("place_groups",): "See `[[place_groups]]`.",
    ("place_groups", "sections"): "The sections that compete for these places. Each section stands in one group.",
    ("place_groups", "places"): "How many squads of these sections win a place.",
    ("qualify",): "The total points that a squad needs at least to win a place. Places that nobody reaches stay open.",
    ("brief",): "What everyone reads when the try-out begins: what to do and how to win. `**bold**` is shown in "
    "bold; links and other markup stay plain text.",
    ("squads",): "See `[squads]`.",
    ("calendar",): "See `[calendar]`.",
    ("events",): "See `[[events]]`.",
    ("practice",): "See `[practice]`.",
    ("event_day",): "See `[event_day]`.",
    ("event_day", "dates"): "The event days. Without them: the first school day after the deadline.",
    ("event_day", "begins"): "When the day begins for squads whose section has no lesson of its own.",
    ("event_day", "ends"): "When it ends for them.",
    ("event_day", "lessons"): "See `[[event_day.lessons]]`.",
    ("event_day", "breaks"): "See `[[event_day.breaks]]`.",
    ("event_day", "tables"): "How many runs can go on at the same time.",
    ("event_day", "run_minutes"): "How long one run takes, with setting up and clearing away.",
    ("event_day", "interview_minutes"): "How long judges talk with one squad.",
    ("event_day", "change_minutes"): "What judges need between two squads.",
    ("event_day", "interviews"): "Whether squads are interviewed in their own lesson only, or at any time of the day.",
    ("event_day", "key_source"): "Where the number comes from with which the order of the runs is drawn.",
    ("event_day", "lessons", "section"): "The section whose lesson it is.",
    ("event_day", "lessons", "begins"): "When the lesson begins.",
    ("event_day", "lessons", "ends"): "When it ends.",
    ("event_day", "lessons", "date"): "The day it is on. Without it: every event day.",
    ("event_day", "breaks", "begins"): "When the break begins.",
    ("event_day", "breaks", "ends"): "When it ends.",
    ("tie_breaks",): "What is compared, in this order, when totals are equal: `event`, `event.measure` or "
    "`event.measure.criterion`, by their keys. A run-off follows when all of it is equal.",
    ("announce",): "What the class is shown: the winner, the first three, or the whole table.",
    ("protest_days",): "School days after the result in which someone may ask for a check; they end in the "
    f"evening ({time_text(EVENING)}) of the last.",
    ("retention_days",): "Days after the result until names, texts and photos are erased.",
    ("squads", "smallest"): "The fewest members of a squad.",
    ("squads", "largest"): "The most members of a squad.",
    ("squads", "board"): "Under what students stand on the public board of squads: their names, or code names such as "
    "Teal Otter. Each student reads the own code name under My squad.",
    ("squads", "expected"): "How many squads you expect. Only the check of the plan uses it, to see whether there are "
    "turns enough at the practice table.",
    ("calendar", "brief"): "When everyone gets the brief: local date and time.",
    ("calendar", "days"): "The deadline is so many days after the brief, at the same time of day.",
    ("calendar", "counting"): "Which days are counted: every day of the calendar, or school days only.",
    ("calendar", "weekend"): "Days of the week that are never school days.",
    ("calendar", "closed"): "The school's own days off.",
    ("calendar", "holidays"): "See `[calendar.holidays]`.",
    ("calendar", "deadline_on_closed_day"): "Where the deadline falls on a day off: move it to the next school day, "
    "or refuse the plan.",
    ("calendar", "remind_at"): "When the daily reminder goes out.",
    ("calendar", "remind_at_on"): "Another time of the reminder for single days of the window; day 1 is the day "
    "after the brief.",
    ("calendar", "last_day_hours"): "On the last day there are also reminders so many hours before the deadline.",
    ("calendar", "quiet_from"): "No reminder from this time of day on ...",
    ("calendar", "quiet_until"): "... to this one; it waits until then.",
    ("calendar", "signup_closes"): "When sign-up closes. Without it: at the moment of the brief.",
    ("calendar", "judging_closes"): "When judges are reminded to be done. "
    f"Without it: {in_words(JUDGING_DAYS)} days after the deadline.",
    ("calendar", "holidays", "country"): "The country, as two capital letters (ISO 3166).",
    ("calendar", "holidays", "region"): "A region of it, where regions have holidays of their own.",
    ("practice", "minutes"): "How long one turn is.",
    ("practice", "times"): "When a turn begins, on every school day of the window.",
    ("practice", "turns"): "How many turns each squad may book first. Without it: the same whole share for all.",
    ("practice", "from_day"): "The first day of the window with turns.",
    ("practice", "until_day"): "The last day with turns. Without it: the last day of the window.",
    ("practice", "give_back_hours"): "Until so many hours before it, a turn may be given back.",
    ("practice", "pool_hours"): "So many hours before it, a turn that nobody has booked is open to everyone.",
    ("practice", "first_round"): "Squads book as they come, or once a lot has said who chooses first.",
    ("practice", "key_source"): "Where the number comes from with which that lot is drawn.",
    ("events", "key"): "A short name of the event for tie-breaks and files. It never changes.",
    ("events", "name"): "What the event is called.",
    ("events", "weight"): "How much it counts, compared with the other events.",
    ("events", "about"): "What squads do and how points are made. Part of the brief, unless it is a surprise. "
    "`**bold**` is shown in bold, as in the brief.",
    ("events", "surprise"): "Kept secret until the coach starts it.",
    ("events", "hand_in"): "Each member hands in a part with a written reason before the deadline.",
    ("events", "cautions"): "Safety lines, shown with the event.",
    ("events", "equipment"): "See `[events.equipment]`.",
    ("events", "equipment", "name"): "What it is, in the plural, such as \"pairs of scissors\".",
    ("events", "equipment", "pieces"): "How many a squad gets: \"present - 1\", or \"present / 2\" (rounded up), or "
    "both. Who is here is ticked at the table.",
    ("events", "least_present"): "So many members must be here for a squad to run. A coach may let fewer run.",
    ("events", "measures"): "See `[[events.measures]]`.",
    ("events", "measures", "kind"): "What is measured: \"count\" (things counted), \"number\" (a measured value with a "
    "unit), \"time\" (seconds), \"checklist\" (yes or no), \"rubric\" (marks of judges) or \"share\" (members who took "
    "part, of all members).",
    ("events", "measures", "key"): "A short name of the measure. It never changes.",
    ("events", "measures", "name"): "What is measured, as people read it.",
    ("events", "measures", "weight"): "How much it counts within its event.",
    ("events", "measures", "scale"): "How a value becomes points: part of a maximum, part of the best squad's value, "
    "between two values, by rank, or by distance from the mean. Only \"maximum\" and \"between\" do not depend on "
    "what other squads do.",
    ("events", "measures", "maximum"): "For the scale \"maximum\": the value worth all points; where lower is better, "
    "and for a time, the value worth none.",
    ("events", "measures", "over_maximum"): "Whether more than the maximum earns no more, or counts and gives more "
    "than 100 points.",
    ("events", "measures", "floor"): "For the scale \"between\": the value worth no points.",
    ("events", "measures", "full"): "For the scale \"between\": the value worth all points.",
    ("events", "measures", "better"): "Whether a higher or a lower value is better. Of a time the lower one always is.",
    ("events", "measures", "items"): "See `[[events.measures.items]]`.",
    ("events", "measures", "lines"): "See `[[events.measures.lines]]`.",
    ("events", "measures", "criteria"): "See `[[events.measures.criteria]]`.",
    ("events", "measures", "attempts"): "How many official attempts a squad has.",
    ("events", "measures", "keep"): "Which attempts count: the best, all added, or the mean of the best two.",
    ("events", "measures", "unit"): "What it is measured in; shown after the number.",
    ("events", "measures", "decimals"): "How many digits after the decimal point may be typed.",
    ("events", "measures", "lowest"): "The lowest value that is possible; anything below is refused as a slip.",
    ("events", "measures", "highest"): "The highest value that is possible; anything above is refused as a slip.",
    ("events", "measures", "limit"): "Seconds after which the time is up; such a squad did not finish and scores 0.",
    ("events", "measures", "fault_seconds"): "Seconds that each fault adds.",
    ("events", "measures", "seconds"): "How long one run lasts, in seconds. The run pad then shows when it ends.",
    ("events", "measures", "planning"): "Seconds to plan in before the clock starts.",
    ("events", "measures", "official"): "Which time counts where it was taken by presses and by hand; both are kept.",
    ("events", "measures", "panel"): "How the marks of several judges become one: mean, median, mean without the "
    "highest and the lowest, or evened out between mild and strict judges.",
    ("events", "measures", "comments"): "Judges may write one comment a sheet, or one for each criterion.",
    ("events", "measures", "judges_per_squad"): "How many judges see each squad. Without it: all of them.",
    ("events", "measures", "items", "key"): "A short name. It never changes.",
    ("events", "measures", "items", "name"): "What is counted: a thing, a bonus or a penalty.",
    ("events", "measures", "items", "points"): "What each one is worth; below 0 for a penalty.",
    ("events", "measures", "items", "most"): "How many there are. Typing more is asked about before it is saved.",
    ("events", "measures", "lines", "key"): "A short name. It never changes.",
    ("events", "measures", "lines", "name"): "The line, to be answered with yes or no.",
    ("events", "measures", "lines", "points"): "What a yes is worth; below 0 where it costs points.",
    ("events", "measures", "criteria", "key"): "A short name. It never changes.",
    ("events", "measures", "criteria", "name"): "What judges look at.",
    ("events", "measures", "criteria", "weight"): "How much it counts within the rubric.",
    ("events", "measures", "criteria", "levels"): "What is seen at each level, the lowest first.",
    ("events", "measures", "criteria", "praise"): "What a squad in the upper half of the levels reads in its feedback "
    "as a strength. Without it: the text of its level.",
    ("events", "measures", "criteria", "next"): "What a squad can do to get better here, such as \"Agree on one word "
    "for stop.\" Its feedback says it as the next step.",
}  # fmt: skip
