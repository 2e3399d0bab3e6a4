"""How a place of a walk is drawn on a picture or card that shows the near side."""

from lastbolt.words.joint import JointPlace


def from_behind(place: JointPlace) -> bool:
    """Whether its fastener enters from the far side: from the near one only a blind boss is seen."""
    return all(end.side == "far" or end.form.startswith("blind") for end in place.ends)
