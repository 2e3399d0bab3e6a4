"""For which engines something is said: variant and serial number, known or not."""

import pytest

from lastbolt.words.applies import applies_to
from lastbolt.words.machine import Applies
from lastbolt.words.quantity import Belief

E_ONLY = Applies(variants=("E", "G"))
FROM_300 = Applies(from_serial=300)
E_TO_299 = Applies(variants=("E",), to_serial=299)


@pytest.mark.parametrize(
    ("applies", "variant", "serial", "expected"),
    [
        (Applies(), "", None, "yes"),
        (Applies(), "K", 5, "yes"),
        (E_ONLY, "", 300, "unknown"),
        (E_ONLY, "g", None, "yes"),
        (E_ONLY, "Model g", None, "yes"),
        (Applies(variants=("type E",)), "e", None, "yes"),
        (E_ONLY, "K", None, "no"),
        (E_ONLY, "model", None, "no"),
        (FROM_300, "K", None, "unknown"),
        (FROM_300, "", 300, "yes"),
        (FROM_300, "", 299, "no"),
        (E_TO_299, "", 300, "no"),
        (E_TO_299, "", 299, "unknown"),
        (E_TO_299, "K", None, "no"),
        (E_TO_299, "e", 299, "yes"),
    ],
)
def test_only_what_surely_is_for_another_engine_is_left_out(
    applies: Applies, variant: str, serial: int | None, expected: Belief
) -> None:
    assert applies_to(applies, variant, serial) == expected
