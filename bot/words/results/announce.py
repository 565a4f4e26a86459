"""The announcement: what is missing before it, exactly what will be said, and what the class reads."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime

from bot.rules.core.refusal_reasons_results import ResultReason
from bot.rules.results.announce import (
    PODIUM,
    Obstacle,
    Unused,
    obstacles,
    shown_rows,
    winners,
)
from bot.rules.scoring.standings_records import Row
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import STANDINGS, TABLE
from bot.words.core.custom_ids import key
from bot.words.core.lists_in_text import first_few, fitting, listing
from bot.words.core.number_text import count, in_words
from bot.words.core.plain_text import escape
from bot.words.core.signs import Sign, posted
from bot.words.core.text_as_file import whole_message
from bot.words.core.times import full_and_relative
from bot.words.plan.places_on_team import left_open_text, sections_text
from bot.words.results.announce_later import AT_A_TIME
from bot.words.results.feedback import FEEDBACK, feedback_again
from bot.words.results.listed_changes import Change, change_lines
from bot.words.results.own_result import provisional
from bot.words.results.place_offers import OFFER
from bot.words.scoring.result_view import ResultView
from bot.words.scoring.standings_picture import standings_picture
from bot.words.scoring.tie_breaks import run_off_lines
from storage.records.message import MESSAGE_LENGTH, Attachment, Button, Message

ROOM_FOR_HEAD = 260
ROOM_FOR_CHANGES = 500
UNUSED_SHOWN = 8
"""So many squads are named that have attempts left, or in which nobody reads the room; of more only how many."""
SHEETS_SHOWN = 5
"""So many sheets are named that are open again."""
MORE_SQUADS = "and {more} more: each reads its own result in its room"
SOME_UNUSED = "\n**Some attempts are not used yet**: look at the table."
REFUSALS = {
    ResultReason.NOT_ANNOUNCED: "That comes after the announcement, and no result is announced right now.",
    ResultReason.ALREADY_ANNOUNCED: "The result is announced already. Nothing was said twice.",
    ResultReason.NOT_READY_TO_ANNOUNCE: "Something is missing before the announcement. "
    "Press **Announce** in the results to see what.",
    ResultReason.SCORES_CHANGED: "A score, or what is decided, has changed since you looked. "
    "Open the announcement again to see what would be said now.",
}


@dataclass(frozen=True)
class Occasion:
    """What an announcement says beside the numbers."""

    until: datetime | None
    """When protests end; None when there are none."""
    changes: Sequence[Change]
    fingerprint: str | None
    again: bool
    """Whether an earlier announcement was taken back."""
    earlier: Mapping[int, str] = field(default_factory=dict)
    """Then what each squad, by id, read of its own result before."""
    open_again: Sequence[tuple[str, str]] = ()
    """Of sheets that are open again whose they are, and for which squad; before they are closed nothing is said."""


def lacking(
    result: ResultView, judging_closed: bool, own_sheets: int, open_again: Sequence[tuple[str, str]] = ()
) -> list[str]:
    """Everything that stands in the way of an announcement, in words; empty when nothing does."""
    found = obstacles(result.standings, judging_closed, own_sheets, len(open_again))
    return [_obstacle(one, result, own_sheets, open_again) for one in found]


def _obstacle(one: Obstacle, result: ResultView, own_sheets: int, open_again: Sequence[tuple[str, str]]) -> str:
    match one:
        case "judging_open":
            return "Judging is still open. Close it under **Judges** in the office."
        case "own_sheets":
            return f"You have {count(own_sheets, 'score sheet')} of your own to hand in or give back."
        case "open_again":
            sheets = listing([f"{escape(judge)} for **{escape(squad)}**" for judge, squad in open_again[:SHEETS_SHOWN]])
            more = "" if len(open_again) <= SHEETS_SHOWN else f", and {len(open_again) - SHEETS_SHOWN} more"
            return (
                f"Open again: the {'sheet' if len(open_again) == 1 else 'sheets'} of {sheets}{more}. Wait until it is "
                "saved, or close it under **Judges**: the judge, then **Open a sheet again**."
            )
        case "nobody_ranked":
            return "No squad can be ranked yet."
        case "some_unranked":
            names = listing([result.name(row.squad_id) for row in result.standings.unranked])
            return f"Not ranked, because something is missing: {names}. The standings say what."
        case "tie":
            return run_off_lines(result)


def not_yet(lines: Sequence[str]) -> Message:
    """The announcement has to wait, and for what."""
    text = "**Not yet.** Before the announcement:\n" + "\n".join(f"- {line}" for line in lines)
    return whole_message(text, ((STANDINGS, TABLE),))


def _unused_line(unused: Sequence[Unused]) -> str:
    """Attempts that nobody can make any more once the result is announced."""
    if not unused:
        return ""
    parts = []
    for one in unused:
        squads = [escape(name) for name in one.squads]
        where = escape(one.event) + ("" if one.measure == one.event else f", {escape(one.measure)}")
        parts.append(f"{where}: {first_few(squads, UNUSED_SHOWN)}")
    return f"\n**Attempts not used yet**, and not possible afterwards: {'; '.join(parts)}."


def preview(said: Message, stamp: str, mode: str, unused: Sequence[Unused] = ()) -> Message:
    """Exactly what the class will read, and the one button that says it."""
    shows = {
        "winner": "the winner with their points, and thanks",
        "podium": f"the first {in_words(PODIUM)}",
        "table": "the whole table",
    }[mode]
    head = (
        f"**This will be said** in the news room ({shows}, as the plan says). "
        "Each squad gets its own result in its room at the same minute. The days for protests begin when you press."
    )
    room = MESSAGE_LENGTH - len(said.text) - len(head) - 2
    head += next((line for line in (_unused_line(unused), SOME_UNUSED if unused else "") if len(line) <= room), "")
    head += "\n\n"
    yes = Button(key=key(ActionKey.RESULTS_ANNOUNCED, stamp), label="Announce now", style="main")
    at = Button(key=key(ActionKey.RESULTS_AT, stamp), label=AT_A_TIME)
    later = Button(key=key(ActionKey.RESULTS_PANEL), label="Not yet")
    return whole_message(head + said.text, ((yes, at, later),), said.files)


@posted(Sign.RESULT)
def announcement(result: ResultView, occasion: Occasion) -> Message:
    """What the class reads: by the plan's choice the winner and thanks, the first three, or everyone."""
    plan, standings = result.plan, result.standings
    rows = shown_rows(plan, standings)
    what = "the corrected result" if occasion.again else "the result"
    number = len(standings.rows)
    everybody = f"all {count(number, 'squad')}" if number > 1 else "everybody who took part"
    head = [f"**{escape(plan.name)}: {what}**", _winners(result)]
    tail = [f"Thank you to {everybody}. You can read your squad's own result in your squad's room."]
    tail.append(provisional(occasion.until))
    fingerprint = f"-# Fingerprint of the plan (SHA-256): {occasion.fingerprint}" if occasion.fingerprint else ""
    room = MESSAGE_LENGTH - ROOM_FOR_HEAD - sum(len(part) + 2 for part in (*head, *tail, fingerprint))
    changes = change_lines(occasion.changes, min(room, ROOM_FOR_CHANGES) if plan.announce != "winner" else room)
    table = _table(result, rows, room - len(changes) - 4) if plan.announce != "winner" else ""
    parts = [part for part in (*head, table, *tail, changes, fingerprint) if part]
    picture = standings_picture(result, rows, what[0].upper() + what[1:], ranked=plan.announce != "winner")
    return Message(text="\n\n".join(parts), files=(picture,))


