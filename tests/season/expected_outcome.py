"""What a season must have led to, worked out from what people typed, what they were told, and the plan file alone.

Nothing of the bot is imported, and its database is not looked at. What was typed is compared with the results packet,
the packet is recomputed by the second implementation of the page of formulas, and what each squad read is held against
that. Every function gives complaints as sentences; there are none after a good season.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from fractions import Fraction
from functools import cached_property

from deploy.rehearsal.season.expected_reminders import planned_reminders
from tests.rules.scoring.second_implementation import recomputed
from tests.season.mishaps_told import mishaps_told
from tests.season.seen_on_phones import COACH, Seen, minutes
from tests.season.typed_values import COUNTED, LISTED, Json, Typed, text_of

CAUGHT_UP = "I was off for a while"
"""What comes late stands for what was missed, and the day itself is still counted at its hour."""
MISSING_PARTS = re.compile(r"- (.+): please add your part to ")
PRINTED = re.compile(r"^The brief and \d+ notices? for \*\*(.+)\*\*, to be printed")
CODE = "I have a code from my coach"
WELCOME = re.compile(r"^Welcome, \*\*(.+)\*\*\.")
REMINDER = re.compile(r"\*\*(Day \d+ of \d+|The last hours?)\.\*\*")
SOON = 10
"""Minutes after which an account that was linked is in the room."""
RESULTS = ("**Your result**", "**Your corrected result**")
ANNOUNCED = re.compile(r": (the (?:corrected )?result)\*\*")
TAKEN = "The result is being checked again"
TAKEN_BACK = re.compile(rf"\*\*({TAKEN})")
HALF_A_STEP = Fraction(51, 1000)
"""What is said with one decimal is true when it is no further from the exact number."""


@dataclass(frozen=True)
class Oracle(Seen):
    """What is held against a season as the phones saw it."""

    def complaints(self) -> list[str]:
        """Everything that is not as it must be."""
        return list(self.each_complaint())

    def each_complaint(self) -> Iterator[str]:
        """The same one by one; what takes longest to look at comes last."""
        yield from self.results_recomputed()
        yield from self.results_told()
        yield from self.feedback_told()
        yield from self.winners_announced()
        yield from self.reminded_of_something()
        yield from self.rooms_in_order()
        yield from self.without_accounts()
        yield from mishaps_told(self)
        yield from self.reminded_in_time()
        yield from self.typed()
        yield from self.missing_parts_told()
        yield from self.parts_counted()

    @cached_property
    def true(self) -> Json:
        """The results, recomputed by the second implementation."""
        return recomputed(self.packet)

    def typed(self) -> Iterator[str]:
        """What was typed is in the packet, and nothing else; so it was whenever a result was announced."""
        until = [place for place, entry in enumerate(self.entries) if _in_news(entry, ANNOUNCED)]
        for packet, place in zip((*self.earlier, self.packet), (*until[:-1], len(self.entries)), strict=False):
            typed = Typed(self.entries[:place], self.plan, self.names, packet, self.rough)
            yield from typed.attempts_kept()
            yield from typed.sheets_kept()

    # What was made of it.

    def results_recomputed(self) -> Iterator[str]:
        """The packet's totals and places are those of the second implementation."""
        for part in ("totals", "ranks", "placed"):
            if part in self.true and self.true[part] != self.packet["results"][part]:
                yield f"the {part} of the packet are not what its lines give"

    def results_told(self) -> Iterator[str]:
        """Every squad read its own result once, with its own points, and nobody else of the students did.

        Where a result was taken back, that holds for what had been announced, and for the corrected one.
        """
        announced = [replace(self, packet=packet) for packet in (*self.earlier, self.packet)]
        for number in self.packet["squads"]:
            found = [entry for what in RESULTS for entry in self.told(number, what)]
            if len(found) != len(announced):
                yield f"squad {number} read {len(found)} results, and {len(announced)} were announced"
            for entry, then in zip(found, announced, strict=False):
                yield from then._result(number, text_of(entry))
                readers = set(entry["seen_by"]) - self.coaches
                if COACH not in entry["seen_by"] or not (readers or self.put_in(number, entry["at"])):
                    yield f"the result of squad {number} was seen by {entry['seen_by']}"

    def _result(self, number: int, text: str) -> Iterator[str]:
        if self.names[number] not in text:
            yield f"the result in the room of squad {number} is not its own"
        said = re.search(r"\*\*Total: ([\d.]+) of", text)
        total = self.true["totals"].get(str(number), self.true["totals"].get(number))
        if total is None or said is None or abs(Fraction(said[1]) - Fraction(total)) > HALF_A_STEP:
            yield f"squad {number} read the total {said and said[1]}, and it is {total and float(Fraction(total))}"
        for event in self.plan["events"]:
            for measure in event["measures"]:
                if measure["kind"] == "rubric":
                    yield from self._criteria(number, event, measure, text)

    def _criteria(self, number: int, event: Json, measure: Json, text: str) -> Iterator[str]:
        for criterion in measure["criteria"]:
            mean = self._mean(number, event["key"], measure["key"], criterion["key"])
            said = re.search(rf"- {re.escape(criterion['name'])}: ([\d.]+) of", text)
            if mean is not None and (said is None or abs(Fraction(said[1]) - mean) > HALF_A_STEP):
                yield f"squad {number} read {said and said[1]} for {criterion['name']}, and it is {float(mean)}"

    def _mean(self, squad: int, event: str, measure: str, criterion: str) -> Fraction | None:
        """The weighted mean of a criterion over a squad's counted sheets; None where the panel is not a plain mean."""
        rule = next(
            m.get("panel", "mean") for e in self.plan["events"] if e["key"] == event
            for m in e["measures"] if m["key"] == measure
        )  # fmt: skip
        weights = {judge["number"]: Fraction(judge["weight"]) for judge in self.packet["judges"]}
        lines = [
            (weights[line["judge"]], line["marks"][criterion])
            for line in self.packet["sheets"]
            if (line["squad"], line["event"], line["measure"]) == (squad, event, measure) and line["marks"]
        ]
        whole = sum((weight for weight, _ in lines), Fraction(0))
        if rule != "mean" or not whole:
            return None
        return sum((weight * mark for weight, mark in lines), Fraction(0)) / whole

    def feedback_told(self) -> Iterator[str]:
        """Every squad got its own feedback once: its name, and levels that are the means of its own sheets."""
        means = {
            criterion["name"]: (event["key"], measure["key"], criterion["key"])
            for event in self.plan["events"]
            for measure in event["measures"]
            if measure["kind"] == "rubric"
            for criterion in measure["criteria"]
        }
        for number in self.packet["squads"]:
            found = self.told(number, "**Feedback for ")
            if len(found) != 1:
                yield f"squad {number} got feedback {len(found)} times"
            for entry in found[:1]:
                text = text_of(entry)
                if f"**Feedback for {self.names[number]}**" not in text:
                    yield f"the feedback in the room of squad {number} is not its own"
                for name, level in re.findall(r"• (.+?) \(([\d.]+) of \d+\)", text):
                    mean = self._mean(number, *means[name]) if name in means else None
                    if mean is not None and abs(Fraction(level) - mean) > HALF_A_STEP:
                        yield f"the feedback of squad {number} says {level} for {name}, and it is {float(mean)}"

    def winners_announced(self) -> Iterator[str]:
        """The news name the squads that hold the places, and no others as such; what is corrected was taken back."""
        said = [text_of(entry) for entry in self.entries if _in_news(entry, ANNOUNCED) or _in_news(entry, TAKEN_BACK)]
        order = [match[1] for text in said for one in (ANNOUNCED, TAKEN_BACK) if (match := one.search(text))]
        if order != ["the result", *[TAKEN, "the corrected result"] * len(self.earlier)]:
            yield f"the news told of the result in the order {order}"
        told = [text for text in said if ANNOUNCED.search(text)]
        for text, packet in zip(told, (*self.earlier, self.packet), strict=False):
            lines = [line for line in text.split("\n") if "Congratulations" in line]
            named = {number for number, name in self.names.items() if any(f"**{name}**" in line for line in lines)}
            placed = set(packet["results"]["placed"])
            if named != placed:
                yield f"the news name {sorted(named)}, and the places are held by {sorted(placed)}"

    # What everybody was due.

    def missing_parts_told(self) -> Iterator[str]:
        """Each reminder names in each squad's room those whose part is missing, and nobody whose part is in."""
        pieces = [event["name"] for event in self.plan["events"] if event.get("hand_in")]
        moments = [
            entry["at"] for entry in self.entries
            if entry["room"] == "news" and entry["kind"] == "message" and REMINDER.search(text_of(entry))
        ]  # fmt: skip
        for moment in moments if len(pieces) == 1 else ():
            sure, perhaps = self.parts_by(moment)
            for number in self.packet["squads"]:
                yield from self._reminded(number, moment, sure, perhaps)

    def reminded_of_something(self) -> Iterator[str]:
        """A squad is reminded only where there is a line that says of what."""
        for number in self.packet["squads"]:
            for entry in self.told(number, "Still open for"):
                if not re.search(r"\n- .+", text_of(entry)):
                    yield f"squad {number} was reminded of nothing at {entry['at']}"

    def reminded_in_time(self) -> Iterator[str]:
        """No reminder of a day comes from the moment on at which the next one is due."""
        planned = planned_reminders(self.packet["plan"].encode())
        moments = sorted(planned.values())
        for entry in self.entries:
            day = re.search(r"\*\*Day (\d+) of", text_of(entry)) if entry["kind"] == "message" else None
            due = planned.get(f"day {day[1]}") if day is not None and entry["room"] == "news" else None
            following = [moment for moment in moments if due is not None and moment > due]
            if following and datetime.fromisoformat(entry["at"]) >= following[0]:
                yield f"what was due at {due} was said at {entry['at']}"

    def parts_counted(self) -> Iterator[str]:
        """Where the bot proposes how many members contributed, it counts those whose part is in."""
        for entry in self.entries:
            if LISTED.match(text_of(entry)):
                sure, perhaps = self.parts_by(entry["at"])
                for number, many in COUNTED.findall(text_of(entry)):
                    members = self.members_at(int(number), entry["at"])
                    if not len(members & sure) <= int(many) <= len(members & perhaps):
                        yield f"{many} parts of squad {number} were counted, and {len(members & sure)} are in"

    def _reminded(self, number: int, moment: str, sure: set[str], perhaps: set[str]) -> Iterator[str]:
        at = minutes(moment)
        first, last = (
            (at - 90, self._next_reminder(at)) if self.rough else (at - self.late_minutes, at + self.late_minutes)
        )
        near = [entry for entry in self.told(number, "Still open for") if first <= minutes(entry["at"]) <= last]
        named = {
            name.lstrip("@")
            for entry in near[:1]
            for names in MISSING_PARTS.findall(text_of(entry))
            for name in re.split(r", | and ", names)
        }
        for name in sorted(self.members_at(number, moment) - perhaps - named):
            yield f"{name} of squad {number} was not reminded at {moment} of the part that is missing"
        for name in sorted(named & sure):
            yield f"{name} of squad {number} was reminded at {moment} of a part that is in"

    def _next_reminder(self, at: float) -> float:
        """Just before the next one is due, in minutes: while a disk is full, a night can pass in silence."""
        planned = (one.timestamp() / 60 for one in planned_reminders(self.packet["plan"].encode()).values())
        return min((one - 1 for one in planned if one > at + SOON), default=at + 90)

    def without_accounts(self) -> Iterator[str]:
        """Squads without accounts got the brief on paper; who got an account by a code reads the room from then on."""
        end = self.entries[-1]["at"]
        squads = {number: names for number in self.packet["squads"] if (names := self.put_in(number, end))}
        if len(squads) != self.without:
            yield f"{len(squads)} squads have members without an account"
        linked = {match[1]: entry["at"] for entry in self.entries if (match := WELCOME.match(text_of(entry)))}
        if self.rough:
            # The answer may have been lost, though the code was good.
            typed = [
                entry for entry in self.entries if entry["body"].get("title") == CODE and "values" in entry["body"]
            ]
            linked = {entry["who"]: entry["at"] for entry in typed} | linked
        printed = {match[1] for entry in self.entries if (match := PRINTED.match(text_of(entry)))}
        for number, names in squads.items():
            if self.names[number] not in printed and not names & linked.keys():
                yield f"nobody has printed the brief for squad {number}"
        if len(linked) != bool(squads) and not self.rough:
            yield f"{len(linked)} students got an account by a code"
        for name, at in linked.items():
            number = next((number for number, names in squads.items() if name in names), 0)
            later = [entry for entry in self.told(number, "") if minutes(entry["at"]) > minutes(at) + SOON]
            for entry in later:
                if name not in entry["seen_by"]:
                    yield f"{name} of squad {number} did not see what was said at {entry['at']}"
            if not later:
                yield f"{name} of squad {number} got an account and nothing to read"

    def rooms_in_order(self) -> Iterator[str]:
        """In each squad's room: the brief, then the result, then the feedback; in the news the days in their order."""
        days = [
            int(match[1]) for entry in self.entries
            if entry["room"] == "news" and entry["kind"] == "message"
            and (match := re.search(r"\*\*Day (\d+) of", text_of(entry))) and CAUGHT_UP not in text_of(entry)
        ]  # fmt: skip
        if days != sorted(set(days)):
            yield f"the days were counted as {days}"
        for number in self.packet["squads"]:
            times = []
            once = dict.fromkeys(("**The brief is out.**", RESULTS[0]), 1)
            for what, many in (once | {RESULTS[1]: len(self.earlier), "**Feedback for ": 1}).items():
                found = self.told(number, what)
                if len(found) != many:
                    yield f"squad {number} read {what!r} {len(found)} times"
                times += [entry["at"] for entry in found[:many]]
            if times != sorted(times):
                yield f"squad {number} read its news in the order {times}"


def _in_news(entry: Json, what: re.Pattern[str]) -> bool:
    """Whether everybody was told this."""
    return entry["room"] == "news" and entry["kind"] == "message" and what.search(text_of(entry)) is not None
