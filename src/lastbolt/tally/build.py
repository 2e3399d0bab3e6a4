"""Evidence about one joint, turned into claims with causes: what TALLY's solver reads."""

from lastbolt.tally.build_papers import say_papers
from lastbolt.tally.build_people import say_people
from lastbolt.tally.layout import Layout, layout_of
from lastbolt.tally.ledger import Ledger
from lastbolt.words.claims import ClaimSet
from lastbolt.words.evidence import Evidence, EvidencePlace


def build_claims(evidence: Evidence) -> ClaimSet:
    """Everything said about this joint as claims, each with the causes that could make it wrong."""
    layout = layout_of(evidence)
    ledger = Ledger(evidence)
    for place in layout.places:
        _say_room(ledger, layout, place)
    say_papers(ledger, layout, evidence)
    say_people(ledger, layout, evidence)
    return ClaimSet(layout.unknowns(), ledger.causes, ledger.claims, layout.holders())


def _say_room(ledger: Ledger, layout: Layout, place: EvidencePlace) -> None:
    """A place takes one fastener; a nut that may sit on this joint's own bolt is a second piece there."""
    here = {line.id for line in layout.lines_at(place.id)}
    nuts = frozenset(here & layout.paired_nuts)
    others = frozenset(here - nuts)
    for among in (others, nuts):
        pieces = [name for side in ("in", "out") for name in layout.at(side, place.id, among)]
        if len(pieces) > 1:
            ledger.claim("room", pieces, ("<=", 1), (), f"{ledger.label(place.id)} takes one fastener")
