"""The next step to the result, as the filled button under the standings."""

from bot.rules.results import next_step as rules
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import JUDGES, TABLE
from bot.words.core.custom_ids import key
from bot.words.scoring.missing_scores import owing_judges
from bot.words.scoring.result_view import ResultView
from storage.records.message import Button
from storage.records.tryout import State

ANNOUNCE = Button(key=key(ActionKey.RESULTS_ANNOUNCE), label="Announce", style="main")


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
            return TABLE.model_copy(update={"style": "main"})
        case "judges":
            return JUDGES.model_copy(update={"style": "main"})
        case "close judging":
            return Button(key=key(ActionKey.JUDGING_CLOSE), label="Close judging", style="main")
        case "announce":
            return ANNOUNCE
