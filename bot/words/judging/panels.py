"""What a coach sees of panels: who sees whom, set by hand or computed, and what stands in the way."""

from collections import Counter
from collections.abc import Collection, Mapping, Sequence

from bot.rules.core.refusal_reasons import Reason
from bot.rules.judging.compute_panel import Obstacle, Panel
from bot.rules.judging.connectedness import Seen
from bot.rules.judging.panels import SHARED_ENOUGH, sizes, thinly_linked
from bot.words.core.action_keys import ActionKey
from bot.words.core.changed_meanwhile import LIST_CHANGED
from bot.words.core.choices import PAGE, choice, list_page
from bot.words.core.custom_ids import key, shown_stamp
from bot.words.core.lists_in_text import listing
from bot.words.core.number_text import count
from bot.words.core.pages import page_line, pages, turning, within
from bot.words.core.plain_text import escape
from bot.words.core.text_as_file import whole_message
from bot.words.judging.judges_overview import HOME
from storage.records.message import MESSAGE_LENGTH, Button, Message, Row, Select
from storage.records.people import Judge, Squad
from storage.records.plan import Event
from storage.records.plan_measures import Rubric

Names = Mapping[str, Mapping[int, str]]
"""Names of `squads` and `judges` by id."""

REFUSALS = {
    Reason.PANEL_MOVED: "Something about the judges or squads has just changed. Please press the button once more.",
    Reason.PANEL_NOBODY: "A squad needs at least one judge. Pick one first; then you can take this one out.",
    Reason.PANEL_ALL: "Here every judge sees every squad, so there is nothing to share out. Choose a number first.",
    Reason.JUDGE_TIED: "{judge} knows someone in {squad} and cannot mark it. First undo it: **Knows a squad**.",
}
_OBSTACLES = {
    "no-squads": "there is no squad yet. Come back when there are some.",
    "no-judges": "there is no judge whose marks count. Add judges first.",
    "few-judges": "each squad should be seen by {need}, and there are only {judges_all}. Add judges or choose fewer.",
    "few-seats": "with so few judges a squad, squads have no judges in common and cannot be compared. "
    "Choose more judges a squad.",
    "squad-tied": "only {judges} may mark **{squads}**; all others know someone there. It needs {need}. "
    "Add a judge, take a tie away, or choose fewer judges a squad.",
    "fixed-tied": "{judges} is set for **{squads}** but knows someone there.",
    "fixed-many": "for **{squads}** {have} judges are set or have begun, more than the {need} you chose.",
    "judge-tied": "{judges} may mark only {have}, but an even share of the squads is at least {need}. "
    "Take a tie away, or let the marks of {judges} be shown and not counted.",
    "judge-full": "{judges} is set for, or has begun, {have} squads, but an even share is at most {need}. "
    "Let go of some of what you set.",
    "squads-short": "{squads} need more judges than may mark them: {judges} would have to take more than an even "
    "share. Of {need} places only {have} can be filled. Add a judge, take a tie away, or choose fewer judges a squad.",
    "judges-short": "{judges} know people in so many squads that not all of them can get an even share. "
    "Take a tie away, or let the marks of one of them be shown and not counted.",
    "apart": "ties and what you set keep {judges} and {squads} apart from the rest: no judge sees both sides, "
    "so the squads cannot be compared. Take a tie away, or let go of what you set.",
}


def pick_rubric(rubrics: Sequence[tuple[Event, Rubric]]) -> Message:
    """Pick what the panel is for."""
    choices = tuple(choice(f"{event.key}/{rubric.key}", event.name, rubric.name) for event, rubric in rubrics)
    return Message(
        text="Which panel? Every part that is judged has its own.",
        rows=(Select(key=key(ActionKey.PANELS_TABLE), prompt="Pick a part", choices=choices), (HOME,)),
    )


def obstacle(found: Obstacle, names: Names) -> str:
    """What stands in the way of sharing judges out, as the end of a sentence."""
    return _OBSTACLES[found.kind].format(
        squads=listing([escape(names["squads"].get(one, "?")) for one in found.squads]),
        judges=listing([escape(names["judges"].get(one, "?")) for one in found.judges]) or "nobody",
        judges_all=found.have,
        have=found.have,
        need=found.need,
    )


def stuck(event: Event, found: Obstacle, names: Names) -> Message:
    """The panel cannot be computed."""
    text = f"**{escape(event.name)}**: the judges cannot be shared out. Nothing was changed.\nWhy: "
    return whole_message(text + obstacle(found, names), ((HOME,),))


