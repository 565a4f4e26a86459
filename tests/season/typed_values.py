"""What people typed at the table and on their score sheets, beside what the results packet holds of it."""

import json
import re
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from typing import Any

from tests.season.typed_run_sheets import TypedRunSheets

Json = dict[str, Any]
SAVED = re.compile(r"^Saved\. \*\*(\d+) .+?\*\*: (.+?)\n", re.DOTALL)
UNDONE = re.compile(r"^Undone \(.+?\)\. \*\*(\d+) .+?\*\*: (.+?)\n", re.DOTALL)
TAPPED = re.compile(r"\+1 |-1$|Undo my last$")
READ_BACK = re.compile(r"\n(\d+) .+ points\.\n.*count aloud", re.DOTALL)
"""A count of one kind of thing on a run pad, before it is saved."""
RUN_AGAIN = "Ours: run again"
"""What was tapped before counts nothing then."""
LISTED = re.compile(r"^\*\*.+\*\*: these parts were handed in\.")
COUNTED = re.compile(r"^- (\d+) .+: (\d+) of \d+", re.MULTILINE)
"""In a list of what the bot counted: the squad's number, and how many parts are in."""
PRESENCE = ", who was here"
JUDGES_ROOMS = ("direct messages", "judge ")
"""Where judges mark: their direct messages, or a room of their own where those are closed."""
TYPED_SHEET = re.compile(r"^(.+) - (.+?)( \(\d of \d\))?$")
RECORDED = {"count": ("items", "deductions"), "time": ("seconds", "faults"), "share": ("contributing",)}
"""By kind of measure: what a person types of an attempt."""


def text_of(entry: Json) -> str:
    """What can be read in a message, without its buttons."""
    blocks = entry["body"].get("blocks")
    return "\n".join([block["text"] for block in blocks if "text" in block]) if blocks else ""


