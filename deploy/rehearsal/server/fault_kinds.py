"""What the class server can do wrong on purpose; power cuts and full disks are the business of whoever runs the bot."""

DROPS, LIMITS, ERRORS, CLOSED_DM, TWICE, SLOW = "drops", "limits", "errors", "closed-dm", "twice", "slow"
KINDS = (DROPS, LIMITS, ERRORS, CLOSED_DM, TWICE, SLOW)
