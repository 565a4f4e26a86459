"""The coach's office: where the try-out stands, what is missing, and the next step."""

from collections.abc import Sequence

from bot.rules.calendar.step_facts import Facts, Lack
from bot.rules.core.status_report import LITTLE_BYTES
from bot.rules.office.office import Date, Door, Way, main_way, shown_dates, shut_doors
from bot.rules.office.readiness import NEXT
from bot.words.core.action_keys import ActionKey, AnyKey
from bot.words.core.buttons import JUDGES, PEOPLE
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import key
from bot.words.core.day_action_keys import DayKey
from bot.words.core.number_text import count
from bot.words.core.plain_text import escape
from bot.words.core.text_as_file import whole_message
from bot.words.core.times import full_and_relative, relative
from bot.words.delivery.undelivered import AGAIN
from bot.words.office.readiness import BEFORE, lack_lines, worth_knowing
from bot.words.privacy.earlier_tryouts import EARLIER
from storage.records.message import Button, Message, Row
from storage.records.status_file import Heartbeat
from storage.records.tryout import State

STATES: dict[State, str] = {
    "drafting": "being set up; students see nothing yet",
    "signup": "sign-up is open",
    "window": "the brief is out: squads build and practise",
    "judging": "judging",
    "settled": "judging is closed; nothing is announced yet",
    "announced": "the result is announced",
    "archived": "put away",
}
_DOORS = (
    (
        (ActionKey.PLAN_PANEL, "Plan"),
        (ActionKey.PLAN_DATES, "Dates"),
        (ActionKey.SETUP_PANEL, "Set-up"),
        (ActionKey.PEOPLE_PANEL, "People"),
    ),
    (
        (ActionKey.JUDGES_PANEL, "Judges"),
        (ActionKey.TABLE_PANEL, "Table"),
        (ActionKey.RESULTS_PANEL, "Results"),
        (ClassKey.RECORDS, "Records"),
    ),
    (
        (ActionKey.PRACTICE_PANEL, "Practice"),
        (ActionKey.RULES_PANEL, "Rules questions"),
        (ActionKey.SURPRISE_ASK, "Start the surprise"),
        (DayKey.DAY_PANEL, "Event day"),
    ),
)
NOT_DELIVERED = (
    "**{messages} did not get through.** Look under **Set-up** whether every channel is there and I may write in it, "
    "then press **Try again**."
)
RELEASE = Button(key=key(ActionKey.BRIEF_ASK), label="Release the brief now")
PUT_AWAY = Button(key=key(ActionKey.TRYOUT_ASK_ARCHIVE), label="Put the try-out away")
TRY_AGAIN = AGAIN.model_copy(update={"style": "plain"})
_WAYS: dict[Way, Button] = {
    "choose-channels": Button(key=key(ActionKey.SETUP_PANEL), label="Choose the channels"),
    "set-dates": Button(key=key(ActionKey.PLAN_DATES), label="Set new dates"),
    "enrol-judges": JUDGES,
    "people": PEOPLE,
    "event-day": Button(key=key(DayKey.DAY_PANEL), label="Event day"),
    "open-signup": Button(key=key(ActionKey.SIGNUP_ASK), label="Open sign-up"),
    "release-brief": RELEASE,
    "ready-judges": Button(key=key(ActionKey.JUDGES_PANEL), label="Get the judges ready"),
    "judges": JUDGES,
    "result": Button(key=key(ActionKey.RESULTS_PANEL), label="See and announce the result"),
    "protests": Button(key=key(ClassKey.PROTESTS), label="Decide the protests"),
    "offer-place": Button(key=key(ActionKey.OFFER_PANEL), label="Offer the place"),
    "feedback": Button(key=key(ActionKey.FEEDBACK_PANEL), label="Feedback for squads"),
    "offers": Button(key=key(ActionKey.OFFER_PANEL), label="Offers"),
    "put-away": PUT_AWAY,
    "begin-anew": Button(key=key(ActionKey.OFFICE), label="Begin anew"),
}
_BESIDE: dict[State, tuple[Way, ...]] = {"signup": ("release-brief",), "announced": ("put-away",)}
"""What stands beside the main button: the brief can go out early, and what is announced can be put away."""
_BEHIND: dict[Door, AnyKey] = {
    "surprise": ActionKey.SURPRISE_ASK,
    "practice": ActionKey.PRACTICE_PANEL,
    "event-day": DayKey.DAY_PANEL,
}


