"""Questions and answers that are marked as such, on one line or two: "Q: Moth key? A: G"."""

import re
from collections.abc import Sequence
from typing import Final

from companion.leader.quoted_questions import asks
from companion.leader.reply_lines import ReplyLine

_ASKED: Final = re.compile(
    r"(?:Q|F|P|D|V|S|Question|Frage|Pregunta|Domanda|Vraag|Fråga|Spørgsmål|Spørsmål) ?[:.)] ?(?=\S)", re.IGNORECASE
)
_ANSWERED: Final = re.compile(
    r"(?:A|R|S|Answer|Antwort|Réponse|Reponse|Respuesta|Risposta|Antwoord|Svar) ?[:.)] ?(?=\S)", re.IGNORECASE
)
_WORDS: Final = re.compile(r"[^\W_]+")
LEAST: Final = 2  # words of a question, not only numbers: "D: Moth?", "D: 1, 5?" may be a key and its songs


def marked_answers(lines: Sequence[ReplyLine]) -> list[ReplyLine]:
    """Return each marked question as a quoted line, and its answer as the line below it."""
    kept: list[ReplyLine] = []
    is_asked = False  # whether the line above is such a question
    for line in lines:
        answer = None if line.field or line.ends_block else _ANSWERED.match(line.text)
        question, said = _parted(line.text) if not line.field else ("", "")
        if question and said:
            kept += [line._replace(text=question, is_quoted=True), line._replace(text=said, is_quoted=False)]
            is_asked = False
        elif question:
            kept.append(line._replace(text=question, is_quoted=True))
            is_asked = True
        elif is_asked and answer:
            kept.append(line._replace(text=line.text[answer.end() :], is_quoted=False))
            is_asked = False
        else:
            kept.append(line)
            is_asked = is_asked and line.ends_block
    return kept


def _parted(text: str) -> tuple[str, str]:
    """Return a marked question and the marked answer behind it, if it has one; ("", "") for any other line."""
    mark = _ASKED.match(text)
    end = text.find("?") + 1
    question = text[mark.end() : end] if mark and end else ""
    answer = text[end:].strip() if question else ""
    marked = _ANSWERED.match(answer)
    words = _WORDS.findall(question)
    is_question = asks(question) and len(words) >= LEAST and not all(map(str.isdecimal, words))
    if not is_question or (answer and not marked):
        return "", ""
    return question, answer[marked.end() :] if marked else ""
