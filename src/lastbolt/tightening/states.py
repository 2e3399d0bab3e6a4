"""In which state a fastener is, in words that never let a half-tightened screw look finished."""

from msgspec import Struct

from lastbolt.words.account import Held


class State(Struct, frozen=True):
    """The state of one fastener. `stage` of `stages` while tightening; `marked`: a paint mark is on it."""

    held: Held
    stage: int = 0
    stages: int = 0
    marked: bool = False


ANY: tuple[Held, ...] = ("in", "slack", "stage", "final", "out", "broken", "never there", "not known")
FOLLOWS: dict[Held, tuple[Held, ...]] = {
    "out": ("slack", "in", "broken", "out"),
    "slack": ("stage", "final", "out", "broken", "slack"),
    "in": ("slack", "out", "broken", "in", "stage", "final"),
    "stage": ("stage", "final", "slack", "broken"),
    "final": ("slack", "broken", "final"),
    "broken": ("out", "broken"),
    "never there": ("never there",),
    "not known": ANY,
}
"""What may come after what: nothing gets out of its hole without being slack or broken first, except one
that was found in and of which nobody said how tight it was. Of what nobody knows
anything may be said."""


def may_follow(before: State, after: State) -> bool:
    """Whether a fastener in one state can be in the other next. Stages only rise; going back is via slack.

    >>> may_follow(State("stage", 2, 3), State("stage", 1, 3)), may_follow(State("final"), State("out"))
    (False, False)
    """
    if after.held not in FOLLOWS[before.held]:
        return False
    if before.held == after.held == "stage":
        return after.stage > before.stage
    return True


def finished(state: State) -> bool:
    """Whether nothing is left to do at this place: tightened to the end, or never meant to be there.

    >>> finished(State("stage", 1, 3)), finished(State("final", marked=True)), finished(State("in"))
    (False, True, False)
    """
    return state.held in ("final", "never there")


def words_of(state: State) -> str:
    """The state as it stands on a screen or sheet.

    >>> words_of(State("stage", 1, 3)), words_of(State("final"))
    ('stage 1 of 3, NOT FINISHED', 'final, no paint mark yet')
    """
    match state.held:
        case "stage":
            of = f" of {state.stages}" if state.stages else ""
            return f"stage {state.stage}{of}, NOT FINISHED"
        case "final":
            return "final, marked" if state.marked else "final, no paint mark yet"
        case "slack":
            return "in, only by hand: SLACK"
        case "in":
            return "in, nobody said how tight: NOT FINISHED"
        case "out":
            return "OUT"
        case "broken":
            return "BROKEN: a piece may still hold or lie inside"
        case "never there":
            return "never there"
        case _:
            return "NOBODY KNOWS: look"


def next_state(torque_stage: int, stages: int) -> State:
    """The state after a round of tightening: final only after the last one."""
    if not 1 <= torque_stage <= stages:
        raise ValueError(f"round {torque_stage} is not one of {stages}")
    return State("final") if torque_stage == stages else State("stage", torque_stage, stages)
