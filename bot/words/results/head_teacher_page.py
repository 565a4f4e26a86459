"""One page in numbers for the head teacher, without a single name."""

from datetime import datetime

from bot.rules.calendar.calendar import Schedule
from bot.rules.core.paper_size import paper_size
from bot.rules.results.head_teacher_page import Numbers
from bot.words.core.buttons import BACK, RECORDS
from bot.words.core.number_text import count
from bot.words.core.printed_text import pdf
from storage.records.message import Answer, Attachment, Message, Say
from storage.records.plan import Plan


def one_page(plan: Plan, schedule: Schedule, announced_at: datetime | None, numbers: Numbers, now: datetime) -> Answer:
    """The page for the head teacher."""

    def day(at: datetime | None) -> str:
        local = at.astimezone(schedule.zone) if at else None
        return f"{local.day} {local:%B %Y}" if local else "not yet"

    dates = [
        f"Brief: {day(schedule.brief)}. Deadline: {day(schedule.deadline)}. Result announced: {day(announced_at)}.",
        f"Sections: {', '.join(plan.sections)}. Places: {plan.places}.",
    ]
    people = [
        f"{count(numbers.squads, 'squad')} with {count(numbers.students, 'student')}, of whom "
        f"{numbers.without_account} without an account on the class server; {numbers.without_squad} without a squad.",
        f"{count(numbers.judges, 'judge')}, {count(numbers.sheets, 'score sheet')} handed in; "
        f"{count(numbers.attempts, 'attempt')} at the table; {count(numbers.absences, 'absence')} from events.",
    ]
    decided = [
        f"The plan was changed {count(numbers.plan_changes, 'time')} after the brief, each with a reason that "
        f"everybody read; {count(numbers.exceptions, 'exception')} for single squads or seats.",
        f"{count(numbers.protests, 'protest')}, {numbers.upheld} upheld. {count(numbers.incidents, 'incident')} noted.",
        f"Names and texts are erased {count(plan.retention_days, 'day')} after the announcement.",
    ]
    events = [f"{event.name}: weight {event.weight.normalize():f}" for event in plan.events]
    sections = [("Dates", dates), ("People", people), ("Events", events), ("Decisions", decided)]
    size = paper_size(plan)
    file = Attachment(name="record.pdf", data=pdf(plan.name, sections, size, now))
    text = "One page in numbers. No name of a person stands in it."
    return Say(message=Message(text=text, rows=((RECORDS, BACK),), files=(file,)))
