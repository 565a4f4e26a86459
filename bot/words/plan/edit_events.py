"""The events of a plan to pick from, and the form of one: its texts, safety lines and criteria."""

from bot.rules.core.refusal_reasons import Reason
from bot.rules.plan.edit_events import rubric_in_form
from bot.rules.plan.new_set_of_events import may_be_made
from bot.words.core.action_keys import ActionKey
from bot.words.core.choices import choice
from bot.words.core.custom_ids import key
from bot.words.core.plain_text import cut
from bot.words.plan.change_plan import reason_fields
from storage.records.message import FORM_LABEL, Button, Form, Message, Select, TextField
from storage.records.plan import Event, Plan
from storage.records.plan_limits import LEVELS, LINE_LETTERS, TEXT_LETTERS
from storage.records.tryout import State

REFUSALS = {
    Reason.TYPED_CRITERION: "I cannot read this line: **{typed}**. Write the name, a colon, and "
    f"{LEVELS.least} to {LEVELS.most} levels with | between them, the lowest first.",
    Reason.EVENT_GONE: "The plan has no such event any more. Open the plan again.",
}
LONGEST_LIST = 4000
BACK = Button(key=key(ActionKey.PLAN_PANEL), label="Back to the plan")


def events(plan: Plan, state: State) -> Message:
    """Pick an event to change its texts, or make a new set of events."""
    choices = tuple(choice(event.key, event.name) for event in plan.events)
    text = "**Events.** Pick one to change its name, texts, safety lines and what judges look at."
    buttons = [BACK]
    if may_be_made(state):
        text += (
            "\nA new set of events takes the place of these. A line that you leave as it is keeps its event, with all "
            "texts, lines to judge and weight."
        )
        buttons.insert(0, Button(key=key(ActionKey.PLAN_RENEW), label="New set of events"))
    pick = Select(key=key(ActionKey.PLAN_EVENT), prompt="Change an event", choices=choices)
    return Message(text=text, rows=(pick, tuple(buttons)))


def event_form(event: Event, state: State) -> Form:
    """One event: its name, text, safety lines, and the lines of its first rubric."""
    fields = [
        TextField(key="name", label="Name", value=event.name, most=LINE_LETTERS, least=1),
        TextField(key="about", label="What squads do", value=event.about, most=TEXT_LETTERS, long=True, required=False),
        TextField(
            key="cautions",
            label="Safety, one line each",
            value="\n".join(event.cautions),
            most=LONGEST_LIST,
            long=True,
            required=False,
        ),
    ]
    rubric = rubric_in_form(event)
    if rubric is not None:
        fields.append(
            TextField(
                key="criteria",
                label="What judges look at, one line each",
                hint="Name: lowest level | next | … | highest",
                value="\n".join(f"{one.name}: {' | '.join(one.levels)}" for one in rubric.criteria)[:LONGEST_LIST],
                most=LONGEST_LIST,
                long=True,
            )
        )
    title = f"Event: {event.name}"
    return Form(
        key=key(ActionKey.PLAN_EVENT_KEPT, event.key),
        title=cut(title, FORM_LABEL),
        fields=(*fields, *reason_fields(state)),
    )
