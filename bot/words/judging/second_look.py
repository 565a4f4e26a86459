"""Wide gaps between judges: a second look while sheets can still be changed, without saying whose they are."""

from collections.abc import Mapping, Sequence

from bot.rules.judging.my_sheets import Entry
from bot.rules.judging.second_look import FAR_APART
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import MY_SHEETS
from bot.words.core.choices import PAGE, choice
from bot.words.core.custom_ids import key
from bot.words.core.lists_in_text import listing
from bot.words.core.number_text import count, in_words
from bot.words.core.plain_text import escape
from bot.words.core.signs import Sign, posted
from bot.words.core.text_as_file import whole_message
from bot.words.judging.judges_overview import HOME
from storage.records.message import Button, Message, Row, Select

Gaps = Mapping[str, Sequence[str]]
"""By squad: the lines of the rubric on which two judges are far apart."""


def own_sheets(owed: int) -> str:
    """What a coach who also judges has to hand in first."""
    return count(owed, "score sheet")


def second_look_panel(gaps: Gaps) -> Message:
    """What the coach sees: where judges are far apart, never how far or who."""
    if not gaps:
        return Message(text=f"No two judges are {in_words(FAR_APART)} levels or more apart, so far.", rows=((HOME,),))
    ask = Button(key=key(ActionKey.JUDGING_ASK_LOOK), label="Ask for a second look", style="main")
    far = in_words(FAR_APART).capitalize()
    text = f"**{far} levels or more apart** (handed-in sheets):\n" + "\n".join(_lines(gaps))
    return whole_message(text, ((ask, HOME),))


def _lines(gaps: Gaps) -> list[str]:
    return [f"- **{escape(squad)}**: {listing([escape(name) for name in names])}" for squad, names in gaps.items()]


def asked(judges: int) -> Message:
    """The judges were asked."""
    return Message(text=f"{count(judges, 'judge')} got a note. It does not say whose marks differ.", rows=((HOME,),))


@posted(Sign.JUDGING)
def please_look(gaps: Gaps, mine: Sequence[Entry]) -> Message:
    """Told to every judge of these squads, so that nobody is singled out."""
    text = (
        f"Judges of the same squad are {in_words(FAR_APART)} levels or more apart here:\n"
        + "\n".join(_lines(gaps))
        + "\nPlease look at your sheets once more. Change a mark only if you now see it differently."
    )
    choices = tuple(choice(one.sheet.id, one.squad.name) for one in mine[:PAGE])
    if len(mine) > PAGE:
        text += f"\nThe list below has {PAGE} of your {len(mine)} sheets there; **My sheets** has all."
    rows: list[Row] = [Select(key=key(ActionKey.SHEETS_LOOK), prompt="Look at a sheet", choices=choices), (MY_SHEETS,)]
    return whole_message(text, rows)
