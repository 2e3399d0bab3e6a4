"""The words of the shop that typed lines may use; data, not rules.

A word that does not stand here is not understood, and a line that is not understood is never passed over.
"""

from lastbolt.words.joint import Saw

SAW_WORDS: dict[str, Saw] = {
    "out": "out",
    "is out": "out",
    "nut off": "out",
    "in": "in",
    "is in": "in",
    "still in": "in",
    "still there": "in",
    "not out": "in",
    "in place": "in",
    "nut on": "in",
    "nut still on": "in",
    "tight": "in",
    "seized": "in",
    "stuck": "in",
    "stripped": "in",
    "slack": "slack",
    "loose": "slack",
    "backed off": "slack",
    "broken": "broken off",
    "broken off": "broken off",
    "broke": "broken off",
    "broke off": "broken off",
    "has broken off": "broken off",
    "head off": "broken off",
    "head broke off": "broken off",
    "head came off": "broken off",
    "sheared": "broken off",
    "sheared off": "broken off",
    "snapped": "broken off",
    "snapped off": "broken off",
    "shank in": "broken off",
    "shank still in": "broken off",
    "open": "open hole",
    "open hole": "open hole",
    "empty": "open hole",
    "looks empty": "open hole",
    "looks open": "open hole",
    "light": "light through",
    "light through": "light through",
    "rod through": "light through",
    "rod to the bottom": "rod to the bottom",
    "rod to bottom": "rod to the bottom",
    "nothing": "nothing here",
    "nothing here": "nothing here",
    "dowel": "solid dowel",
    "solid dowel": "solid dowel",
    "dowel both ends": "solid dowel, both ends",
    "solid dowel both ends": "solid dowel, both ends",
    "hollow dowel empty": "hollow dowel, empty",
    "hollow dowel bolt in": "hollow dowel, bolt in",
    "not seen": "cannot see",
    "cannot see": "cannot see",
    "can't see": "cannot see",
    "cannot be seen": "cannot see",
    "not visible": "cannot see",
    "hidden": "cannot see",
    "covered": "cannot see",
    "not looked": "cannot see",
}
INTERJECTIONS = ("no", "yes", "ok", "okay", "well", "sorry", "so")
"""Said before a line, and of no weight in it; "right" is a side as well."""
FILLERS = ("is ", "are ")
"""Before what was seen: "1-7 are out"."""
SAME_SIDE = ("near side ",)
FAR_AT_PLACE = (
    "far side ", "from far side ", "from the far side ", "on the far side ", "from inside ",
    "from the inside ", "from behind ", "from the rear ", "from the back ",
)  # fmt: skip
"""Before what was seen: from which side its fastener enters. "Other side" is none: at a place it may mean
that only one side was looked at."""
FAR_ON_LIST = (
    *(words.strip() for words in FAR_AT_PLACE), "inside", "behind", "other side", "from the other side",
    "from other side", "rear side", "on the rear", "opposite side", "from the opposite side",
)  # fmt: skip
"""At the end of a row of the list: where its fasteners enter."""
HALF_SAID = "hollow dowel"
"""A dowel that may have a bolt through it; until it is said whether, the line is asked about."""
SIZES_MEANT = {"stud nut": "nut", "stud nuts": "nuts"}
"""Names of one fastener with the word for another in them."""
TAKEN_OUT = ("taken out", "took out", "removed", "unscrewed and out", "drilled out")
PUT_IN = ("put in", "put back", "put back in", "refitted")
BOTH_SIDES = ("from both sides", "both sides")

END_OF_LIST = ("end of list", "end of the list", "list complete")
COMPARED = ("list compared", "compared list", "compared the list", "list checked")
"""Somebody held what was typed against the paper, row by row, to its end."""
WENT_ROUND = (
    "went round", "went around", "i went round", "i went around", "went round, no further place",
    "went around, no further place", "round complete",
)  # fmt: skip
IN_THE_TRAY = ("in the tray", "in tray", "in the trays")
FIRST_BY = "first by"
"""Says who typed what stands before the first name."""
LEFT = ("left the bench", "left bench", "break", "handover", "handed over")
NO_OTHER_HOLDERS = (
    "no other holders", "no other holder", "no holders", "other holders: none", "holders: none",
    "holder none", "holder: none", "nothing else holds it",
)  # fmt: skip

