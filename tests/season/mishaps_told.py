"""What follows from mishaps, as people read it: an answer held up, a squad too small, a squad that is not there."""

import re
from collections import Counter
from collections.abc import Iterator

from tests.season.seen_on_phones import Seen, minutes
from tests.season.typed_values import text_of

PUBLISHED = re.compile(r"^\*\*Rules question (\d+)\*\*: It goes to news now\.")
ANSWER = re.compile(r"^\S+ \*\*Rules question (\d+)\*\*\n")
WAITS = re.compile(r"^\*\*(.+?)\*\* has \d+ members?, and you wait until <t:(\d+)")
A_DAY, SOON = 24 * 60, 10
"""Minutes: of a day, and until something must have been said."""
AT_THE_END, CHANGED = "Let it run at the end", "**Your times have changed.**"
CALLED = "**It is your turn now**"
MISSED = re.compile(r"\*\*(\d+) .+?\*\* was not here twice")


def mishaps_told(seen: Seen) -> Iterator[str]:
    """Complaints about all of them."""
    yield from answers_in_news(seen)
    yield from waited_for_small_squads(seen)
    yield from late_squads_told(seen)


def answers_in_news(seen: Seen) -> Iterator[str]:
    """Every answer that the coach has published stands in the news once, also when it could not be said at first."""
    published, said = set(), Counter[str]()
    for entry in seen.entries:
        text = text_of(entry)
        if entry["private_to"] and (match := PUBLISHED.match(text)):
            published.add(match[1])
        elif entry["room"] == "news" and entry["kind"] == "message" and (match := ANSWER.search(text)):
            said[match[1]] += 1
    for number in sorted(published):
        if said[number] != 1:
            yield f"answer {number} was said in the news {said[number]} times"


def waited_for_small_squads(seen: Seen) -> Iterator[str]:
    """The coach is reminded of a squad that is too small a day before the wait is over."""
    for entry in seen.entries:
        if entry["kind"] == "message" and (match := WAITS.match(text_of(entry))):
            left = int(match[2]) / 60 - minutes(entry["at"])
            if abs(left - A_DAY) > (A_DAY / 2 if seen.rough else seen.late_minutes):
                yield f"the coach was reminded of {match[1]} {left:.0f} minutes before the end"


def late_squads_told(seen: Seen) -> Iterator[str]:
    """A squad that may run at the end although it was not there twice is called, or reads its new time."""
    for entry in seen.entries:
        if entry["kind"] == "press" and entry["body"]["label"] == AT_THE_END:
            squad = MISSED.search(entry["body"]["on"])
            heard = [*seen.told(int(squad[1]), CHANGED), *seen.told(int(squad[1]), CALLED)] if squad else []
            told = sorted((one for one in heard if one["at"] >= entry["at"]), key=lambda one: str(one["at"]))
            if not told or minutes(told[0]["at"]) > minutes(entry["at"]) + SOON:
                yield f"a squad was not told that it runs at the end: {entry['body']['on']}"
