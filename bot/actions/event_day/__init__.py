"""What is done, by subject: the event day: who is here, run pad, timetable, call-up, the surprise, paper."""

KEYS = ("day", "pad", "run-sheet", "safety", "stop", "surprise", "wave")
KINDS = ("day", "day-board", "day-call", "day-interviews", "day-judge")
FOLLOWS = {"judges": "late_judge_interviews", "squads": "own_times", "table": "call_up"}
