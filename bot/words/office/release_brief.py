"""The brief is released by hand, or could not go out by itself."""

from collections.abc import Sequence

from bot.rules.office.readiness import Lack
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK
from bot.words.core.custom_ids import key
from bot.words.core.plain_text import quoted
from bot.words.office.office import CHANGED, confirm_step, lack_lines, worth_knowing
from storage.records.message import Button, Message


def sure_to_release(
    news: Message, room: Message, lacking: Sequence[Lack], stamp: str, changed: bool = False
) -> Message:
    """Ask once before the brief is released by hand; `stamp` and `changed` as before."""
    return confirm_step(
        f"{CHANGED if changed else ''}**Release the brief now?** The plan is then fixed, and the days to the "
        "deadline run from this minute. "
        f"The class reads, with a button to open the brief:\n{quoted(news.text)}\n"
        f"Each squad's room reads:\n{quoted(room.text)}{worth_knowing(lacking)}",
        Button(key=key(ActionKey.BRIEF_RELEASE, stamp), label="Yes, release the brief", style="main"),
    )


def released() -> Message:
    """The brief is out."""
    return Message(text="**The brief is out.** From now on I remind squads of what they still owe.", rows=((BACK,),))


def not_released(lacking: Sequence[Lack]) -> Message:
    """Told in the office when the brief could not go out by itself."""
    lines = lack_lines([lack for lack in lacking if lack.blocks])
    return Message(
        text=f"**The brief did not go out**, because something is missing:\n{lines}\n"
        "Mend it, then release the brief yourself: /office."
    )
