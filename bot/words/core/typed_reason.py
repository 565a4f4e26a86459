"""The field for a reason that everyone reads with the result, and what is said where none is typed."""

from bot.rules.core.refusal_reasons import Reason
from bot.rules.core.typed_reason import LONGEST_REASON, SHORTEST_REASON
from storage.records.message import TextField

REFUSALS = {
    Reason.REASON_NEEDED: "After the brief a change needs a reason; everyone reads it with the result. Please type "
    "one.",
}
REASON = TextField(
    key="reason",
    label="Why?",
    hint="Everyone reads it with the result. No names, please.",
    least=SHORTEST_REASON,
    most=LONGEST_REASON,
)
