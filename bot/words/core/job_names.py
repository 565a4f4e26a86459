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
    "grace": "the time of a small squad to find members is over",
    "grace-reminder": "a word about a small squad",
    "announce": "the announcement",
    "protests": "the days for protests end",
    "offer": "the time to answer an offer is over",
    "offer-reminder": "a reminder of an offer",
    "team": "the time to answer an offer to students is over",
    "team-reminder": "a reminder of an offer to students",
    "purge": "names are erased",
    "tidy": "accounts are let go",
}
