"""What is missing before a result is complete: the first line that says so, who owes it, and what is done next."""

from collections import defaultdict

from bot.rules.scoring import missing_scores as rules
from bot.rules.scoring.standings_records import Gap
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import MY_SHEETS
from bot.words.core.custom_ids import key
from bot.words.core.pages import ROOM_FOR_PAGE_LINE, page_line, pages, turning, within
from bot.words.core.plain_text import count, escape, listing
from bot.words.core.who_reads import SEALED
from bot.words.scoring.result_view import ResultView
from storage.records.message import MESSAGE_LENGTH, Button, Message, Row
from storage.records.tryout import State

NAMED_JUDGES = 3
TABLE = Button(key=key(ActionKey.TABLE_PANEL), label="Table", style="main")
ANNOUNCE = Button(key=key(ActionKey.RESULTS_ANNOUNCE), label="Announce", style="main")


def headline(result: ResultView) -> str:
    """The first line of everything about the result: complete, or how many squads wait and for what."""
    found = result.standings
    squads = len(found.rows) + len(found.unranked)
    if not squads:
        return "**NOT COMPLETE**: no squad takes part yet."
    if found.complete:
        everybody = f"all {squads} squads" if squads > 1 else "the only squad"
        return f"**Complete**: {everybody} can be ranked; nothing is missing."
    return f"**NOT COMPLETE**: {len(found.unranked)} of {count(squads, 'squad')} cannot be ranked; {_owed(result)}."


def _owed(result: ResultView) -> str:
    gaps = [gap for _, gap in result.standings.gaps]
    owing = owing_judges(result)
    parts = [f"judge {number} owes {count(sheets, 'sheet')}" for number, sheets in owing[:NAMED_JUDGES]]
    more = owing[NAMED_JUDGES:]
    if more:
        sheets = count(sum(sheets for _, sheets in more), "sheet")
        parts.append(f"{count(len(more), 'more judge')} {'owes' if len(more) == 1 else 'owe'} {sheets}")
    for kinds, one, several in (
        (rules.ATTEMPTS, "1 entry is missing at the table", "{} entries are missing at the table"),
        (("no_sheet",), "1 sheet has no judge", "{} sheets have no judge"),
        (("unconnected",), "1 panel was judged apart", "{} panels were judged apart"),
        (("all_excused",), "1 squad is excused from everything", "{} squads are excused from everything"),
    ):
        number = sum(gap.kind in kinds for gap in gaps)
        if number:
            parts.append(one if number == 1 else several.format(number))
    return listing(parts)


def owing_judges(result: ResultView) -> list[tuple[int, int]]:
    """Number of each judge who owes a sheet that a squad waits for, with how many, in order of the numbers."""
    return rules.owing_judges(result.standings, {one: judge.number for one, judge in result.judges.items()})


def missing_lines(result: ResultView) -> str:
    """What is missing, gathered by who owes it; nothing of it was counted as zero. Empty when all is there."""
    if result.standings.complete:
        return ""
    owed: dict[str, list[str]] = defaultdict(list)
    for squad_id, gap in result.standings.gaps:
        owed[gap_text(result, gap)].append(result.name(squad_id))
    lines = "\n".join(f"- {what}: {', '.join(dict.fromkeys(names))}" for what, names in owed.items())
    squads = count(len(result.standings.unranked), "squad")
    return f"**Missing** ({squads} not ranked; a missing mark is never a zero)\n{lines}"


def gap_text(result: ResultView, gap: Gap) -> str:
    """What is missing, and who owes it."""
    if gap.kind == "all_excused":
        return "Excused from every event, so nothing is left to rank"
    part = f"{escape(result.event(gap.event).name)}, {escape(result.measure(gap.event, gap.measure).name)}"
    match gap.kind:
        case "no_attempt":
            return f"{part}: no attempt recorded"
        case "too_few_attempts":
            return f"{part}: {gap.have} of {gap.need} attempts recorded"
        case "no_sheet":
            return f"{part}: no judge has a sheet"
        case "open_sheet":
            who = result.judge(gap.judge_id)
            return f"{who[0].upper()}{who[1:]} owes {part}"
        case "unconnected":
            apart = listing([result.name(squad) for squad in gap.linked])
            return f"{part}: judged apart, so no chain of common judges leads from {apart} to the other squads"
    raise AssertionError(gap.kind)


