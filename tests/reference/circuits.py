"""Published circuits as claims: each gate's claims share that gate as their only cause.

The circuits have nothing that holds or lets go; an unknown of its own, bound by nothing, is the holder, so
both sides must list the same diagnoses.
"""

from lastbolt.words.claims import Cause, Claim, ClaimSet, Sense, Unknown

UNBOUND = "bound by nothing"


class Circuit:
    """Collects gates and observations."""

    def __init__(self, most: int = 1) -> None:
        self.most = most
        self.claims: list[Claim] = []
        self.gates: list[str] = []

    def _say(self, gate: str | None, bound: int, sense: Sense, **terms: int) -> None:
        causes = () if gate is None else (gate,)
        if gate is not None and gate not in self.gates:
            self.gates.append(gate)
        self.claims.append(
            Claim(f"claim {len(self.claims)}", "gate", tuple(terms.items()), sense, bound, causes)
        )

    def given(self, **values: int) -> None:
        """What is put in or observed is not in doubt."""
        for name, value in values.items():
            self._say(None, value, "=", **{name: 1})

    def times(self, gate: str, out: str, factor: int, other: str) -> None:
        """out = factor * other; the first factor is a known input."""
        self._say(gate, 0, "=", **{out: 1, other: -factor})

    def plus(self, gate: str, out: str, one: str, other: str) -> None:
        """out = one + other"""
        self._say(gate, 0, "=", **{out: 1, one: -1, other: -1})

    def and_(self, gate: str, out: str, one: str, other: str) -> None:
        """out = one and other"""
        self._say(gate, 0, "<=", **{out: 1, one: -1})
        self._say(gate, 0, "<=", **{out: 1, other: -1})
        self._say(gate, -1, ">=", **{out: 1, one: -1, other: -1})

    def or_(self, gate: str, out: str, one: str, other: str) -> None:
        """out = one or other"""
        self._say(gate, 0, ">=", **{out: 1, one: -1})
        self._say(gate, 0, ">=", **{out: 1, other: -1})
        self._say(gate, 0, "<=", **{out: 1, one: -1, other: -1})

    def xor(self, gate: str, out: str, one: str, other: str) -> None:
        """out = one xor other"""
        self._say(gate, 0, ">=", **{out: 1, one: -1, other: 1})
        self._say(gate, 0, ">=", **{out: 1, one: 1, other: -1})
        self._say(gate, 0, "<=", **{out: 1, one: -1, other: -1})
        self._say(gate, 2, "<=", **{out: 1, one: 1, other: 1})

    def claim_set(self) -> ClaimSet:
        """The circuit, ready for the tally."""
        names = dict.fromkeys(name for claim in self.claims for name, _ in claim.terms)
        return ClaimSet(
            unknowns=(*(Unknown(name, self.most) for name in names), Unknown(UNBOUND, 1)),
            causes=tuple(Cause(gate, "gate") for gate in self.gates),
            claims=tuple(self.claims),
            holders=(UNBOUND,),
        )


def polybox() -> ClaimSet:
    """de Kleer & Williams 1987: inputs 3, 2, 2, 3, 3; observed F = 10, G = 12."""
    box = Circuit(most=12)
    box.given(A=3, B=2, E=3, F=10, G=12)
    box.times("M1", "X", 2, "A")
    box.times("M2", "Y", 3, "B")
    box.times("M3", "Z", 2, "E")
    box.plus("A1", "F", "X", "Y")
    box.plus("A2", "G", "Y", "Z")
    return box.claim_set()


def boolean_polybox() -> ClaimSet:
    """All inputs 1, F observed 0."""
    box = Circuit()
    box.given(A=1, B=1, C=1, D=1, E=1, F=0)
    box.or_("O1", "X", "A", "C")
    box.or_("O2", "Y", "B", "D")
    box.or_("O3", "Z", "C", "E")
    box.and_("A1", "F", "X", "Y")
    box.and_("A2", "G", "Y", "Z")
    return box.claim_set()


def full_adder(a: int = 1, b: int = 0, c: int = 1, *, total: int = 1, carry: int = 0) -> ClaimSet:
    """Reiter 1987: inputs 1, 0, 1; observed sum 1, carry 0."""
    adder = Circuit()
    adder.given(a=a, b=b, c=c, sum=total, carry=carry)
    adder.xor("X1", "s", "a", "b")
    adder.xor("X2", "sum", "s", "c")
    adder.and_("A1", "p", "a", "b")
    adder.and_("A2", "q", "c", "s")
    adder.or_("O1", "carry", "p", "q")
    return adder.claim_set()
