"""Labels of places in words and as they are typed."""

import pytest

from lastbolt.words.place_runs import at_places, listed, to_type


@pytest.mark.parametrize(
    ("labels", "words"),
    [
        (["1", "²"], "1 and ²"),
        (["7", "7²", "8"], "7, 7² and 8"),
        (["①", "②", "③"], "①, ② and ③"),
        (["9" * 5000, "2"], f"{'9' * 5000} and 2"),
    ],
)
def test_a_label_that_only_looks_like_a_number_is_named_as_it_is(labels: list[str], words: str) -> None:
    assert listed(labels) == words


def test_runs_of_two_are_typed_short_and_read_out_singly() -> None:
    assert (to_type(["1", "2", "4"]), listed(["1", "2", "4"])) == ("1-2, 4", "1, 2 and 4")


def test_places_where_something_is_done_are_named_in_runs() -> None:
    assert at_places(["1", "2", "3", "9a"]) == "Places 1-3 and 9a"
