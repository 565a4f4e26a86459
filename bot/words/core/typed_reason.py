"""The field for a reason that everyone reads with the result."""

from bot.rules.core.typed_reason import LONGEST_REASON, SHORTEST_REASON
from storage.records.message import TextField

REASON = TextField(
    key="reason",
    label="Why?",
    hint="Everyone reads it with the result. No names, please.",
    least=SHORTEST_REASON,
    most=LONGEST_REASON,
)