def _table(result: ResultView, rows: Sequence[Row], room: int) -> str:
    """Places and totals, as many as fit beside the rest; the picture and the rooms have the others."""
    lines = [f"{row.rank}\\. {result.name(row.squad_id)}, {result.total(row)} points" for row in rows]
    return "\n".join(fitting(lines, room - len(MORE_SQUADS), MORE_SQUADS))


def _winners(result: ResultView) -> str:
    names = result.names(row.squad_id for row in winners(result.standings))
    left = left_open_text(result.plan, len(names))
    if not names:
        return left or "No squad has won a place."
    said = f"The place goes to {names[0]}." if len(names) == 1 else f"The places go to {listing(names)}."
    for contest in result.standings.contests if result.plan.place_groups else ():
        held = result.names(row.squad_id for row in winners(result.standings) if row.squad_id in contest.squads)
        if held:
            said += f"\n- {sections_text(contest.sections)}: {listing(held)}"
    return "\n".join(filter(None, (f"{said}{chr(10) if result.plan.place_groups else ' '}Congratulations!", left)))


def announced(squads: int, outdated: int = 0) -> Message:
    """It is said; the feedback of so many squads was for an earlier result."""
    return Message(
        text=f"Announced. The news room has the result, and {count(squads, 'squad room')} the squads' own. "
        "The office has the whole result for your records. Next, offer the place and send the feedback."
        + (f"\n{feedback_again(outdated)}" if outdated else ""),
        rows=(
            (
                OFFER.model_copy(update={"style": "main"}),
                FEEDBACK,
            ),
        ),
    )


def _on_paper(squads: Sequence[str]) -> str:
    """Who reads no room: nothing reaches these squads before the coach brings it."""
    shown = [f"**{escape(name)}**" for name in squads[:UNUSED_SHOWN]]
    shown += [f"{len(squads) - UNUSED_SHOWN} more"] if len(squads) > UNUSED_SHOWN else []
    return (
        f"Nobody in {listing(shown)} has an account: print the squad's own result for them. **People**, **Squads**, "
        "**Brief and notices on paper**."
    )


def for_the_records(
    files: Sequence[Attachment], trail: str, until: datetime | None, purged: datetime, on_paper: Sequence[str] = ()
) -> Message:
    """The office keeps the whole result; `trail` is the digest at the end of the audit log at this moment.

    `on_paper` are the squads in which nobody has an account, so that nobody reads their room.
    """
    paper = f"\n{_on_paper(on_paper)}" if on_paper else ""
    protest = f"Protests end {full_and_relative(until)}. " if until is not None else ""
    return Message(
        text="**The result is announced.** The whole result is attached, with numbers in the place of names in "
        f"{files[-1].name}; anyone can recompute it from that file alone with `tenbell verify`. Each judge's marks are "
        "in it, too: whoever knows which judge has which number can read them.\n"
        f"{protest}Names and texts are erased here {full_and_relative(purged)}; delete other copies then, too."
        f"{paper}\n"
        f"-# The trail so far ends in {trail}",
        files=tuple(files),
    )
