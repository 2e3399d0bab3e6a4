"""Steps that are sentences of running paragraphs: no marks, nothing hangs, a caution breaks the paragraph."""

from __future__ import annotations

from styles.content import Book, Section, Step
from styles.more import MoreSetter
from styles.press import Value
from styles.truth import TrueStep


def flattened(book: Book) -> None:
    """Sub-steps and the reversal at the head become sentences like the others."""
    for section in book.sections():
        if section.kind != "procedure":
            continue
        steps: list[Step] = list(section.lead)
        for step in section.steps:
            steps += [Step(step.template, step.slots, [], step.cautions), *step.children]
        section.steps, section.lead = steps, []


class SentenceSetter(MoreSetter):
    """A heading is run into the first paragraph that stands under it."""

    sentences = (2, 5)
    """How many to a paragraph."""
    held: tuple[str, str, str] | None = None
    setup_words = ("{}: {}.", "{}: {}.")

    def call(self, name: str, *given: Value) -> None:
        """The heading of a section waits for its first paragraph; that of a group stands alone."""
        if name == "para" and self.held is not None:
            held, self.held = self.held, None
            super().call("run-in", *held, given[0])
            return
        if self.held is not None:
            super().call("run-in", *self.held, "")
            self.held = None
        if name == "section" and self.house.by_key[str(given[0])].kind != "group":
            self.held = (str(given[0]), str(given[2]), str(given[3]))
        else:
            super().call(name, *given)

    def setup(self, section: Section) -> None:
        """A paragraph of its own: tools, then what is off before."""
        said = []
        if section.tools:
            said.append(self.setup_words[0].format(self.labels["tools"], ", ".join(section.tools)))
        lines = [self.say(one, section, "before").rstrip(".") for one in section.before]
        if lines:
            said.append(self.setup_words[1].format(self.labels["before"], "; ".join(lines)))
        if said:
            self.call("para", " ".join(said))

    def steps(self, section: Section) -> None:
        """Sentences, some to a paragraph."""
        waiting: list[str] = []
        wanted = self.house.rng.randint(*self.sentences)
        for step in section.steps:
            if waiting and (len(waiting) >= wanted or step.cautions):
                self.call("para", " ".join(waiting))
                waiting, wanted = [], self.house.rng.randint(*self.sentences)
            words = self.say(step, section, "")
            self.cautions(section, step, "")
            self.truth.steps.append(TrueStep(section.key, "", words))
            waiting.append(words)
        if waiting:
            self.call("para", " ".join(waiting))

    def follow(self, section: Section) -> None:
        """The last paragraph."""
        if section.after:
            lines = [self.say(one, section, "after") for one in section.after]
            self.call("para", f"{self.labels['after']}: {' '.join(lines)}")
