"""Kinds of buttons and forms that nobody in the built-in season can come by, each with the reason.

A kind is an action key. Whoever adds one lets somebody of the cast use it (`deploy/rehearsal/cast`), or says why not.
"""

MORE_OF_THEM = "a page that only a larger class, a longer plan or more questions have"
ANOTHER_PLAN = "only another plan has it"
PAPER_DAY = "only a day without a network is typed in from run sheets"
NO_BUTTON = "no button and no form carries it"

ELSEWHERE = {
    "brief.release": "the brief of this season comes at its own time",
    "class-list.names": MORE_OF_THEM,
    "coach-squad.look": "nobody still waits for members on the last day",
    "day.closed": "no squad misses its run twice",
    "feedback.page": MORE_OF_THEM,
    "find.suggest": NO_BUTTON,
    "judging.open": "every event of this season opens by itself, at the deadline or with the surprise",
    "panels.page": MORE_OF_THEM,
    "post.again": "only after something could not be delivered",
    "practice.draw": ANOTHER_PLAN,
    "practice.drawn": ANOTHER_PLAN,
    "proposal.mine": NO_BUTTON,
    "results.ask-back": "nobody takes this season's result back",
    "results.page": MORE_OF_THEM,
    "results.squad-page": MORE_OF_THEM,
    "results.taken-back": "nobody takes this season's result back",
    "rules.merge-page": MORE_OF_THEM,
    "rules.page": MORE_OF_THEM,
    "rules.panel-page": MORE_OF_THEM,
    "run-sheet.again": PAPER_DAY,
    "run-sheet.form": PAPER_DAY,
    "run-sheet.measure": PAPER_DAY,
    "run-sheet.open": PAPER_DAY,
    "run-sheet.page": PAPER_DAY,
    "run-sheet.settle": PAPER_DAY,
    "run-sheet.settled": PAPER_DAY,
    "run-sheet.typed": PAPER_DAY,
    "sheets.switch": "only a judge of two try-outs at once is asked which",
    "sheets.typed": NO_BUTTON,
    "squad.page": MORE_OF_THEM,
    "surprise.pick": ANOTHER_PLAN,
    "table.less": NO_BUTTON,
    "table.off": ANOTHER_PLAN,
    "table.score": NO_BUTTON,
    "table.suggest-measure": NO_BUTTON,
    "table.suggest-squad": NO_BUTTON,
    "wish.page": MORE_OF_THEM,
}
