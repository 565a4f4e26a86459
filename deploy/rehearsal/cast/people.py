"""The invented people of a made-up season: students by section and the squads they have in mind, judges, a coach."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from random import Random

from deploy.rehearsal.cast.invented_names import FIRST_NAMES, SQUAD_NAMES

COACH = "Ms Okoro"
SCOREKEEPER = "Mr Lindqvist"
SECOND_SCOREKEEPER = "Ms Abara"
"""At the second table, in the season of the built-in plan."""
CO_COACH, TYPIST = "Mr Adeyemi", "Ms Vanterpool"
"""A second coach, and somebody who types in what is on paper."""
NOT_A_JUDGE = "Zora K"
"""Is asked to judge and has no time."""
NEW, MISSPELT, LET_IN, TURNED_AWAY, ENTERED = "Otto W", "Tess V", "Vic U", "Wanda X", "Xeno B"
"""Come to the class server when the week of sign-up is nearly over, and do not stay."""
GUESTS = (CO_COACH, TYPIST, NOT_A_JUDGE, NEW, MISSPELT, LET_IN, TURNED_AWAY, ENTERED)
"""Who is in the built-in season besides."""
JUDGES = ("Bruno P", "Celia M", "Dov K", "Esme W", "Farid N", "Greta S")
"""Returning team members and a colleague."""
MORE_JUDGES = tuple(f"{name} Q" for name in ("Hal", "Ivy", "Jorge", "Kim", "Liv", "Max", "Nell", "Ola", "Per", "Ray"))
"""For plans in which many judges see each squad."""
_FORGETFUL = 3
"""Which of them forgets things, from 0."""
_INITIALS = "ABCDEFGHJKLMNPRSTVW"
SQUADS = 14
"""A large year (the trade page counts 6 to 15)."""
ON_PAPER = 2
"""So many of them have members without an account."""
STUDENTS = 60


@dataclass
class Group:
    """Friends who mean to be one squad; the first is the one who starts it."""

    name: str
    section: str
    people: list[str]


@dataclass
class Cast:
    """Who plays in a season."""

    groups: list[Group]
    smallest: int
    largest: int
    brim: Group
    """The group that fills its squad to the last seat, for which five press at once."""
    judges: tuple[str, ...]
    lonely: dict[str, str] = field(default_factory=dict)
    """Students without friends in mind, and their section; they look for a squad."""
    late: str = ""
    """One of them, who comes when sign-up is over."""
    last_lonely: str = ""
    """One of them, whom nobody asks; the coach places this student."""

    on_paper: list[Group] = field(default_factory=list)
    """Squads whose members have no account; the coach acts for them."""
    linked: str = ""
    """One of these members, who gets an account later."""

    skills: dict[str, float] = field(default_factory=dict)
    """How good each squad is, from 0 to 1, by the name it was founded under."""

    @property
    def forgetful(self) -> str:
        """The judge who leaves some sheets for later."""
        return self.judges[min(_FORGETFUL, len(self.judges) - 1)]

    @property
    def students(self) -> dict[str, str]:
        """Every student with an account, and the section."""
        seated = {person: group.section for group in self.groups for person in group.people}
        linked = {self.linked: self.on_paper[0].section} if self.linked else {}
        return seated | self.lonely | linked

    @property
    def without_account(self) -> list[str]:
        """Every student who never gets an account."""
        return [person for group in self.on_paper for person in group.people if person != self.linked]

    @property
    def squad_names(self) -> list[str]:
        """The names of all squads as they are now."""
        return [group.name for group in (*self.groups, *self.on_paper)]

    def skill(self, title: str) -> float:
        """How good the squad in a title is; titles may cut names, and squads may have been renamed since."""
        for name, skill in self.skills.items():
            if name in title:
                return skill
        return 0.5

    def swap(self, one: str, other: str) -> None:
        """Let two students change places in what they mean to do."""
        for group in self.groups:
            group.people = [{one: other, other: one}.get(person, person) for person in group.people]


def invent_cast(
    random: Random,
    sections: list[str],
    smallest: int,
    largest: int,
    squads: int = SQUADS,
    judges: int = len(JUDGES),
    on_paper: int = 0,
) -> Cast:
    """Invent so many groups of friends spread over the sections, a few students who come alone, and the judges.

    Of the groups so many are `on_paper`: their members have no account.
    """
    first = list(FIRST_NAMES)
    random.shuffle(first)
    names = _full_names(first, [random.choice(_INITIALS) for _ in first])
    squad_names = list(SQUAD_NAMES)
    random.shuffle(squad_names)
    squad_names += [f"{name} Again" for name in squad_names]
    groups = []
    for number in range(squads - on_paper):
        roomy = number in (0, 1, 2) and largest > smallest
        size = random.randint(smallest, largest - 1 if roomy else largest)
        groups.append(Group(squad_names[number], sections[number % len(sections)], [next(names) for _ in range(size)]))
    brim = groups[len(sections) % len(groups)]
    brim.people += [next(names) for _ in range(largest - len(brim.people))]
    lonely = {next(names): sections[number % len(sections)] for number in (0, 1, 2, 3)}
    last_lonely, late = list(lonely)[-2:]
    paper = [
        Group(squad_names[number], sections[number % len(sections)], [next(names) for _ in range(smallest)])
        for number in range(len(groups), squads)
    ]
    skills = {group.name: random.uniform(0.25, 0.95) for group in (*groups, *paper)}
    everyone = (*JUDGES, *MORE_JUDGES)[:judges]
    linked = paper[0].people[0] if paper else ""
    return Cast(groups, smallest, largest, brim, everyone, lonely, late, last_lonely, paper, linked, skills)


def not_taking_part(many: int) -> list[str]:
    """So many students of the school who stand in its list and want nothing of the try-out."""
    return [f"{name} Y" for name in FIRST_NAMES[:many]]


def _full_names(first: list[str], initials: list[str]) -> Iterator[str]:
    """First names with an initial each; in a large class the first names come again with other initials."""
    for again in range(len(_INITIALS)):
        for name, initial in zip(first, initials, strict=True):
            yield f"{name} {_INITIALS[(_INITIALS.index(initial) + again) % len(_INITIALS)]}"
