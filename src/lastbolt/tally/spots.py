"""Place by place: the fewest mistakes with which something still holds just there.

The account of a whole joint names its cheapest explanations; a person wants to know of every place that is
not yet cleared. Each place is asked on its own, with the rest of the claims as they are.
"""

from msgspec.structs import replace

from lastbolt.tally.build_people import Scene, is_retired
from lastbolt.tally.layout import NOWHERE_LISTED
from lastbolt.tally.solve import Joint
from lastbolt.words.claims import Account, Group, Settings
from lastbolt.words.evidence import EvidencePlace
from lastbolt.words.joint import SHANK_STAYS, SOMETHING_IN

GROUPS = 2
MOST_TOGETHER = 5


def by_place(scene: Scene, joint: Joint, account: Account, settings: Settings) -> Account:
    """The account with, on the held side, the cheapest explanations of every place that is not cleared."""
    if account.verdict == "free" or account.free_cost is None or account.held_cost is None:
        return account
    limit = account.free_cost + settings.least_margin
    found: list[Group] = []
    cut = False
    for spot in sorted(_spots(scene), key=lambda spot: _known(scene, spot)):
        there = tuple(name for name in joint.claims.holders if scene.layout.pieces[name].spot == spot)
        if not there:
            continue
        groups, complete = joint.places.cheapest(there, GROUPS, limit)
        cut = cut or not complete
        found += [
            replace(group, first=replace(group.first, state=_only_there(scene, group, there)))
            for group in groups
        ]
    ranked = sorted(found, key=lambda group: group.first.cost)
    return replace(account, held=tuple(ranked) or account.held, list_cut=account.list_cut or cut)


def _spots(scene: Scene) -> list[str]:
    return [place.id for place in scene.layout.places] + [NOWHERE_LISTED]


def open_places(scene: Scene) -> frozenset[str]:
    """The places to look at first: unseen or only glanced at; of many, only those nobody looked at."""
    places = [place for place in scene.layout.places if not _empty_by_file(scene, place)]
    unseen = frozenset(place.id for place in places if _known(scene, place.id) == 0)
    glanced = frozenset(place.id for place in places if _known(scene, place.id) == 1)
    together = unseen | glanced
    return together if len(together) <= MOST_TOGETHER or not unseen else unseen


def still_in(scene: Scene) -> dict[str, str]:
    """Places where something is said to be in, no later word against it: "in", or "broken" for a shank."""
    found: dict[str, str] = {}
    for look in scene.evidence.looks:
        if look.place in scene.places and look.saw in SOMETHING_IN and not is_retired(scene, look):
            broken = look.saw == SHANK_STAYS or found.get(look.place) == "broken"
            found[look.place] = "broken" if broken else "in"
    for place, act in scene.last_act.items():
        if act.did == "put in" and place in scene.places:
            found.setdefault(place, "in")
    found.update({place: "broken" for place in scene.evidence.broken if place not in scene.last_act})
    return {place.id: found[place.id] for place in scene.layout.places if place.id in found}


def _empty_by_file(scene: Scene, place: EvidencePlace) -> bool:
    """The engine's own file says it never had its fastener, and somebody saw at least the empty hole."""
    return bool(place.never_there) and _known(scene, place.id) > 0


def _known(scene: Scene, spot: str) -> int:
    """0 for a place at which nobody looked, then glances, then the place nobody listed, then the rest."""
    if spot == NOWHERE_LISTED:
        return 2
    looks = [look for look in scene.evidence.looks if look.place == spot and look.saw != "cannot see"]
    if spot in scene.last_act or any(look.guided for look in looks):
        return 3
    return 1 if looks else 0


def _only_there(scene: Scene, group: Group, there: tuple[str, ...]) -> tuple[tuple[str, int], ...]:
    """The state without what happens to be in at other places: this explanation speaks of one place."""
    own = set(there)
    return tuple(
        (name, count)
        for name, count in group.first.state
        if name in own or scene.layout.pieces[name].side != "in" or scene.layout.pieces[name].spot == "else"
    )
