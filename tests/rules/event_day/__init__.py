"""Checks of rules: the event day: who is here, run pad, timetable, call-up, waves, paper."""
