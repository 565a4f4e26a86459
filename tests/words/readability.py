"""How hard a text is to read: the Flesch-Kincaid grade level, worked out by the textstat library; the texts of a file.

Kincaid, Fishburne, Rogers and Chissom, "Derivation of new readability formulas for Navy enlisted personnel" (1975):
grade = 0.39 x words per sentence + 11.8 x syllables per word - 15.59. The library counts syllables by the CMU
Pronouncing Dictionary, which it brings along. It knows neither our markup nor lines that end without a full stop, so
both are taken out before.
"""

import ast
import re
from pathlib import Path

import textstat

MARKUP = re.compile(r"\*\*|^-# |^> ?|^- |`|\\|<[#@][^>]*>", re.MULTILINE)
INSTANT = re.compile(r"<t:[^>]*>")
SENTENCE_END = re.compile(r"[.!?:;]+(?=\s|$)|\n+")
WORD = re.compile(r"[A-Za-z][A-Za-z']*")
NAME = "Moles"
"""What stands for a name or a number that is put in."""


def sentences(text: str) -> list[str]:
    """The sentences of a message, without markup; what has no word is none."""
    plain = MARKUP.sub("", INSTANT.sub("Monday", text))
    return [part.strip() for part in SENTENCE_END.split(plain) if WORD.search(part)]


def grade(text: str) -> float:
    """The Flesch-Kincaid grade level of a text with at least one word."""
    return float(textstat.flesch_kincaid_grade("".join(f"{sentence}. " for sentence in sentences(text))))


def texts(path: Path, least: int = 4) -> list[str]:
    """Every text in a file of words that has `least` words or more; docstrings are none."""
    tree = ast.parse(path.read_text("utf-8"))
    noted = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    inside = {id(part) for node in ast.walk(tree) if isinstance(node, ast.JoinedStr) for part in ast.walk(node)}
    found = []
    for node in ast.walk(tree):
        if id(node) in noted:
            continue
        if isinstance(node, ast.JoinedStr):
            found.append("".join(str(part.value) if isinstance(part, ast.Constant) else NAME for part in node.values))
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in inside:
            found.append(re.sub(r"\{\w+\}", NAME, node.value))
    return [text for text in found if len(WORD.findall(text)) >= least]