@dataclass(frozen=True)
class Typed:
    """A season's transcript, its plan, the names of its squads by number, and the packet."""

    entries: list[Json]
    plan: Json
    names: Mapping[int, str]
    packet: Json
    rough: bool
    """Whether answers may be missing although the thing was done."""

    def attempts_kept(self) -> Iterator[str]:
        """Every attempt that was said to be saved is in the packet with the values that were typed, and no other."""
        paper = TypedRunSheets()
        typed = Counter(self._typed_attempts(paper))
        yield from paper.complaints
        kept = Counter(
            (line["squad"], event, measure, line["number"], _plain({name: line[name] for name in RECORDED[kind]}))
            for line in self.packet["attempts"]
            for event, measure in [(line["event"], line["measure"])]
            for kind in [self._kinds[event, measure]]
        )
        for missing in typed - kept:
            yield f"an attempt that was saved is not in the packet: {missing}"
        if not self.rough:
            for extra in kept - typed:
                yield f"an attempt in the packet was never typed: {extra}"

    @cached_property
    def _kinds(self) -> dict[tuple[str, str], str]:
        """The kind of each measure, by the keys of event and measure."""
        return {(event["key"], one["key"]): one["kind"] for event in self.plan["events"] for one in event["measures"]}

    def _typed_attempts(self, paper: TypedRunSheets) -> list[tuple[int, str, str, int, str]]:
        saved = list(self._from_paper(paper))
        forms: dict[str, Json] = {}
        taps: dict[str, Counter[str]] = defaultdict(Counter)
        lists: dict[str, str] = {}
        for entry in self.entries:
            if LISTED.match(text_of(entry)):
                lists[entry["private_to"]] = text_of(entry)
            elif entry["private_to"] in lists and text_of(entry).startswith("Saved for "):
                saved += self._confirmed(lists.pop(entry["private_to"]))
            elif entry["kind"] == "form sent":
                forms[entry["who"]] = entry["body"]["values"]
            elif entry["kind"] == "press" and TAPPED.match(entry["body"]["label"]):
                _tap(taps[entry["who"]], entry["body"]["label"])
            elif entry["kind"] == "press" and entry["body"]["label"] == RUN_AGAIN:
                taps.pop(entry["who"], None)
            elif entry["kind"] == "press" and entry["body"]["label"].startswith("Counted aloud"):
                # Pressed again when no answer came: it is the same count.
                if counted := taps.pop(entry["who"], None):
                    forms[entry["who"]] = {name: str(number) for name, number in counted.items()}
            elif entry["private_to"] in taps and self.rough and (read := READ_BACK.search(text_of(entry))):
                # Presses without an answer may have counted or not: what was read back is what was agreed to.
                name = next(iter(taps[entry["private_to"]]))
                taps[entry["private_to"]] = Counter({name: int(read[1])})
            elif entry["private_to"] in forms and (match := SAVED.match(text_of(entry) + "\n")):
                found = self._measure(match[2])
                if found is not None:
                    event, measure, number = found
                    values = _as_recorded(measure, forms.pop(entry["private_to"]))
                    saved.append((int(match[1]), event["key"], measure["key"], number, values))
            elif (gone := UNDONE.match(text_of(entry) + "\n")) and (found := self._measure(gone[2])) is not None:
                about = (int(gone[1]), found[0]["key"], found[1]["key"], found[2])
                saved.remove(next(one for one in reversed(saved) if one[:4] == about))
        return saved

    def _from_paper(self, paper: TypedRunSheets) -> Iterator[tuple[int, str, str, int, str]]:
        """The attempts of run sheets that are on record; who was here is none."""
        for entry in self.entries:
            for (squad, about), typed in paper.told(entry, text_of(entry)):
                found = self._measure(about)
                if found is not None and not about.endswith(PRESENCE):
                    event, measure, number = found
                    yield squad, event["key"], measure["key"], number, _as_recorded(measure, typed)

    def _confirmed(self, shown: str) -> Iterator[tuple[int, str, str, int, str]]:
        """What is saved when a whole list of counts is confirmed at once."""
        found = self._measure(shown.strip("*"))
        if found is not None:
            event, measure, number = found
            for squad, many in COUNTED.findall(shown):
                yield int(squad), event["key"], measure["key"], number, _plain({"contributing": int(many)})

    def _measure(self, where: str) -> tuple[Json, Json, int] | None:
        """The event, the measure and the number of the attempt in a line such as `Run, Socks, attempt 1 of 2`."""
        for event in self.plan["events"]:
            for measure in event["measures"]:
                if where.startswith(f"{event['name']}, {measure['name']}") and measure["kind"] != "rubric":
                    number = re.search(r", attempt (\d+) of \d+", where)
                    return event, measure, int(number[1]) if number else 1
        return None

    def sheets_kept(self) -> Iterator[str]:
        """Every mark that was said to be saved is in the packet, judge by judge, and no other."""
        typed: dict[str, set[tuple[int, str, str, str, int]]] = defaultdict(set)
        for (judge, squad, event, measure), marks in self._typed_marks().items():
            typed[judge].update((squad, event, measure, criterion, level) for criterion, level in marks.items())
        kept: dict[int, set[tuple[int, str, str, str, int]]] = defaultdict(set)
        for line in self.packet["sheets"]:
            for criterion, level in (line["marks"] or {}).items():
                kept[line["judge"]].add((line["squad"], line["event"], line["measure"], criterion, level))
        left = [sheets for _, sheets in sorted(kept.items())]
        for judge, sheets in typed.items():
            if sheets in left:
                left.remove(sheets)
            elif not self.rough or not any(sheets <= other for other in left):
                yield f"the sheets of no judge in the packet are those that {judge} filled in"
        if len(kept) != len(typed):
            yield f"{len(typed)} judges have marked, and the packet has sheets of {len(kept)}"

    def _typed_marks(self) -> dict[tuple[str, int, str, str], dict[str, int]]:
        """By judge, squad, event and measure: the levels in their forms that were answered with Saved or Done."""
        sent: dict[str, Json] = {}
        found: dict[tuple[str, int, str, str], dict[str, int]] = defaultdict(dict)
        numbers = {name: number for number, name in self.names.items()}
        for entry in self.entries:
            if entry["kind"] == "form sent" and entry["room"].startswith(JUDGES_ROOMS):
                sent[entry["who"]] = entry["body"]
            elif entry["private_to"] in sent and re.match(r"(Saved|Done)\b", text_of(entry)):
                judge = entry["private_to"]
                body = sent.pop(judge)
                title = TYPED_SHEET.match(body["title"])
                if title is None or title[1] not in numbers:
                    continue
                for event, measure, levels in self._levels(body["values"]):
                    found[judge, numbers[title[1]], event, measure].update(levels)
        return found

    def _levels(self, values: Mapping[str, Any]) -> Iterator[tuple[str, str, dict[str, int]]]:
        for event in self.plan["events"]:
            for measure in event["measures"]:
                if measure["kind"] == "rubric":
                    names = {one["name"]: one["key"] for one in measure["criteria"]}
                    levels = {names[name]: int(_level(said)) for name, said in values.items() if name in names}
                    if levels:
                        yield event["key"], measure["key"], levels


def _tap(counted: Counter[str], label: str) -> None:
    """Add a press of a run pad: one more of what its button names, or one less of what was counted before."""
    if label.startswith("+1 "):
        counted[label.removeprefix("+1 ")] += 1
    elif counted:
        counted[next(reversed(counted))] -= 1


def _as_recorded(measure: Json, typed: Json) -> str:
    """What a form's fields mean for a kind of measure."""
    match measure["kind"]:
        case "count":
            items = {item["key"]: int(typed[item["name"]]) for item in measure["items"] if item["name"] in typed}
            return _plain({"items": items, "deductions": typed.get("Points off", "0")})
        case "time":
            finished = str(typed.get("Did the squad finish?", "Finished")).startswith("Finished")
            seconds = str(_seconds(str(typed["Time"]))) if finished else None
            return _plain({"seconds": seconds, "faults": int(typed.get("Faults") or 0)})
        case "share":
            return _plain({"contributing": int(next(iter(typed.values())))})
    return _plain(typed)


def _plain(values: Json) -> str:
    def number(value: object) -> object:
        if isinstance(value, dict):
            return {name: number(each) for name, each in sorted(value.items())}
        return None if value is None else str(Fraction(str(value)))

    return json.dumps({name: number(value) for name, value in sorted(values.items())})


def _seconds(typed: str) -> Fraction:
    minutes, _, seconds = typed.rpartition(":")
    return 60 * int(minutes or 0) + Fraction(seconds)


def _level(said: object) -> str:
    """The level in `3 of 4`, chosen alone or in a list."""
    chosen = said[0] if isinstance(said, list) else said
    return str(chosen).partition(" ")[0]