def begin_panel(earlier: bool = False) -> Message:
    """No try-out runs: how one begins; `earlier` ones may still hold names."""
    return Message(
        text="**The office.** No try-out is running on this server.\n"
        "Begin with the built-in plan of three events (a robot run, a group piece, a surprise task), "
        "attach a plan file of your own, or take last year's plan again. "
        "Students see nothing before you say so.",
        rows=(
            (
                Button(key=key(ActionKey.PLAN_BEGIN), label="Begin a try-out", style="main"),
                Button(key=key(ActionKey.PLAN_FILE), label="Use a plan file"),
                Button(key=key(ActionKey.PLAN_AGAIN), label="Last year's plan"),
                *((EARLIER,) if earlier else ()),
            ),
        ),
    )


def office_panel(facts: Facts, lacking: Sequence[Lack], signs: str = "", failed: int = 0) -> Message:
    """Where the try-out stands, everything that leads on from here, and how the bot itself is (`signs`).

    `failed` messages could not be delivered: they stand first, with the button that tries again.
    """
    plan = facts.plan
    text = "\n".join((f"**{escape(plan.name)}**: {STATES[facts.state]}.", *_dates(facts), *_numbers(facts)))
    if failed:
        text = f"{NOT_DELIVERED.format(messages=count(failed, 'message'))}\n{text}"
    step = NEXT[facts.state]
    blocking = [lack for lack in lacking if lack.blocks]
    if step and blocking:
        text += f"\n**{BEFORE[step]}**\n{lack_lines(blocking)}"
    text += worth_knowing([lack for lack in lacking if not lack.blocks])
    signs = f"\n{signs}" if signs else ""
    way = main_way(facts, lacking)
    main = _WAYS[way].model_copy(update={"style": "main"})
    again = (TRY_AGAIN,) if failed else ()
    beside = [_WAYS[one] for one in _BESIDE.get(facts.state, ()) if one != way]
    rows: list[Row] = [(main, Button(key=key(ActionKey.OFFICE_AGAIN), label="Refresh"), *beside, *again)]
    # What the main button leads to has no second button, and what cannot be done now has none.
    shut = {main.key, *(_BEHIND[door] for door in shut_doors(facts))}
    for doors in _DOORS:
        row = tuple(Button(key=key(action), label=label) for action, label in doors if action not in shut)
        rows += [row] if row else []
    return whole_message(text, rows, foot=signs)


def _dates(facts: Facts) -> list[str]:
    schedule = facts.schedule
    said: dict[Date, str] = {
        "brief": f"Brief: {full_and_relative(schedule.brief)}{', by itself' * (facts.state == 'signup')}",
        "signup-closes": f"Sign-up closes: {full_and_relative(schedule.signup_closes)}",
        "deadline": f"Deadline: {full_and_relative(schedule.deadline)}",
        "judging-closes": f"Judges done by: {full_and_relative(schedule.judging_closes)}",
    }
    shown = shown_dates(facts)
    return [line for one, line in said.items() if one in shown]


def _numbers(facts: Facts) -> list[str]:
    lines = []
    if facts.state != "drafting":
        teams = f"{count(facts.squads, 'squad')} with {count(facts.seated, 'student')}"
        lines.append(f"{teams}; {facts.alone} without a squad")
    if facts.judges:
        lines.append(f"{count(facts.judges, 'judge')}, {facts.judges_ready} ready")
    if facts.sheets:
        lines.append(f"Score sheets handed in: {facts.sheets_done} of {facts.sheets}")
    if facts.questions:
        lines.append(questions_wait(facts.questions))
    return lines


def questions_wait(number: int) -> str:
    """How many questions about the rules wait."""
    return f"{count(number, 'question')} about the rules {'waits' if number == 1 else 'wait'}"


def status_line(beat: Heartbeat | None) -> str:
    """One line for the coach's office; empty where nothing is known."""
    if beat is None:
        return ""
    parts = []
    if beat.online_since is not None:
        parts.append(f"Came on line {relative(beat.online_since)}.")
    parts.append("No backup yet." if beat.last_backup_at is None else f"Last backup {relative(beat.last_backup_at)}.")
    if beat.free_bytes < LITTLE_BYTES:
        parts.append("Little room is left on my disk: please tell whoever runs me.")
    return f"-# {' '.join(parts)}"
