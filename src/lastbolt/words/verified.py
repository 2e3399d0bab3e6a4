"""Whether an exported record is whole: what `lastbolt verify` found, without the server."""

from msgspec import Struct

from lastbolt.words.problem import Problem

VERIFIED_SCHEMA = "lastbolt.verified/1"


class Verified(Struct, frozen=True):
    """An exported record, checked. `whole`: nothing in it is edited, missing, added or out of place.

    `heads`: the last events of it, by their hashes. `printed`: the printed heads that were given to check it
    against; `before_printed`: so many events lie up to them, and `after_printed` came later. Without a
    printed head a tail that was cut off together with the file's own first line cannot show.
    """

    schema: str
    job: str
    events: int
    whole: bool
    heads: tuple[str, ...]
    printed: tuple[str, ...]
    before_printed: int
    after_printed: int
    problems: tuple[Problem, ...]
