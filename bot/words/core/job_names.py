"""What scheduled jobs are called before the coach."""

DUE = {
    "signup-closes": "sign-up closes",
    "brief": "the brief goes out",
    "reminder": "a reminder to squads",
    "deadline": "the deadline",
    "chase": "a reminder to judges",
    "digest": "the digest",
    "practice": "a reminder of a practice turn",
    "practice-opens": "practice turns open again",
    "practice-shuts": "the last practice turn that is left over begins",
    "day-call": "the first squads are called to the table",
    "announce": "the announcement",
    "purge": "names are erased",
    "tidy": "accounts are let go",
}
