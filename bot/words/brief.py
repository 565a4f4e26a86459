"""The brief: the message that it is out, and its full text, page by page; surprises stay secret."""

from bot.rules.calendar import Schedule
from bot.words.keys import key
from bot.words.pages import ROOM_FOR_PAGE_LINE, page_line, pages, turning, within
from bot.words.plain import count, escape
from bot.words.when import full_and_relative
from storage.records.message import MESSAGE_LENGTH, Button, Message
from storage.records.plan import Count, Event, Plan, Rubric, Share, Time

REFUSALS = {
    "brief_not_out": "The brief is not out yet. Everyone gets it <t:{brief}:F>, <t:{brief}:R>.",
}

_KEPT = {
    "best": "the best one counts",
    "sum": "they are added up",
    "mean-of-best-two": "the mean of the best two counts",
}

OPEN = Button(key=key("brief.open"), label="Open the brief", style="main")


def in_news(plan: Plan, schedule: Schedule, sha256: str) -> Message:
    """The message to everyone that the brief is out."""
    return Message(
        text=f"**{escape(plan.name)}: the brief is out**\n"
        f"Press the button to read what to do; only you see it, as often as you like.\n"
        f"The deadline is {full_and_relative(schedule.deadline)}.\n"
        f"-# The rules are fixed from now on. Fingerprint of the plan (SHA-256): {sha256}",
        rows=((OPEN,),),
    )


def in_room(schedule: Schedule) -> Message:
    """The message in each squad's room that the brief is out."""
    return Message(
        text="**The brief is out.** Each of you, please open it.\n"
        f"The deadline is {full_and_relative(schedule.deadline)}.",
        rows=((OPEN,),),
    )


def opened(plan: Plan, schedule: Schedule, page: int) -> Message:
    """One page of the brief."""
    found = pages(_blocks(plan, schedule), MESSAGE_LENGTH - ROOM_FOR_PAGE_LINE)
    page = within(page, len(found))
    turn = turning("brief.page", page, len(found))
    return Message(text=found[page] + page_line(page, len(found)), rows=(turn,) if turn else ())


def _blocks(plan: Plan, schedule: Schedule) -> list[str]:
    size = plan.squads
    squads = f"{size.smallest}" if size.smallest == size.largest else f"{size.smallest} to {size.largest}"
    return [
        f"**{escape(plan.name)}**\n{plan.brief}",
        f"**When**\nThe deadline is {full_and_relative(schedule.deadline)}.\n"
        f"Squads have {squads} members. {count(plan.places, 'place')} can be won.",
        *(_event(plan, event) for event in plan.events),
    ]


def _event(plan: Plan, event: Event) -> str:
    share = f"{100 * event.weight / sum(one.weight for one in plan.events):.0f} %"
    if event.surprise:
        return f"**A surprise** ({share} of the total)\nNobody knows it before the coach starts it, for all at once."
    parts = [f"**{escape(event.name)}** ({share} of the total)"]
    if event.about:
        parts.append(event.about)
    parts += [_measure(measure) for measure in event.measures]
    if event.cautions:
        parts.append("Safety:\n" + "\n".join(f"- {line}" for line in event.cautions))
    return "\n".join(parts)


def _measure(measure: Count | Time | Rubric | Share) -> str:
    match measure:
        case Rubric():
            lines = [f"Judges look at **{escape(measure.name)}**:"]
            for criterion in measure.criteria:
                lines.append(f"- {escape(criterion.name)}{_times(criterion.weight)}")
                lines += [f"  {number}. {level}" for number, level in enumerate(criterion.levels, start=1)]
            return "\n".join(lines)
        case Count():
            items = ", ".join(f"{escape(item.name)} {item.points:f}" for item in measure.items)
            return f"Counted: **{escape(measure.name)}** (points each: {items}). {_attempts(measure)}"
        case Time():
            return f"Timed: **{escape(measure.name)}** (limit {measure.limit:f} seconds). {_attempts(measure)}"
        case Share():
            return f"Also counts: **{escape(measure.name)}**, as a share of your squad."


def _attempts(measure: Count | Time) -> str:
    if measure.attempts == 1:
        return "There is one attempt."
    return f"There are {measure.attempts} attempts; {_KEPT[measure.keep]}."


def _times(weight: object) -> str:
    return "" if weight == 1 else f" (counts {weight} times)"
