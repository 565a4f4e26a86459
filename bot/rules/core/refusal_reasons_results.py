"""Why the rules say no about results, protests, the offered place and certificates. Texts stand in words."""

from enum import auto

from bot.rules.core.refusal_reasons import AnyReason


class ResultReason(AnyReason):
    """Why something about the results is refused."""

    OFFER_STANDS = auto()
    REASON_SHORT = auto()
    ALREADY_ANNOUNCED = auto()
    NOT_READY_TO_ANNOUNCE = auto()
    SCORES_CHANGED = auto()
    FEEDBACK_FULL = auto()
    FEEDBACK_SENT = auto()
    FEEDBACK_SHORT = auto()
    NOT_ANNOUNCED = auto()
    NOT_IN_LINE = auto()
    OFFER_RUNS = auto()
    OFFER_SETTLED = auto()
    ONLY_CAPTAIN_ANSWERS = auto()
    OWN_SHEETS_FIRST = auto()
    NOTHING_RANKED = auto()
    RESULTS_NOT_YET = auto()
    STILL_SEALED = auto()
    NOT_COMPLETE_YET = auto()
    OWN_SHEET_FIRST = auto()
    PROTEST_CAPTAIN = auto()
    PROTEST_EARLY = auto()
    PROTEST_OVER = auto()
    PROTEST_MANY = auto()
    PROTEST_LENGTH = auto()
    PROTEST_GONE = auto()
    PROTEST_DECIDED = auto()
    PROTEST_NO_VERDICT = auto()
    PROTEST_SECOND = auto()
    PLACE_WAITS = auto()
    TEAM_EARLY = auto()
    TEAM_NOTHING = auto()
    INCIDENT_EMPTY = auto()
    INCIDENT_GONE = auto()
    CERTIFICATES_EARLY = auto()
    CERTIFICATES_NOBODY = auto()
