"""What the program does not yet say truly of the demo's bench: each test, with what it says instead.

The key stays as it is; whoever puts one right takes its line away here.
"""

OPEN = {
    "test_places_for_which_no_screw_is_left_are_told": "4 and 9 are left out without a word",
    "test_case_screws_have_the_sources_torque_with_its_page": "no torque: a required section parts the joint",
    "test_case_screws_go_in_the_sources_order_each_once_a_round": "a common order instead",
    "test_screw_of_the_bracket_has_no_turn_and_its_own_torque": "17 has a turn",
    "test_nothing_of_another_variant_is_missed": "the battery of variant E",
}