STATEMENTS = (*END_OF_LIST, *COMPARED, *WENT_ROUND, *LEFT, *NO_OTHER_HOLDERS)
"""Whole lines without a place or a size in them."""
ASKS_HELP = ("help", "?", "h")
ENDS = ("quit", "exit", "done")
UNDOES = ("undo",)
"""What is said to the program at the keyboard; never a line about the joint."""

NOBODY = "you"
"""Who says what stands before the first name."""
UNNAMED = (
    "", "you", "me", "i", "myself", "us", "we", "he", "she", "they", "him", "her", "them", "himself",
    "herself", "themselves", "somebody", "someone", "another person", "another", "others", "other", "same",
    "both", "name",
    "everybody", "everyone", "nobody", "no one", "anybody", "friend", "colleague",
)  # fmt: skip

NO_NAMES = frozenset({
    *(word for said in (*SAW_WORDS, *TAKEN_OUT, *PUT_IN, *STATEMENTS, *BOTH_SIDES) for word in said.split()),
    "again", "then", "now", "next", "later", "first", "second", "third", "once", "twice", "day", "time",
    "a", "an", "the", "my", "his", "her", "our", "their", "this", "that", "these", "those", "it", "all",
    "of", "off", "on", "from", "with", "without", "to", "for", "as", "at", "but", "except", "still", "back",
    "book", "look", "looks", "looked", "manual", "memory", "guess", "chance", "mistake",
    "today", "tomorrow", "yesterday", "tonight", "morning", "afternoon", "evening", "noon", "night",
    "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "far", "near", "side",
    "same", "both", "himself", "herself", "themselves", "everybody", "everyone", "nobody", "another",
    "only", "also", "too", "holder", "holders", "tray", "place", "places", "step", "steps",
} - {"dowel", "shank", "light", "rod", "open"})  # fmt: skip
"""Words of lines, which begin or end no name: "by Ann again", "by Ann still in"."""
TOOLS = frozenset({
    "hand", "hands", "eye", "eyes", "touch", "feel", "finger", "fingers", "ear", "torch", "lamp", "mirror",
    "light", "rod", "wire", "camera", "photo", "picture", "phone", "borescope", "endoscope", "probe", "gauge",
    "scale", "scales", "weight", "tool", "tools", "wrench", "spanner", "hammer", "magnet", "list", "paper",
    "number", "numbers", "size", "dowel", "shank", "open",
})  # fmt: skip
"""What one looks or counts with: "by torch". Some are names too, written as names are: "by Rod"."""
NUMBERED = frozenset({
    "group", "team", "crew", "bench", "class", "shift", "student", "trainee", "apprentice", "mechanic",
    "person", "pupil", "learner", "instructor",
})  # fmt: skip
"""Before a number that belongs to a name: "Group 4"."""

SETTLED = (
    "off", "is off", "all off", "taken off", "removed", "is removed", "out", "is out", "taken out", "open",
    "is open", "cut", "cut all round", "cut through", "unbolted", "unscrewed",
    "disconnected", "drained", "not fitted", "not there", "none", "clear", "is clear", "free", "is free",
    "no fastener", "not a fastener", "holds nothing",
    "done", "is done", "all done", "all out", "read",  "press ready", "press frame ready", "puller ready",
)  # fmt: skip
"""Only these settle another holder; whatever else stands there leaves it open. A press or puller at hand
settles a fit: it is meant to give way to that tool, and to nothing else."""
SLACKENED = ("loose", "is loose", "all loose", "slack", "slackened", "loosened", "backed off")
"""Says that it may still be on: off, or only slackened? A dowel that is loose is "free"."""
SOLID = ("solid", "is solid", "solid one", "only solid")
"""Of a dowel: says what it is, and not that it is free."""
PUT_BY = ("tin", "tray", "box", "bag", "bench", "shelf", "bin", "rack", "crate")
"""Where a part may be said to lie after it came off: "off, in tin 2"."""


def settles(how: str) -> bool:
    """Whether these words, all of them, say that a holder no longer holds."""
    first, *remarks = (" ".join(part.split()) for part in how.lower().rstrip(" .").split(","))
    return first in SETTLED and all(remark in SETTLED or _says_where(remark) for remark in remarks)


def _says_where(remark: str) -> bool:
    """ "in tin 2", "on the bench"."""
    words = [word for word in remark.split() if word != "the"]
    return 2 <= len(words) <= 3 and words[0] in ("in", "on") and words[1] in PUT_BY


def person_key(name: str) -> str:
    """What tells people apart: their name without case, extra spaces and a stop at its end."""
    return " ".join(name.casefold().split()).strip(" .:")
