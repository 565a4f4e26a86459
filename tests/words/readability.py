"""How hard a text is to read: the Flesch-Kincaid grade level, and the sentences of a file of words.

Kincaid, Fishburne, Rogers and Chissom, "Derivation of new readability formulas for Navy enlisted personnel" (1975):
grade = 0.39 x words per sentence + 11.8 x syllables per word - 15.59. Syllables are counted by groups of vowels, less a
silent e; that is right for about nine words in ten, and neither always too high nor always too low.
"""

import ast
import re
from pathlib import Path

MARKUP = re.compile(r"\*\*|^-# |^> ?|^- |`|\\|<[#@][^>]*>", re.MULTILINE)
INSTANT = re.compile(r"<t:[^>]*>")
SENTENCE_END = re.compile(r"[.!?:;]+(?=\s|$)|\n+")
WORD = re.compile(r"[A-Za-z][A-Za-z']*")
SILENT = re.compile(r"(?<=[^aeiouyl])e$|(?<=[^aeiouytd])ed$|(?<=[^aeiouysxzc])es$")
NAME = "Moles"
"""What stands for a name or a number that is put in."""


def syllables(word: str) -> int:
    """How many syllables an English word has, about."""
    plain = SILENT.sub("", word.lower().replace("'", ""))
    return max(1, len(re.findall(r"[aeiouy]+", plain)))


def sentences(text: str) -> list[str]:
    """The sentences of a message, without markup; what has no word is none."""
    plain = MARKUP.sub("", INSTANT.sub("Monday", text))
    return [part.strip() for part in SENTENCE_END.split(plain) if WORD.search(part)]


def grade(text: str) -> float:
    """The Flesch-Kincaid grade level of a text with at least one word."""
    found = sentences(text)
    words = [word for sentence in found for word in WORD.findall(sentence)]
    return 0.39 * len(words) / len(found) + 11.8 * sum(map(syllables, words)) / len(words) - 15.59


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
