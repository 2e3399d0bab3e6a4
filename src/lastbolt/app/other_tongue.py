"""Clauses of a step that are of another language than the book's word lists: nobody here can read them."""

import re

from lastbolt.app.holder_words import says

_CLAUSE = re.compile(r"\s[/|]\s|(?<=[.;:!?])\s")
_LETTER = re.compile(r"[À-ÖØ-öø-ÿŒœŁłŚśŻżČčŠšŽžŘřĚěŐőŰű]")


def in_other_tongue(sentence: str) -> bool:
    """Whether a clause is of another language: it has words or letters of one, and no joining word of this.

    >>> in_other_tongue("Remove the nut. / Die Mutter M20 entfernen."), in_other_tongue("Remove the nut M20.")
    (True, False)
    """
    return any(
        (says("other_tongue", clause) or _LETTER.search(clause)) and not says("joins_words", clause)
        for clause in _CLAUSE.split(sentence)
    )
