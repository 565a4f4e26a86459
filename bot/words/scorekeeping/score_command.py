"""A score typed as one command: why its value will not do, and the squads that are suggested meanwhile."""

from collections.abc import Iterable

from bot.rules.core.refusal_reasons import AnyReason
from bot.rules.core.refusal_reasons_scorekeeping import TableReason
from bot.words.core.slash_command_texts import suggestions
from bot.words.scorekeeping.attempts import squad_label
from storage.records.message import Choice, Message
from storage.records.people import Squad

REFUSALS: dict[AnyReason, str] = {
    TableReason.TYPED_LINE_TIME: "I cannot read **{typed}**. Type the time and the faults, such as 1:32.4 2, or dnf.",
    TableReason.TYPED_LINE_COUNT: "I cannot read **{typed}**. Type how many ({names}), then points off, such as -5.",
    TableReason.TYPED_LINE_CHECKLIST: "I cannot read **{typed}**. Type yes or no for each ({names}), such as yes no "
    "yes.",
}


def squads_suggested(fitting: Iterable[Squad]) -> Message:
    """The squads that fit what was typed so far."""
    return suggestions(tuple(Choice(value=str(one.number), label=squad_label(one)) for one in fitting))