def waiting_line(result: ResultView) -> str:
    """The squads that cannot be ranked yet, by number."""
    names = [result.name(row.squad_id) for row in result.standings.unranked]
    return f"**Waiting** ({len(names)}): {', '.join(names)}" if names else ""


def next_step(result: ResultView, state: State) -> Button:
    """The most useful thing to do now, as the one filled button."""
    owing = owing_judges(result)
    match rules.next_step(result.standings, result.plan, state, bool(owing)):
        case "remind":
            label = f"Remind judge {owing[0][0]}" if len(owing) == 1 else f"Remind {len(owing)} judges"
            return Button(key=key(ActionKey.JUDGING_REMIND), label=label, style="main")
        case "plan":
            return Button(key=key(ActionKey.PLAN_PANEL), label="Plan", style="main")
        case "table":
            return TABLE
        case "judges":
            return Button(key=key(ActionKey.JUDGES_PANEL), label="Judges", style="main")
        case "close judging":
            return Button(key=key(ActionKey.JUDGING_CLOSE), label="Close judging", style="main")
        case "announce":
            return ANNOUNCE


def sealed_view(result: ResultView, state: State, own_sheets: int, number: int = 0) -> Message:
    """What a coach sees of the result while judging is open: what is missing and who owes it; no mark, no order."""
    if own_sheets:
        return own_first(own_sheets)
    head = [
        headline(result),
        f"**{escape(result.plan.name)}: still sealed.** {SEALED} So nobody can be swayed by them.",
    ]
    onward = next_step(result, state)
    if onward != ANNOUNCE:
        head.append(f"**Next**: press **{onward.label}**.")
    blocks = ["\n".join(head), waiting_line(result), missing_lines(result)]
    shown = pages([block for block in blocks if block], MESSAGE_LENGTH - ROOM_FOR_PAGE_LINE)
    number = within(number, len(shown))
    rows: list[Row] = []
    turn = turning(ActionKey.RESULTS_PAGE, number, len(shown))
    if turn:
        rows.append(turn)
    rest = (
        Button(key=key(ActionKey.JUDGING_STATUS), label="Who owes what"),
        ANNOUNCE.model_copy(update={"style": "plain", "disabled": True}),
    )
    rows.append(rest if onward == ANNOUNCE else (onward, *rest))
    return Message(text=shown[number] + page_line(number, len(shown)), rows=tuple(rows))


def own_first(sheets: int) -> Message:
    """A coach who judges hands in the own sheets before looking at anybody else's."""
    return Message(
        text=f"**Your own sheets first.** You judge, too, and still owe {count(sheets, 'sheet')}. When they are in, "
        "you see here how far the others are.",
        rows=(
            (
                MY_SHEETS.model_copy(update={"style": "main"}),
                Button(key=key(ActionKey.JUDGES_PANEL), label="Judges"),
            ),
        ),
    )


def reminded(told: int, silent: int) -> Message:
    """The judges were reminded, or why not."""
    lines = [f"I have reminded {count(told, 'judge')} just now." if told else "I have written to nobody."]
    if silent:
        lines.append(
            f"{count(silent, 'judge')} cannot be written to before pressing **Start judging**. "
            "Ask again under **Judges**, or in person."
        )
    elif not told:
        lines.append("No judge owes a sheet that can be marked now.")
    return Message(
        text=" ".join(lines),
        rows=(
            (
                Button(key=key(ActionKey.JUDGES_PANEL), label="Judges"),
                Button(key=key(ActionKey.RESULTS_PANEL), label="What is missing"),
            ),
        ),
    )
