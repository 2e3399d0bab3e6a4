"""What the program does not yet say truly of the demo's bench: each test, with what it says instead.

The key stays as it is; whoever puts one right takes its line away here.
"""

ORDERED = "test_what_must_be_ordered_is_ordered_with_its_page"
AT_ITS_LINE = "test_every_torque_stands_at_its_line_with_its_page"
AGAIN = "test_measured_again_the_later_reading_counts"
FIRST = "test_what_must_come_first_comes_first"

OPEN = {
    f"{ORDERED}[Q222-606]": "two screws, not three: the odd length at 7 asks for one of the right length",
    f"{ORDERED}[Q222-612]": "the gasket that 6.2 step 2 throws away is missing",
    f"{ORDERED}[Q222-615]": "a sealing ring without its number",
    "test_nothing_is_without_number_or_count_but_the_oil": "a sealing ring without its number",
    "test_total_is_the_sum_of_the_price_list": "it follows from the lines that are missing",
    "test_all_of_it_being_in_nothing_is_to_be_ordered": "what was renewed is ordered again",
    "test_places_for_which_no_screw_is_left_are_told": "4 and 9 are left out without a word",
    "test_case_screws_have_the_sources_torque_with_its_page": "no torque: a required section parts the joint",
    "test_case_screws_go_in_the_sources_order_each_once_a_round": "a common order instead",
    "test_screw_of_the_bracket_has_no_turn_and_its_own_torque": "17 has a turn",
    f"{AT_ITS_LINE}[pinion]": "the line says 'given in 8.1'",
    f"{AT_ITS_LINE}[shaft]": "the line says 'given in 8.1'",
    "test_units_that_disagree_are_told_where_the_nut_is_tightened": "not told on the way back",
    f"{FIRST}[6.5/8 before 6.8/4]": "'After joining' stands before it",
    f"{FIRST}[4.2/2 before 3.2/1]": "the guard before the shroud",
    "test_nothing_of_another_variant_is_missed": "the battery of variant E",
    "test_finished_is_said_and_nothing_stands": "sections ticked whole, and new screws",
    "test_nothing_is_left_over_or_left_in": "new screws are taken for old ones",
    "test_every_reading_is_decided_as_the_key_says[flatness-of-the-joint-faces-typed]": "', cover' hides it",
    f"{AGAIN}[backlash-pinion-to-gear]": "before and after the new pinion are averaged",
    f"{AGAIN}[end-float-output-shaft]": "before and after the new shim are averaged",
    "test_at_the_end_nothing_is_beyond_or_undecided": "it follows from the averages",
}
