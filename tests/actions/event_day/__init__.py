"""Checks of actions: the event day: who is here, run pad, timetable, call-up, waves, paper."""
