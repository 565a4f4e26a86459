"""What is decided, by subject: the event day: who is here, run pad, timetable, call-up, waves, paper."""
