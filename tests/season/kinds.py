"""Kinds of buttons and forms that nobody in the built-in season can come by, each with the reason.

A kind is an action key. Whoever adds one lets somebody of the cast use it (`deploy/rehearsal/cast`), or says why not.
"""

MORE_OF_THEM = "a page that only a larger class, a longer plan or more questions have"
ANOTHER_PLAN = "only another plan has it"
NO_BUTTON = "no button and no form carries it"
PUT_AWAY = "only where an earlier try-out was put away"

ELSEWHERE = {
    "brief.release": "the brief of this season comes at its own time",
    "earlier.ask": PUT_AWAY,
    "earlier.erased": PUT_AWAY,
    "feedback.page": MORE_OF_THEM,
    "find.suggest": NO_BUTTON,
    "judging.open": "every event of this season opens by itself, at the deadline or with the surprise",
    "panels.page": MORE_OF_THEM,
    "practice.draw": ANOTHER_PLAN,
    "practice.drawn": ANOTHER_PLAN,
    "proposal.mine": NO_BUTTON,
    "results.page": MORE_OF_THEM,
    "results.squad-page": MORE_OF_THEM,
    "rules.merge-page": MORE_OF_THEM,
    "rules.panel-page": MORE_OF_THEM,
    "sheets.switch": "only a judge of two try-outs at once is asked which",
    "sheets.typed": NO_BUTTON,
    "squad.page": MORE_OF_THEM,
    "squad.room": "nobody of this season leaves the class server and comes back",
    "surprise.pick": ANOTHER_PLAN,
    "table.less": NO_BUTTON,
    "table.off": ANOTHER_PLAN,
    "table.score": NO_BUTTON,
    "table.suggest-measure": NO_BUTTON,
    "table.suggest-squad": NO_BUTTON,
    "wish.page": MORE_OF_THEM,
}