def table(
    what: tuple[Event, Rubric],
    per_squad: int | None,
    people: tuple[Sequence[Squad], Sequence[Judge]],
    panel: Panel,
    pinned: Collection[Seen],
    page: int = 0,
) -> Message:
    """Who sees whom under one rubric, what can be said about it, and how to change it."""
    event, rubric = what
    squads, judges = people
    head = f"**Who sees whom: {escape(event.name)}**"
    about = (event.key, rubric.key)
    rows: list[Row] = [_sizes(about, per_squad, sizes(judges))]
    if per_squad is None:
        text = f"{head}\nEvery judge sees every squad, but for the squads in which a judge knows someone."
        return Message(text=text, rows=(*rows, (HOME,)))
    names = {judge.id: escape(judge.name) for judge in judges}
    lines = [_line(squad, panel, names, pinned) for squad in squads]
    facts = [head, f"{count(per_squad, 'judge')} for each squad.", *_facts(panel, squads, names, per_squad)]
    shown = pages(["\n".join(facts), "\n".join(lines)], length=MESSAGE_LENGTH - 60)
    page = within(page, len(shown))
    part = within(page, -(-len(squads) // PAGE) or 1)
    choices = tuple(choice(squad.id, squad.name) for squad in squads[part * PAGE : (part + 1) * PAGE])
    if choices:
        rows.append(
            Select(key=key(ActionKey.PANELS_SQUAD, *about), prompt="Set the judges of a squad by hand", choices=choices)
        )
    computed = Button(
        key=key(ActionKey.PANELS_COMPUTE, *about),
        label="Compute the rest" if pinned else "Compute",
        style="plain" if panel.seats else "main",
    )
    buttons = [computed]
    if pinned:
        buttons.append(Button(key=key(ActionKey.PANELS_UNPIN, *about), label="Let go of what I set"))
    rows.append((*buttons, HOME))
    turns = turning(ActionKey.PANELS_PAGE, page, max(len(shown), -(-len(squads) // PAGE)), *about)
    if turns:
        rows.append(turns)
    return Message(text=shown[page] + page_line(page, len(shown)), rows=tuple(rows))


def _sizes(about: tuple[str, str], per_squad: int | None, offered: Sequence[int]) -> Select:
    choices = [choice("0", "All judges see every squad", chosen=per_squad is None)]
    choices += [choice(size, f"{count(size, 'judge')} for each squad", chosen=size == per_squad) for size in offered]
    return Select(
        key=key(ActionKey.PANELS_SIZE, *about), prompt="How many judges see each squad?", choices=tuple(choices)
    )


def _line(squad: Squad, panel: Panel, names: Mapping[int, str], pinned: Collection[Seen]) -> str:
    seen_by = [
        name + (" (set)" if (squad.id, judge) in pinned else "")
        for judge, name in names.items()
        if (squad.id, judge) in panel.seats
    ]
    return f"- **{escape(squad.name)}**: {', '.join(seen_by) or 'nobody yet'}"


def _facts(panel: Panel, squads: Sequence[Squad], names: Mapping[int, str], per_squad: int) -> list[str]:
    if not panel.seats:
        return ["Nobody is seated yet. Press **Compute**."]
    loads = ", ".join(f"{names[judge]} {load}" for judge, load in panel.loads.items() if judge in names)
    facts = [f"Squads for each judge: {loads}."]
    if panel.balanced:
        facts.append("Perfectly balanced: " + _meet(panel, "any two judges", "any two squads"))
    elif panel.meetings:
        few, many = min(panel.meetings.values()), max(panel.meetings.values())
        facts.append(
            f"Any two judges have {few} to {many} squads in common."
            if few != many
            else _meet(panel, "any two judges", "")
        )
    seats = Counter(squad for squad, judge in panel.seats if judge in panel.loads)
    short = [f"{escape(squad.name)} ({seats[squad.id]})" for squad in squads if seats[squad.id] < per_squad]
    if short:
        facts.append(f"**Too few judges:** {listing(short)}. Press **Compute**.")
    elif len(panel.parts) > 1:
        facts.append("**Some squads share no judges with the rest**, so they cannot be compared. Press **Compute**.")
    elif panel.hinges:
        who = listing([names[judge] for judge in panel.hinges if judge in names])
        facts.append(f"If {who} drops out, some squads can no longer be compared with the rest.")
    thin = [names[judge] for judge in thinly_linked(panel.seats) if panel.loads.get(judge, 0)]
    if thin and not short:
        facts.append(
            f"{listing(thin)} {'has' if len(thin) == 1 else 'have'} fewer than {SHARED_ENOUGH} squads in common with "
            "other judges: too few to tell a strict judge from a weak squad."
        )
    return facts


def _meet(panel: Panel, judges: str, squads: str) -> str:
    if len(set(panel.meetings.values())) == 1:
        return f"{judges} have {count(next(iter(panel.meetings.values())), 'squad')} in common."
    return f"{squads} have {count(next(iter(panel.shared.values())), 'judge')} in common."


def stamp_of(free: Sequence[Judge], seated: Collection[int], page: int) -> str:
    """What a list of judges carries of what it shows: what somebody else has set since must not be undone by it."""
    return shown_stamp([(judge.id, judge.id in seated) for judge in free[page * PAGE :][:PAGE]])


def squad(
    what: tuple[Event, Rubric],
    one: Squad,
    judges: Sequence[Judge],
    seated: Collection[int],
    tied: Collection[int],
    page: int = 0,
    changed: bool = False,
) -> Message:
    """Set the judges of one squad by hand; `changed`: the list that was sent showed something else."""
    event, rubric = what
    free = [judge for judge in judges if judge.id not in tied]
    text = f"{LIST_CHANGED if changed else ''}**{escape(one.name)}**, {escape(event.name)}: who should mark it?\n"
    text += "What you set stays when the rest is computed."
    knows = [escape(judge.name) for judge in judges if judge.id in tied]
    if knows:
        text += f"\nNot offered, because they know someone there: {listing(knows)}."
    back = Button(key=key(ActionKey.PANELS_TABLE, event.key, rubric.key), label="Back")
    if not free:
        return Message(text=text, rows=((back,),))
    choices = [
        choice(judge.id, judge.name, "shown, not counted" if judge.weight == 0 else "", chosen=judge.id in seated)
        for judge in free
    ]
    several = len(free) > PAGE
    page = within(page, -(-len(free) // PAGE))
    pick = (event.key, rubric.key, one.id, page, stamp_of(free, seated, page))
    listed = list_page(
        choices,
        page,
        "Pick the judges",
        key(ActionKey.PANELS_SET, *pick),
        lambda number: key(ActionKey.PANELS_SQUAD, event.key, rubric.key, one.id, number),
        least=0 if several else 1,
        most=PAGE,
    )
    return Message(text=text + listed.line, rows=(*listed.select, (*listed.turns, back)))
