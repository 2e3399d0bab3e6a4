"""Which places (or lines, or anything) can be exchanged without changing a single claim.

Looks for *blocks*: sets of unknowns, claims and causes such that swapping two blocks, element by element,
maps the small model onto itself. Colour refinement only proposes blocks; each swap is checked edge by
edge before it is believed. Exchanges that this does not find are merely not used.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import combinations
from math import factorial

from lastbolt.tally.model import HOLDER, Model
from lastbolt.words.claims import ClaimSet

ROUNDS = 12
"""How often vertices are pinned to break up blocks that contain like parts."""


@dataclass(frozen=True)
class Graph:
    """The small model as vertices and labelled edges: columns, claims, ties, groups, causes, in order."""

    first_claim: int
    first_group: int
    first_cause: int
    colours: list[object]
    edges: list[list[tuple[int, object]]]


def graph_of(model: Model, *, chances: bool = True) -> Graph:
    """Vertices, what tells them apart at first sight, and edges both ways.

    Without `chances`, causes of one kind and cost are alike however likely they are assumed to be.
    """
    claims = model.claims
    first_claim = len(model.columns)
    first_tie = first_claim + len(claims.claims)
    first_group = first_tie + len(model.grids)
    first_cause = first_group + len(model.groups)
    colours: list[object] = [("column", c.lower, c.upper) for c in model.columns]
    colours += [("claim", c.sense, c.bound) for c in claims.claims]
    colours += [("tie",)] * len(model.grids) + [("group",)] * len(model.groups)
    colours += [("cause", c.kind, c.cost, c.chance if chances else None) for c in claims.causes]
    edges: list[list[tuple[int, object]]] = [[] for _ in colours]

    def join(a: int, b: int, label: object) -> None:
        edges[a].append((b, label))
        edges[b].append((a, label))

    holds = {}
    for number, column in enumerate(model.columns):
        for j, coefficient in column.terms:
            if j == HOLDER:
                holds[number] = coefficient
            else:
                join(number, first_claim + j, coefficient)
    for t, grid in enumerate(model.grids):
        for r in grid.rows:
            join(r, first_tie + t, "row")
        for c in grid.columns:
            join(c, first_tie + t, "column")
    for g, group in enumerate(model.groups):
        for c in group:
            join(c, first_group + g, ("holds", holds[c]))
    number_of = {k.id: first_cause + i for i, k in enumerate(claims.causes)}
    for j, claim in enumerate(claims.claims):
        for cause in dict.fromkeys(claim.causes):
            join(first_claim + j, number_of[cause], "cause")
    return Graph(first_claim, first_group, first_cause, colours, edges)


def _refine(graph: Graph, colour: list[int], active: list[int]) -> None:
    """Split the colours of `active` vertices until neighbours no longer tell any two of one colour apart."""
    count = len({colour[v] for v in active})
    labels: dict[object, int] = {}
    coded = {v: [(w, labels.setdefault(label, len(labels))) for w, label in graph.edges[v]] for v in active}
    fresh = max(colour, default=0) + 1
    while True:
        signature = {v: (colour[v], tuple(sorted([(colour[w], n) for w, n in coded[v]]))) for v in active}
        names: dict[object, int] = {}
        for v in active:
            names.setdefault(signature[v], fresh + len(names))
        if len(names) == count:
            return
        for v in active:
            colour[v] = names[signature[v]]
        count = len(names)
        fresh += len(names)


def exchange_classes(graph: Graph, pinned: Iterable[int] = ()) -> list[list[tuple[int, ...]]]:
    """Classes of blocks; the blocks of one class, matched position by position, may be swapped freely.

    `pinned` vertices are exchanged with nothing.
    """
    names: dict[object, int] = {}
    colour = [names.setdefault(c, len(names)) for c in graph.colours]
    for extra, v in enumerate(pinned):
        colour[v] = len(names) + extra
    active = list(range(len(colour)))
    classes: list[list[tuple[int, ...]]] = []
    for _ in range(ROUNDS):
        _refine(graph, colour, active)
        seen = Counter(colour)
        loose = {v for v in active if seen[colour[v]] > 1}
        if not loose:
            break
        rest: list[list[int]] = []
        alike: dict[tuple[int, ...], list[list[int]]] = defaultdict(list)
        for block in _pieces(graph, loose):
            own = [colour[v] for v in block]
            if len(set(own)) < len(own):
                rest.append(block)
            else:
                block.sort(key=lambda v: colour[v])
                alike[tuple(sorted(own))].append(block)
        for blocks in alike.values():
            swappable = [tuple(blocks[0])]
            swappable += [tuple(b) for b in blocks[1:] if _maps(graph, blocks[0], b)]
            if len(swappable) > 1:
                classes.append(swappable)
        if not rest:
            break
        _pin(graph, colour, rest)
        active = [v for block in rest for v in block]
    return classes


def _pin(graph: Graph, colour: list[int], pieces: list[list[int]]) -> None:
    """Tell each piece apart from the others like it, or, where none is like it, one of its own like parts."""
    fresh = max(colour) + 1
    everywhere = Counter(colour)
    for piece in pieces:
        own = Counter(colour[v] for v in piece)
        pinned = [v for v in piece if own[colour[v]] == 1 and everywhere[colour[v]] > 1]
        if not pinned:
            repeated = [v for v in piece if own[colour[v]] > 1]
            pinned = [max(repeated, key=lambda v: (len(graph.edges[v]), -v))]
        for v in pinned:
            colour[v] = fresh
            fresh += 1


def _pieces(graph: Graph, loose: set[int]) -> list[list[int]]:
    """Connected pieces of the graph among `loose` vertices."""
    pieces, left = [], set(loose)
    for start in sorted(loose):
        if start not in left:
            continue
        left.discard(start)
        piece = [start]
        for v in piece:
            for w, _ in graph.edges[v]:
                if w in left:
                    left.discard(w)
                    piece.append(w)
        pieces.append(piece)
    return pieces


def _maps(graph: Graph, first: list[int], second: list[int]) -> bool:
    """Whether swapping the two blocks position by position maps the graph onto itself."""
    to = dict(zip(first, second, strict=True)) | dict(zip(second, first, strict=True))
    return all(
        graph.colours[v] == graph.colours[to[v]]
        and Counter((to.get(w, w), n) for w, n in graph.edges[v]) == Counter(graph.edges[to[v]])
        for v in (*first, *second)
    )


Pattern = tuple[int, ...]


class Exchange:
    """Sets of causes up to exchange: their common form, how many are alike, and which."""

    def __init__(self, model: Model, pinned_causes: int = 0, *, chances: bool = True) -> None:
        graph = graph_of(model, chances=chances)
        self._graph = graph
        self.classes = exchange_classes(graph, [graph.first_cause + i for i in bits(pinned_causes)])
        self._spot: dict[int, tuple[int, int, int]] = {
            v: (k, b, position)
            for k, blocks in enumerate(self.classes)
            for b, block in enumerate(blocks)
            for position, v in enumerate(block)
        }

    def _patterns(self, side: int, mask: int) -> tuple[list[int], dict[int, dict[int, list[int]]]]:
        """Vertices in no block, and for each class the positions taken in each of its blocks."""
        vertices = [self._graph.first_cause + i for i in bits(mask)]
        if side >= 0:
            vertices.append(self._graph.first_group + side)
        fixed: list[int] = []
        taken: dict[int, dict[int, list[int]]] = defaultdict(lambda: defaultdict(list))
        for v in vertices:
            spot = self._spot.get(v)
            if spot is None:
                fixed.append(v)
            else:
                taken[spot[0]][spot[1]].append(spot[2])
        return fixed, taken

    def common_form(self, side: int, mask: int) -> tuple[int, int]:
        """The same side and causes for everything that exchanging blocks can turn into this."""
        fixed, taken = self._patterns(side, mask)
        vertices = list(fixed)
        for k, blocks in taken.items():
            patterns = sorted((tuple(sorted(p)) for p in blocks.values()), key=lambda p: (-len(p), p))
            for b, pattern in enumerate(patterns):
                vertices.extend(self.classes[k][b][position] for position in pattern)
        return self._read(vertices, side)

    def _read(self, vertices: list[int], side: int) -> tuple[int, int]:
        mask = 0
        for v in vertices:
            if v >= self._graph.first_cause:
                mask |= 1 << (v - self._graph.first_cause)
            else:
                side = v - self._graph.first_group
        return side, mask

    def alike(self, mask: int) -> int:
        """How many different sets of causes exchanging blocks turns this one into, itself included."""
        total = 1
        for k, blocks in self._patterns(-1, mask)[1].items():
            size = len(self.classes[k])
            counts = Counter(tuple(sorted(p)) for p in blocks.values())
            ways = factorial(size) // factorial(size - len(blocks))
            for n in counts.values():
                ways //= factorial(n)
            total *= ways
        return total

    def stand_ins(self, cause: int) -> tuple[int, ...]:
        """The causes, by number, that could stand in this one's place, itself included."""
        v = self._graph.first_cause + cause
        spot = self._spot.get(v)
        if spot is None:
            return (cause,)
        return tuple(block[spot[2]] - self._graph.first_cause for block in self.classes[spot[0]])

    def members(self, mask: int) -> Iterator[tuple[int, dict[int, int]]]:
        """All sets alike to this one, each with the exchange of vertices that makes it."""
        _, taken = self._patterns(-1, mask)
        yield from self._members(mask, list(taken.items()), {})

    def _members(
        self, mask: int, left: list[tuple[int, dict[int, list[int]]]], moved: dict[int, int]
    ) -> Iterator[tuple[int, dict[int, int]]]:
        if not left:
            first = self._graph.first_cause
            yield sum(1 << (moved.get(first + i, first + i) - first) for i in bits(mask)), moved
            return
        k, taken = left[0]
        blocks = self.classes[k]
        sources = sorted(taken, key=lambda b: (tuple(sorted(taken[b])), b))
        for targets in _placings([tuple(sorted(taken[b])) for b in sources], len(blocks)):
            pairs = dict(zip(sources, targets, strict=True))
            # What is displaced goes where room became free, so that this is an exchange of whole blocks.
            homeless = [b for b in targets if b not in pairs]
            free = [b for b in sources if b not in targets]
            pairs |= dict(zip(homeless, free, strict=True))
            step = {v: w for a, b in pairs.items() for v, w in zip(blocks[a], blocks[b], strict=True)}
            yield from self._members(mask, left[1:], moved | step)

    def swap_to(self, side: int) -> tuple[int, dict[int, int]]:
        """The common form of a group of holders, and the exchange of vertices that leads from there to it."""
        start, _ = self.common_form(side, 0)
        return start, self.swap(start, side)

    def swap(self, one: int, other: int) -> dict[int, int]:
        """The exchange of vertices that turns one group of holders into another with the same common form."""
        if one == other:
            return {}
        k, i, _ = self._spot[self._graph.first_group + one]
        j = self._spot[self._graph.first_group + other][1]
        first, second = self.classes[k][i], self.classes[k][j]
        return dict(zip(first, second, strict=True)) | dict(zip(second, first, strict=True))

    def claim_vertex(self, claim: int) -> int:
        """The vertex of a claim, for use with an exchange of vertices."""
        return self._graph.first_claim + claim

    def move_causes(self, mask: int, moved: dict[int, int]) -> int:
        """The causes after an exchange of vertices."""
        first = self._graph.first_cause
        return sum(1 << (moved.get(first + i, first + i) - first) for i in bits(mask))


def chances_tell_apart(claims: ClaimSet) -> bool:
    """Whether two causes of one kind and cost are assumed differently likely."""
    kinds = {(c.kind, c.cost) for c in claims.causes}
    return len({(c.kind, c.cost, c.chance) for c in claims.causes}) > len(kinds)


def _placings(patterns: list[Pattern], places: int) -> Iterator[tuple[int, ...]]:
    """Ways to give each pattern a block of its own; like patterns stand together, in rising order."""
    runs: list[int] = []
    for i, pattern in enumerate(patterns):
        if i and pattern == patterns[i - 1]:
            runs[-1] += 1
        else:
            runs.append(1)

    def place(run: int, free: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
        if run == len(runs):
            yield ()
            return
        for chosen in combinations(free, runs[run]):
            rest = tuple(f for f in free if f not in chosen)
            for more in place(run + 1, rest):
                yield chosen + more

    return place(0, tuple(range(places)))


def bits(mask: int) -> Iterator[int]:
    """The numbers of the bits set, lowest first."""
    while mask:
        low = mask & -mask
        yield low.bit_length() - 1
        mask ^= low
