"""What `tenbell --help` prints: what the program is for, and what each command and option does."""

DESCRIPTION = """\
Tenbell runs a school try-out on a class messaging server: squads sign up, the days are counted down,
judges mark in private, and the standings can be explained and recomputed.

Before the first try-out, be anyone in a made-up one:   tenbell try
or see one from start to end:                           tenbell rehearse
Make a plan by answering questions:                     tenbell plan new my-plan.toml
Check a plan you have written:                          tenbell plan check my-plan.toml
Run it for your class (token in TENBELL_TOKEN):         tenbell run
"""
HELP = {
    "run": "run the bot for your class, until Ctrl-C",
    "--token-file": "a file that holds the bot's token, alone",
    "--database": "the bot's database file",
    "try": "be anyone in a made-up try-out on this machine, in a browser",
    "rehearse": "play a made-up try-out on this machine and show what everyone saw",
    "plan": "make, check and explain plan files",
    "plan new": "answer about ten questions and get a commented plan",
    "plan new FILE": "where to write it",
    "plan new --yes": "ask nothing and take what is proposed",
    "plan reference": "print every key of a plan with its meaning, bounds and default",
    "plan schema": "print a JSON Schema of plans, for editors",
    "plan check": "list every mistake in a plan, or print its whole calendar",
    "plan check FILE": "a plan in TOML",
    "standings": "print the standings of the newest try-out in a database",
    "verify": "recompute a results packet from itself alone, stage by stage",
    "verify PACKET": "a results-packet.json as the coach got it",
    "verify --database": "check the database's trail and plan as well",
    "packet": "write the results packet of the newest try-out in a database",
    "packet --to": "the file to write; without it, it is printed",
    "service": "have the bot started with this computer, or no longer",
    "service install": "make the bot a service of yours, and start it",
    "service install --print": "only show what would be written and run",
    "service remove": "stop the bot, remove the service, and make a last backup",
    "update": "put a newer version in the place of this one; go back if it fails",
    "update NEW": "the newer version: an unpacked folder, or a zip",
    "status": "say how the running bot is; exit code 0 when all is well, else 1",
    "backup": "copy the database, even while the bot runs, and check the copy",
    "backup --fresh": "then delete all earlier copies: who was erased is gone",
    "restore": "put a backup in the place of the database, while the bot is stopped",
    "restore BACKUP": "a file, or the name of one of the bot's own backups",
}
"""By the command, and what may be typed after it; what several commands take, by itself."""
