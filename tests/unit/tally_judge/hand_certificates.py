"""Three claim sets and their certificates, worked out on paper from docs/tally.md, "Certificate"."""

from msgspec.structs import replace

from lastbolt.words.claims import Cause, Certificate, Claim, ClaimSet, HolderProof, Settings, Unknown

SETTINGS = Settings(least_margin=2, most_mistakes=1)


def stated(name: str, terms: str, sense: str, bound: int, *causes: str) -> Claim:
    """`terms` such as "in out -2*else"."""
    pairs = []
    for term in terms.split():
        factor, _, unknown = term.rpartition("*")
        sign = -1 if unknown.startswith("-") else 1
        pairs.append((unknown.lstrip("-"), int(factor) if factor else sign))
    return Claim(id=name, kind="test", terms=tuple(pairs), sense=sense, bound=bound, causes=causes)  # type: ignore[arg-type]


# ---- one place: room for one, the tray says it is out, so does a look -----------------------------------

ONE_PLACE = ClaimSet(
    unknowns=(Unknown("in", 1), Unknown("out", 1)),
    causes=(
        Cause("miscount", "miscount"),
        Cause("misjudged", "misjudged"),
        Cause("glance", "glance", cost=0),
    ),
    claims=(
        stated("room", "in out", "<=", 1),
        stated("tray", "out", "=", 1, "miscount"),
        stated("look", "out", "=", 1, "misjudged"),
        stated("glanced", "in", "=", 0, "glance"),
    ),
    holders=("in",),
)
ONE_PLACE_PROOF = HolderProof(
    holders=("in",),
    conflicts=(("miscount",), ("misjudged",)),
    multipliers=(
        # in + out - out - in <= 1 - 1 - 1
        (("claim:room", 1, 1), ("claim:tray", -1, 1), ("held", -1, 1)),
        (("claim:room", 2, 2), ("claim:look", -1, 1), ("held", -3, 3)),
    ),
)
ONE_PLACE_CERTIFICATE = Certificate(free_causes=(), free_state=(("out", 1),), proofs=(ONE_PLACE_PROOF,))

# ---- two places, a misprint in any case (F = 1), three conflicts; bounds and ">=" rows in use ------------
# The list prints 3; two looks by A and B at each of two places say "out". At most 2 pieces can be there.

TWO_PLACES = ClaimSet(
    unknowns=(Unknown("in1", 1), Unknown("out1", 1), Unknown("in2", 1), Unknown("out2", 1)),
    causes=tuple(Cause(name, name) for name in ("misprint", "A1", "B1", "A2", "B2", "tray")),
    claims=(
        stated("room1", "in1 out1", "<=", 1),
        stated("room2", "in2 out2", "<=", 1),
        stated("list", "in1 out1 in2 out2", ">=", 3, "misprint"),
        stated("A1", "out1", "=", 1, "A1"),
        stated("B1", "out1", ">=", 1, "B1"),
        stated("A2", "in2", "<=", 0, "A2"),
        stated("B2", "out2", "=", 1, "B2"),
        stated("tray", "out1 out2", "=", 2, "tray"),
    ),
    holders=("in1", "in2"),
)
TWO_PLACES_CERTIFICATE = Certificate(
    free_causes=("misprint",),
    free_state=(("out1", 1), ("out2", 1)),
    proofs=(
        HolderProof(
            holders=("in1",),
            conflicts=(("A1",), ("B1",), ("tray",)),
            multipliers=(
                (("claim:room1", 1, 1), ("claim:A1", -1, 1), ("held", -1, 1)),
                (("claim:room1", 1, 1), ("claim:B1", -1, 1), ("held", -1, 1)),
                # in1 + out1 - out1 - out2 + out2 - in1 <= 1 - 2 + 1 - 1
                (("claim:room1", 1, 1), ("claim:tray", -1, 1), ("upper:out2", 1, 1), ("held", -1, 1)),
            ),
        ),
        HolderProof(
            holders=("in2",),
            conflicts=(("A2",), ("B2",), ("tray",)),
            multipliers=(
                (("claim:A2", 1, 3), ("held", -1, 3)),
                (("claim:room2", 1, 1), ("claim:B2", -1, 1), ("held", -1, 1)),
                (("claim:room2", 1, 1), ("claim:tray", -1, 1), ("upper:out1", 1, 1), ("held", -1, 1)),
            ),
        ),
    ),
)

# ---- one proof for two holders at once; a fraction, a lower bound, a cause-free conflict -----------------
# pieces of two lines where one round and one list say there is nothing; a third holder cannot be at all.

NO_PLACE = ClaimSet(
    unknowns=(Unknown("x", 3), Unknown("y", 3), Unknown("z", 1), Unknown("spare", 2)),
    causes=(Cause("missed", "missed"), Cause("left out", "left out"), Cause("person", "person", cost=1)),
    claims=(
        stated("round", "2*x 2*y spare", "<=", 1, "missed"),
        stated("list", "x y", "=", 0, "left out", "person"),
        stated("cannot", "z", "=", 0),
    ),
    holders=("x", "y", "z"),
)
NO_PLACE_CERTIFICATE = Certificate(
    free_causes=(),
    free_state=(("spare", 1),),
    proofs=(
        HolderProof(
            holders=("x", "y"),
            conflicts=(("missed",), ("left out", "person")),
            multipliers=(
                # x + y + spare/2 - spare/2 - x - y <= 1/2 - 0 - 1
                (("claim:round", 1, 2), ("lower:spare", -1, 2), ("held", -1, 1)),
                (("claim:list", 1, 1), ("held", -1, 1)),
            ),
        ),
        HolderProof(
            holders=("z",),
            conflicts=((),),
            multipliers=((("claim:cannot", 1, 1), ("held", -1, 1)),),
        ),
    ),
)

SOUND = {
    "one place": (ONE_PLACE, ONE_PLACE_CERTIFICATE),
    "two places": (TWO_PLACES, TWO_PLACES_CERTIFICATE),
    "no place": (NO_PLACE, NO_PLACE_CERTIFICATE),
}


def without(claim_set: ClaimSet, claim: str) -> ClaimSet:
    """The claim set with one claim withdrawn."""
    return replace(claim_set, claims=tuple(c for c in claim_set.claims if c.id != claim))
