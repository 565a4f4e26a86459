"""A squad is taken out: until when a coach can."""

from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason


def check_may_take_out(result_stands: bool) -> None:
    """A coach can take a squad out until the result is announced, which it could change for others.

    Raises:
        Refusal: `result_stands`.
    """
    if result_stands:
        raise Refusal(Reason.RESULT_STANDS)
