"""What a coach sees of one judge, and what can be done."""

from collections.abc import Sequence

from bot.rules.core.refusal_reasons import Reason
from bot.rules.core.second_coach import COOLING
from bot.rules.judging.invitation import may_be_asked_again
from bot.rules.judging.my_sheets import Entry
from bot.words.core.action_keys import ActionKey
from bot.words.core.custom_ids import key
from bot.words.core.number_text import count
from bot.words.core.times import length_text
from bot.words.judging.judges_overview import HOME, progress_of, who
from storage.records.message import Button, Message, Row
from storage.records.people import Judge

REFUSALS = {
    Reason.NOT_A_JUDGE: "That person is not a judge of this try-out. Open **Judges** to see who is.",
    Reason.JUDGES_FIXED: "Judging is closed, and totals can be read by now, so whose marks count stays as it is. "
    "To change it, press **Open judging again** first: that takes a second coach, or "
    f"{length_text(COOLING)}, and everybody reads it with the result.",
    Reason.JUDGE_IS_PROGRAM: "That is a program, not a person. Please pick people.",
}


def one(judge: Judge, entries: Sequence[Entry], closed: bool = False) -> Message:
    """One judge, and what can be done; once judging is `closed`, single sheets can be opened again."""
    counts = "Marks are shown and **not counted**." if judge.weight == 0 else "Marks count."
    rows: list[Row] = []
    if may_be_asked_again(judge):
        rows.append((Button(key=key(ActionKey.JUDGES_ASK, judge.id), label="Ask again"),))
    if closed:
        rows.append((Button(key=key(ActionKey.JUDGING_PICK_SHEET, judge.id), label="Open a sheet again"),))
    rows.append(
        (
            Button(
                key=key(ActionKey.JUDGES_SHOWN_ONLY, judge.id, 1 if judge.weight == 0 else 0),
                label="Let marks count" if judge.weight == 0 else "Show, do not count",
            ),
            Button(key=key(ActionKey.JUDGES_REMOVE, judge.id), label="Remove", style="danger"),
            HOME,
        )
    )
    return Message(
        text=f"**{who(judge)}**, judge {judge.number}: {progress_of(judge, entries)}\n{counts}", rows=tuple(rows)
    )


def sure_to_remove(judge: Judge, entries: Sequence[Entry]) -> Message:
    """Ask once before a judge is let go."""
    done = sum(entry.done for entry in entries)
    kept = f" {count(done, 'sheet')} handed in will be kept and no longer counted." if done else ""
    return Message(
        text=f"Remove **{who(judge)}** as a judge?{kept} You can add them again; their sheets then count again.",
        rows=((Button(key=key(ActionKey.JUDGES_REMOVED, judge.id), label="Yes, remove", style="danger"), HOME),),
    )
